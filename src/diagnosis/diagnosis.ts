/**
 * What the shape of one sweep says beside its verdict. A verdict holds numbers against limits; a diagnosis names what
 * differs from the expected curve and what may cause it. A sweep that passes may still carry a fault.
 */

/** What differs, in the categories that the standards (IEC 61829, 62446-1) and the physics give. */
export type FindingKind =
  | 'step'
  | 'low current'
  | 'high current'
  | 'low voltage'
  | 'high voltage'
  | 'rounded knee'
  | 'slope of the vertical leg'
  | 'slope of the horizontal leg';

/** A number of a finding or a cause: `{ name: 'added series resistance', value: 1.9, unit: 'ohm', uncertainty: 0.1 }`. */
export interface Figure {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  /** Expanded, k = 2, in the same unit; undefined where not known. */
  readonly uncertainty?: number;
}

export interface Finding {
  readonly kind: FindingKind;
  /** One sentence with its numbers and units. */
  readonly text: string;
  readonly figures: readonly Figure[];
  /** Where on the measured curve it shows, for a mark in the chart: V and A. */
  readonly at?: { readonly voltage: number; readonly current: number };
}

/** Stable codes. What the conditions or the entries could explain stands before what would be a fault of the string. */
export type CauseCode =
  | 'drift'
  | 'temperature-wrong'
  | 'irradiance-wrong'
  | 'sensor-soiled'
  | 'module-count-wrong'
  | 'module-type-wrong'
  | 'soiling'
  | 'partial-shade'
  | 'module-low-current'
  | 'substring-out'
  | 'series-resistance'
  | 'shunt'
  | 'degraded';

export interface Cause {
  readonly code: CauseCode;
  /** Is it the measurement, what was entered, or the device? */
  readonly about: 'conditions' | 'entry' | 'device';
  /** One sentence: the cause with its figures. */
  readonly text: string;
  readonly figures: readonly Figure[];
  /** What would tell it from the others: a measurement, a look, a count. */
  readonly tellApart: string;
  /**
   * Share of the evidence among the causes tried, 0 to 1; those of causes that exclude each other sum to at most 1. What acts at
   * the same time as the cause that leads carries its share and names it in `besides`.
   */
  readonly share: number;
  readonly besides?: CauseCode;
}

export interface Diagnosis {
  /** Nothing differs from the expected curve beyond what the conditions and the nameplate leave open. */
  readonly healthy: boolean;
  readonly findings: readonly Finding[];
  /** Likeliest first; empty when healthy. */
  readonly causes: readonly Cause[];
  /**
   * Substrings whose voltage the whole curve lacks, so that the translation takes the coefficients of the others; 0 when
   * all work. Only where a cause `substring-out` leads.
   */
  readonly substringsOut: number;
}
