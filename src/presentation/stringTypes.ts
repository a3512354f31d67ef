/** What the view of one string shows: plain JSON, every text ready to show; see previewTypes.ts. */
import type { StateMark } from './caseWords.js';
import type { SourcePlace } from './sourcePlace.js';
import type { VerdictMark } from './verdictWords.js';

/**
 * What a line of an overlay stands for: a sweep by how it was judged, the nameplate, the string composed of its modules, or
 * one sweep as two states of a campaign have it. Each role has its own colour and dash.
 */
export type OverlayRole = 'passed' | 'failed' | 'other' | 'nameplate' | 'composed' | 'before' | 'after';

export interface OverlayRow {
  /** Unique in the chart: `2026-05-14 11:42`, `1.03/11`. */
  readonly series: string;
  readonly role: OverlayRole;
  /** V, A. */
  readonly voltage: number;
  readonly current: number;
}

/** Data set `overlay` of an overlay chart, its lines in drawing order, and what it shows in words. */
export interface OverlayData {
  readonly rows: readonly OverlayRow[];
  readonly series: readonly { readonly name: string; readonly role: OverlayRole; readonly pmax: string }[];
  readonly description: string;
}

/** One position of the string. */
export interface ModuleCell {
  readonly position: number;
  readonly mark: StateMark;
  readonly because: string;
  readonly serial?: string;
  /** Its latest sweep. */
  readonly sweepId?: string;
}

export interface EventItem {
  readonly time: string;
  readonly address: string;
  readonly text: string;
  /** Of a sweep. */
  readonly verdict?: VerdictMark;
  readonly sweepId?: string;
  readonly place: SourcePlace;
}

/** Positions of which the same is known, together. */
export interface EvidenceItem {
  /** `1, 2, 13 to 18` */
  readonly positions: string;
  readonly mark: StateMark;
  readonly because: string;
}

export interface StringModel {
  readonly revision: number;
  readonly name: string;
  /** The title in the text, or empty. */
  readonly title: string;
  readonly device: string;
  readonly place?: SourcePlace;
  readonly state: StateMark;
  /** What to do next and why; absent when nothing is to be done. */
  readonly proposal?: { readonly text: string; readonly why: string };
  /** Present when the proposal disconnects something. */
  readonly cautions: readonly string[];
  /** What the modules found explain, how it compares with its peers and with earlier years: a sentence each. */
  readonly remarks: readonly string[];
  readonly modules: readonly ModuleCell[];
  readonly evidence: readonly EvidenceItem[];
  readonly events: readonly EventItem[];
  /** Sweeps of the whole string at STC. */
  readonly wholes: OverlayData;
  /** Sweeps of single modules and of sections, at STC; empty where there are none. */
  readonly parts: OverlayData;
  /** The failed string composed of its modules, at the conditions of its sweep; empty where nothing was composed. */
  readonly composed: OverlayData;
}
