/**
 * What the preview panel and the page show: plain JSON, every text ready to show, so that a host draws and decides
 * nothing. Texts are not escaped: a host sets them as text, never as HTML.
 */
import type { ParameterName } from '../campaign/model.js';
import type { Severity } from '../text/problem.js';
import type { CampaignChartData, SweepChartData } from './chartData.js';
import type { PeerText } from './comparisonTexts.js';
import type { StateMark } from './caseWords.js';
import type { NextStep } from './nextSteps.js';
import type { ElectricalItem } from './electricalModel.js';
import type { SourcePlace } from './sourcePlace.js';
import type { VerdictCount, VerdictMark } from './verdictWords.js';

export interface ConditionRow {
  /** `Irradiance` */
  readonly name: string;
  /** `812 W/m2 ± 16 W/m2` */
  readonly value: string;
  /** Where it came from: `as written`, `mean of the data`, `from Voc, IEC 60904-5`. */
  readonly origin: string;
  readonly place?: SourcePlace;
}

export interface ParameterRow {
  readonly parameter: ParameterName;
  /** `Pmax` */
  readonly symbol: string;
  /** `Maximum power` */
  readonly name: string;
  readonly measured: string;
  readonly translated: string;
  readonly nameplate: string;
  readonly deviation: string;
  /** Of the deviation, expanded, with `±`. */
  readonly uncertainty: string;
  /** `-5 % ..`, or `-` without a limit. */
  readonly limit: string;
  /** Absent: nothing was judged by this parameter. */
  readonly outcome?: VerdictMark;
  /** The limit in the criteria. */
  readonly place?: SourcePlace;
}

export interface ReasonItem {
  readonly code: string;
  readonly text: string;
  readonly decisive: boolean;
  readonly parameter?: ParameterName;
  readonly place?: SourcePlace;
}

export interface EstimateItem {
  readonly symbol: string;
  /** `0.213 ohm` */
  readonly value: string;
  readonly method: string;
}

export interface FlagItem {
  readonly curve: 'measured' | 'translated';
  readonly code: string;
  readonly text: string;
}

export interface ProblemItem {
  readonly id: string;
  readonly severity: Severity;
  readonly message: string;
  readonly place: SourcePlace;
  readonly related: readonly { readonly message: string; readonly place: SourcePlace }[];
}

export interface BudgetRow {
  readonly source: string;
  /** `1.0 %`, `0.50 K`; k = 1. */
  readonly standardUncertainty: string;
  /** What it adds to each parameter, k = 1, as text; in the last three rows combined, coverage factor and expanded. */
  readonly contribution: Readonly<Record<ParameterName, string>>;
}

/** The single-diode model fitted to the measured points. */
export interface FitSection {
  readonly rows: readonly {
    /** `Rs` */
    readonly symbol: string;
    readonly name: string;
    /** `0.2130 ± 0.0042 ohm`, k = 1. */
    readonly fitted: string;
    /** Of the nameplate's model at the conditions of the sweep. */
    readonly expected: string;
  }[];
  /** Measured curve parameters beside those that the nameplate's model expects at the conditions of the sweep. */
  readonly expected: readonly {
    readonly symbol: string;
    readonly name: string;
    readonly measured: string;
    readonly expected: string;
    readonly deviation: string;
  }[];
  readonly note?: string;
  /** Why there is no model. */
  readonly reason?: string;
}

/** One line of a list of sweeps. */
export interface SweepListItem {
  readonly id: string;
  readonly address: string;
  /** `18 x KF108M`, or empty. */
  readonly device: string;
  /** `2026-05-14 11:42`, or `-`. */
  readonly time: string;
  readonly verdict: VerdictMark;
  /** The reason that decides, or the first one; empty for a plain pass. */
  readonly headline: string;
  readonly irradiance: string;
  readonly cellTemperature: string;
  /** Translated to STC. */
  readonly pmax: string;
  readonly deviation: string;
  /** Of the deviation of Pmax, expanded, with `±`. */
  readonly uncertainty: string;
  readonly place: SourcePlace;
  readonly problemCount: number;
}

