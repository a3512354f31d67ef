import type { Campaign } from '../campaign/model.js';
import type { BlockPlace, SweepRecord, SweepTableRecord, SweepTarget } from '../campaign/model.js';
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { Place } from '../text/place.js';
import type { FileProblem } from '../text/problem.js';

/** What a check sees of a sweep. */
export interface CheckedSweep {
  readonly address: string;
  readonly time?: string;
  readonly instant?: number;
  readonly record: SweepRecord | SweepTableRecord;
  readonly block: BlockPlace;
  readonly place: Place;
  readonly dataFile?: string;
  readonly tableLine?: number;
  readonly target: SweepTarget;
  readonly analysis: SweepAnalysis;
}

export interface CheckInput {
  readonly campaign: Campaign;
  /** In reading order. */
  readonly sweeps: readonly CheckedSweep[];
}

/** A rule that looks at a whole campaign. One file each; listed in index.ts. */
export interface Check {
  /** Stable, the `id` of its problems. */
  readonly id: string;
  /** One line, for the documents. */
  readonly says: string;
  readonly run: (input: CheckInput) => FileProblem[];
}
