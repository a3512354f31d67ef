import type { IvCurve } from '../physics/ivCurve.js';

/**
 * A place in a table: the line as an editor counts, from 1; the column is the number of the field on it, from 1, not a
 * character. For inline points the line counts from the first line of their block, which is 1.
 */
export interface TablePlace {
  readonly line: number;
  readonly column?: number;
}

/** What reading a table found out or could not do. `id` is stable, `sweep/...`. */
export interface ReadingProblem {
  readonly id: string;
  readonly severity: 'error' | 'warning' | 'information';
  /** What is wrong and what would be right; without the file name, which the caller knows. */
  readonly message: string;
  readonly place?: TablePlace;
}

/** The points of one sweep as read, cleaned for computing; nothing is smoothed. */
export interface SweepReading {
  /** Ascending voltage, generation positive, gaps left out. */
  readonly curve: IvCurve;
  /** Per point, in the order of `curve`: W/m2 and degC, where the table has the columns. NaN where a field is empty. */
  readonly irradiance?: Float64Array;
  readonly temperature?: Float64Array;
  /** Table line of each point of `curve`, from 1. */
  readonly lines: Int32Array;
  /** Rows skipped since a field was empty, NaN or not a number. */
  readonly skippedRows: number;
  /** As found in the table. */
  readonly direction: 'isc-to-voc' | 'voc-to-isc' | 'mixed';
  /** Generated current stood in the table with a minus sign. */
  readonly signTurned: boolean;
  /** Points whose voltage is that of the point before, in ascending order. */
  readonly repeatedVoltages: number;
  /** The widest step between neighbouring voltages over the whole range of voltage, 0 to 1. */
  readonly largestStep: number;
}

export interface ReadingResult {
  /** Absent when no usable points could be had; then `problems` holds the reason as an error. */
  readonly reading?: SweepReading;
  readonly problems: readonly ReadingProblem[];
}