/** What the shape of the curve says beside the verdict. */
export interface DiagnosisSection {
  /** One sentence: the likeliest cause, or that the curve is as expected. */
  readonly headline: string;
  readonly healthy: boolean;
  /** Numbered as the marks in the chart. */
  readonly findings: readonly { readonly kind: string; readonly text: string }[];
  /** Likeliest first. */
  readonly causes: readonly {
    readonly text: string;
    /** `measurement`, `entry` or `device`. */
    readonly about: string;
    readonly tellApart: string;
    /** `84 %` */
    readonly share: string;
  }[];
}

export interface PreviewModel {
  readonly revision: number;
  readonly sweepId: string;
  readonly place: SourcePlace;
  readonly address: string;
  /** The string that the address is of. */
  readonly string: string;
  readonly device: string;
  readonly time: string;
  readonly verdict: VerdictMark;
  readonly diagnosis?: DiagnosisSection;
  /** The verdict and what decides it, in one sentence; also what a screen reader says first. */
  readonly summary: string;
  /** Neighbours in reading order. */
  readonly previous?: string;
  readonly next?: string;
  readonly conditions: readonly ConditionRow[];
  /** Empty where there is no curve. */
  readonly parameters: readonly ParameterRow[];
  /** Decisive ones first. */
  readonly reasons: readonly ReasonItem[];
  readonly estimates: readonly EstimateItem[];
  readonly flags: readonly FlagItem[];
  readonly problems: readonly ProblemItem[];
  readonly budget: readonly BudgetRow[];
  /** Absent where there is no curve. */
  readonly fit?: FitSection;
  readonly notes: readonly { readonly text: string; readonly place: SourcePlace }[];
  /** How the numbers came about: procedure and its edition, decision rule. */
  readonly method: readonly string[];
  /** Present when the verdict leads to disconnecting something. */
  readonly cautions: readonly string[];
  readonly charts: SweepChartData;
}

/** What every view shows of the campaign. */
export interface CampaignHead {
  readonly name: string;
  readonly title: string;
  /** `12 sweeps: 9 pass, 2 fail, 1 not judged` */
  readonly summary: string;
}

export interface CampaignModel extends CampaignHead {
  readonly revision: number;
  readonly client: string;
  readonly operator: string;
  readonly purpose: string;
  readonly site: string;
  readonly counts: readonly VerdictCount[];
  readonly sweeps: readonly SweepListItem[];
  /** Continuity, polarity, insulation and meter readings, in reading order. */
  readonly electricalTests: readonly ElectricalItem[];
  /** `6 electrical tests: 4 pass, 1 fail, 1 not judged`; empty without any. */
  readonly electricalSummary: string;
  /** Of all files. */
  readonly problems: readonly ProblemItem[];
  readonly replacements: readonly ReplacementItem[];
  readonly overview: CampaignChartData;
  /** Strings with a case, those that ask for work first. */
  readonly cases: readonly CaseItem[];
  readonly steps: readonly NextStep[];
  /** Strings whose position on the array is written; empty where none is. */
  readonly map: readonly MapRow[];
  /** Like strings among themselves, a line each. */
  readonly peers: readonly PeerText[];
  /** Since the earlier campaign; absent without one. */
  readonly history?: HistorySection;
}

export interface HistorySection {
  /** The earlier campaign. */
  readonly since: string;
  readonly rows: readonly {
    readonly string: string;
    readonly years: string;
    /** `-0.6 % ± 0.4 %`, a year. */
    readonly pmax: string;
  }[];
  readonly remarks: readonly string[];
}

/** One line of the list of cases. */
export interface CaseItem {
  readonly string: string;
  readonly state: StateMark;
  /** What to do next, or how it ended. */
  readonly text: string;
}

/** A string at its place on the array. */
export interface MapRow {
  readonly string: string;
  /** Metres from the origin that the campaign chose. */
  readonly x: number;
  readonly y: number;
  /** Percent, of Pmax of the latest judged sweep; absent where there is none. */
  readonly deviation?: number;
  readonly verdict: string;
  readonly state: string;
}

export interface ReplacementItem {
  readonly address: string;
  readonly time: string;
  /** `KF-22817 -> KF-31904`, types likewise. */
  readonly change: string;
  readonly reason: string;
  readonly place: SourcePlace;
}
