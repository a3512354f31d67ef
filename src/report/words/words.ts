/**
 * The fixed words of a report, one table a language: a key that is missing does not compile. Terms follow IEC TS 61836 and the
 * national editions of IEC 62446-1 (from memory, not confirmed). What nobody sure of the trade has read yet stands in
 * `forReview.ts`.
 */
import type { Verdict } from '../../analysis/sweepAnalysis.js';
import type { ParameterName, Purpose } from '../../campaign/model.js';
import type { FoundPicture } from '../pictures.js';
import type { CaseState, ModuleStatus } from '../../cases/stringCase.js';
import type { ElectricalTestRecord } from '../../campaign/model.js';

export interface Words {
  readonly number: { readonly decimal: '.' | ',' };
  /** From year, month and day in digits. */
  readonly date: (year: string, month: string, day: string) => string;
  readonly contents: {
    readonly full: string;
    readonly summary: string;
    readonly faults: string;
    readonly string: string;
  };
  readonly page: (page: number, pages: number) => string;
  /** That some sentences are in English; stands only where one is. Empty in English. */
  readonly englishSentences: string;
  readonly colophon: (version: string, files: string) => string;

  readonly facts: {
    readonly client: string;
    readonly site: string;
    readonly purpose: string;
    readonly operator: string;
    readonly measured: string;
    readonly campaign: string;
    readonly criteria: string;
    readonly position: string;
  };
  readonly purposes: Readonly<Record<Purpose, string>>;
  readonly to: string;
  readonly notGiven: string;

  readonly headings: {
    readonly summary: string;
    readonly next: string;
    readonly instruments: string;
    readonly strings: string;
    readonly sweeps: string;
    readonly otherDevices: string;
    readonly electrical: string;
    readonly peers: string;
    readonly degradation: string;
    readonly method: string;
    readonly standards: string;
    readonly estimates: string;
    readonly criteria: string;
    readonly limits: string;
    readonly diagnostics: string;
    readonly signatures: string;
    readonly verdictsMean: string;
    readonly deviationChart: string;
    readonly caseHistory: string;
    readonly moduleEvidence: string;
    readonly conditions: string;
    readonly diagnosis: string;
    readonly fittedModel: string;
    readonly remarks: string;
    readonly replacements: string;
    readonly faults: string;
    readonly repairRecord: string;
    readonly filesNamed: string;
    readonly reasons: string;
  };
  readonly pictures: {
    readonly heading: string;
    /** Head of the column that says whether a picture is shown. */
    readonly inReport: string;
    readonly states: Readonly<Record<FoundPicture['state'], string>>;
  };
  readonly string: (name: string) => string;

  readonly counts: {
    readonly strings: (count: number) => string;
    readonly sweeps: (count: number) => string;
    /** How many strings stand how; without a full stop at the end. */
    readonly ofStrings: (strings: number, parts: string) => string;
    readonly measuredBy: (sweeps: string, when: string) => string;
    readonly standing: Readonly<Record<Standing, (count: number) => string>>;
    readonly electrical: (tests: number, pass: number, fail: number, notJudged: number) => string;
    readonly nothingToDo: string;
    readonly nothingMeasured: string;
    /** Beside electrical tests. */
    readonly noCurves: string;
    readonly moreInFull: (count: number) => string;
    readonly noFaults: string;
  };

