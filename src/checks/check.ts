import type { Campaign } from '../campaign/model.js';
import type { BlockPlace, SweepRecord, SweepTableRecord, SweepTarget } from '../campaign/model.js';
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { Diagnosis } from '../diagnosis/diagnosis.js';
import { shiftRange, type Place, type Range } from '../text/place.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import type { FileProblem } from '../text/problem.js';

/** What a check sees of a sweep. */
export interface CheckedSweep {
  /** As written or as in the table: `1.03`, `1.03/11`, `1.03/1-9`. */
  readonly address: string;
  /** ISO 8601 with offset when the site's zone is known, without when not. */
  readonly time?: string;
  /** Milliseconds since 1970 UTC, when the zone is known. */
  readonly instant?: number;
  readonly record: SweepRecord | SweepTableRecord;
  readonly block: BlockPlace;
  /** Header line of the block. */
  readonly place: Place;
  readonly dataFile?: string;
  /** Row of the table where a sweep of `sweeps from` begins. */
  readonly tableLine?: number;
  readonly target: SweepTarget;
  /** The points as read; absent where none could be had. */
  readonly reading?: SweepReading;
  readonly analysis: SweepAnalysis;
  /** Undefined where the sweep carries none: no points, no conditions, no nameplate. */
  readonly diagnosis?: Diagnosis;
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
  /**
   * Whether there may be something to say of a sweep, which it alone decides: `run` is then given the sweeps for which this
   * holds, and the answer is remembered. Absent: all sweeps.
   */
  readonly concerns?: (sweep: CheckedSweep) => boolean;
  /** `run` is given the first sweep for each value of this, undefined left out, which each sweep alone decides. Absent: all sweeps. */
  readonly oncePer?: (sweep: CheckedSweep) => object | undefined;
  /**
   * What two sweeps must have in common for there to be something to say of them, which each alone decides: `run` is then given the
   * sweeps that are not alone with their key. Undefined: nothing to say of this one. Absent: all sweeps.
   */
  readonly inCommon?: (sweep: CheckedSweep) => string | undefined;
  readonly run: (input: CheckInput) => FileProblem[];
}

/** Where the first of these properties that the sweep has is written, else its header. */
export function propertyRange({ record, block, place }: CheckedSweep, ...properties: string[]): Range {
  const found = properties
    .map((name) => record.propertyRanges.get(name))
    .find((range) => range !== undefined);
  return found ? shiftRange(found, block.startLine) : place.range;
}

/** A check that warns of each sweep about which `complain` has something to say. */
export function sweepCheck(
  id: string,
  says: string,
  complain: (sweep: CheckedSweep) => { readonly range: Range; readonly message: string } | undefined,
): Check {
  return {
    id,
    says,
    concerns: (sweep) => complain(sweep) !== undefined,
    run: ({ sweeps }) =>
      sweeps.flatMap((sweep): FileProblem[] => {
        const complaint = complain(sweep);
        return complaint ? [{ id, severity: 'warning', file: sweep.block.file, ...complaint }] : [];
      }),
  };
}
