/** Everything computed from a campaign: the one value that the editor, the panel, the command line and reports read. */
import type {
  BlockPlace,
  Campaign,
  ParameterName,
  SweepRecord,
  SweepTableRecord,
  SweepTarget,
} from '../campaign/model.js';
import type { FileProblem } from '../text/problem.js';
import type { Place } from '../text/place.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';

export interface EvaluatedSweep {
  /** Stable within one evaluation: `file:line` of the sweep, with `#n` behind it for sweeps of one table. */
  readonly id: string;
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
  /** Row of the table where a sweep of `sweeps from` begins. */
  readonly tableLine?: number;
  readonly dataFile?: string;
  readonly target: SweepTarget;
  /** The points as read; absent where none could be had. */
  readonly reading?: SweepReading;
  readonly analysis: SweepAnalysis;
  /** Problems that belong to this sweep; they are in `Evaluation.problems` too. */
  readonly problems: readonly FileProblem[];
}

export interface VerdictCounts {
  readonly pass: number;
  readonly conditionalPass: number;
  readonly conditionalFail: number;
  readonly fail: number;
  readonly notJudged: number;
  readonly void: number;
}

export interface Evaluation {
  /** Counts up with every evaluation of one workbook. */
  readonly revision: number;
  readonly root: string;
  /** Root and includes, in reading order. */
  readonly files: readonly string[];
  /** CSV files that were asked for, readable or not: a host watches them. */
  readonly dataFiles: readonly string[];
  readonly campaign: Campaign;
  readonly sweeps: readonly EvaluatedSweep[];
  readonly counts: VerdictCounts;
  /** By file, then line. */
  readonly problems: readonly FileProblem[];
}

export const parameterNames: readonly ParameterName[] = ['isc', 'voc', 'imp', 'vmp', 'pmax', 'ff'];