  readonly columns: {
    readonly string: string;
    readonly sweep: string;
    readonly device: string;
    readonly time: string;
    readonly deviation: string;
    readonly verdict: string;
    readonly state: string;
    readonly module: string;
    readonly change: string;
    readonly reason: string;
    readonly test: string;
    readonly reading: string;
    readonly why: string;
    readonly measured: string;
    readonly atStc: string;
    readonly nameplate: string;
    readonly limit: string;
    readonly outcome: string;
    readonly quantity: string;
    readonly value: string;
    readonly origin: string;
    readonly source: string;
    readonly symbol: string;
    readonly fitted: string;
    readonly expected: string;
    readonly event: string;
    readonly positions: string;
    readonly known: string;
    readonly serial: string;
    readonly instrument: string;
    readonly calibrated: string;
    readonly accuracy: string;
    readonly years: string;
    readonly perYear: string;
    readonly method: string;
    readonly usedIn: string;
    readonly cause: string;
    readonly share: string;
    readonly tellApart: string;
    readonly where: string;
    readonly what: string;
    readonly toDo: string;
    readonly newSerial: string;
    readonly doneBy: string;
    readonly standard: string;
    readonly usedFor: string;
  };
  readonly captions: {
    readonly sweeps: string;
    readonly parameters: string;
    readonly budget: string;
    readonly overview: string;
    readonly beyond: string;
    readonly curves: string;
    readonly continued: string;
    readonly wholes: string;
    readonly parts: string;
    readonly composed: string;
    readonly electrical: string;
    readonly fitted: string;
    readonly expected: string;
    readonly since: (campaign: string) => string;
  };

  readonly verdicts: Readonly<Record<Verdict, string>>;
  readonly verdictMeanings: Readonly<Record<Verdict, string>>;
  readonly states: Readonly<Record<CaseState, string>>;
  readonly modules: Readonly<Record<ModuleStatus, string>>;
  readonly parameters: Readonly<Record<ParameterName, string>>;
  readonly tests: Readonly<Record<ElectricalTestRecord['kind'], string>>;
  readonly repeatedLater: string;
  readonly instruments: { readonly tracer: string; readonly reference: string };
  readonly accuracies: {
    readonly voltage: string;
    readonly current: string;
    readonly irradiance: string;
    readonly temperature: string;
    readonly alignment: string;
    readonly spectral: string;
  };
  readonly months: (count: number) => string;
  readonly findingsAbout: { readonly measurement: string; readonly entry: string; readonly device: string };
  readonly severities: { readonly error: string; readonly warning: string; readonly information: string };
  readonly line: (file: string, line: number) => string;
  readonly writtenIn: (place: string) => string;
  readonly serialOf: (serial: string) => string;
  readonly latestSweep: string;
  readonly note: string;
  readonly danger: string;

  readonly toleranceCounted: string;

  readonly method: readonly string[];
  readonly standards: Readonly<Record<StandardName, string>>;
  readonly limits: readonly string[];

  readonly signature: {
    readonly measuredBy: string;
    readonly checkedBy: string;
    readonly acceptedBy: string;
    readonly repairedBy: string;
    readonly name: string;
    readonly date: string;
    readonly sign: string;
  };
  readonly cautionsTitle: string;
  /** One for each of presentation/cautions.ts, in its order. */
  readonly cautions: readonly [
    string,
    string,
    string,
    string,
    string,
    string,
    string,
    string,
    string,
    string,
  ];

  readonly chart: Readonly<Record<ChartWord, string>>;
}

/** How a string stands at the end of the campaign. */
export const standings = [
  'pass',
  'conditional pass',
  'verified',
  'waived',
  'conditional fail',
  'fail',
  'not judged',
] as const;
export type Standing = (typeof standings)[number];

export const standardNames = [
  'IEC 60891:2021',
  'IEC 62446-1',
  'IEC 61829',
  'IEC 60904-5',
  'ILAC-G8:09/2019',
  'JCGM 100:2008',
  'IEC TS 61836',
] as const;
export type StandardName = (typeof standardNames)[number];

/** Words inside the charts, by what their specifications call them. */
export const chartWords = [
  'Voltage (V)',
  'Current (A)',
  'Power (W)',
  'Deviation of Pmax from nameplate (%)',
  'measured',
  'translated to STC',
  'nameplate at STC',
  'pass',
  'conditional pass',
  'conditional fail',
  'fail',
  'not judged',
] as const;
export type ChartWord = (typeof chartWords)[number];
