/** Points as they come from a table, before they are put in order and checked. */
export interface SweepPoints {
  /** V and A. */
  readonly voltage: number[];
  readonly current: number[];
  /** W/m2 and degC; empty where the table has no such column. */
  readonly irradiance: number[];
  readonly temperature: number[];
  readonly lines: number[];
  skippedRows: number;
  firstSkipped?: SkippedRow;
  /** Rows with more fields than the table has columns; they are among the skipped ones. */
  raggedRows: number;
}

export interface SkippedRow {
  readonly line: number;
  /** From 1. */
  readonly column?: number;
  /** `voltage is empty`, `"abc" is not a number`. */
  readonly what: string;
}

export function noPoints(): SweepPoints {
  return {
    voltage: [],
    current: [],
    irradiance: [],
    temperature: [],
    lines: [],
    skippedRows: 0,
    raggedRows: 0,
  };
}

/** The same points with voltage ascending. */
export interface OrderedPoints {
  readonly voltage: Float64Array;
  readonly current: Float64Array;
  readonly lines: Int32Array;
  /** Where each point stood; absent when they stood in this order. */
  readonly order?: Int32Array;
}

/** Least and most; infinite for no values. */
export function extent(values: readonly number[]): { least: number; most: number } {
  let least = Infinity;
  let most = -Infinity;
  for (const value of values) {
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return { least, most };
}
