/** What an evaluation and its analysts say to each other: plain data that a structured clone carries over. */
import type { SweepSettings } from '../analysis/conditions.js';
import type { Repeatability, SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { LayoutRecord, ModuleRecord, SweepTarget } from '../campaign/model.js';
import type { Diagnosis } from '../diagnosis/diagnosis.js';
import type { Levels } from '../diagnosis/peerLevels.js';
import type { Peers } from '../diagnosis/peers.js';
import type { ReadingResult, SweepReading } from '../sweeps/sweepReading.js';

/** A sweep to be analysed. */
export interface SweepTask {
  readonly address: string;
  readonly time?: string;
  readonly settings: SweepSettings;
  readonly target: SweepTarget;
  readonly points: TableToRead | PointsAtHand;
}

export interface TableToRead {
  readonly bytes: Uint8Array;
  readonly layout?: LayoutRecord;
  /** The name of the table in messages. */
  readonly shown: string;
}

export interface PointsAtHand {
  readonly reading: SweepReading;
  readonly failure?: string;
}

/** Pure in its task, and in the other sweeps of its device. */
export interface AnalysedSweep {
  /** Where the table was still to be read. */
  readonly result?: ReadingResult;
  readonly analysis: SweepAnalysis;
  /** By procedure 3, and the place of its partner among the sweeps of the device. */
  readonly interpolated?: { readonly partner: number; readonly analysis: SweepAnalysis };
  /** Where sweeps of the same device tell how far they scatter. */
  readonly repeated?: { readonly repeatability: Repeatability; readonly analysis: SweepAnalysis };
  /** What it reads, for its peers; of the last analysis. */
  readonly levels?: Levels;
}

/** One sweep of a batch that was analysed before, to be diagnosed beside its peers. */
export interface DiagnosisTask {
  /** Its place in the batch. */
  readonly place: number;
  readonly peers?: Peers;
}

export interface DiagnosedSweep {
  readonly diagnosis?: Diagnosis;
  /** Where substrings are out of the current path. */
  readonly reduced?: SweepAnalysis;
}

export type AnalystRequest =
  /** The sweeps of one device stand together. Answered in the same order, as one list; the batch is kept until it is dropped. */
  | { readonly kind: 'analyse'; readonly batch: number; readonly devices: readonly (readonly SweepTask[])[] }
  | {
      readonly kind: 'diagnose';
      readonly batch: number;
      readonly sweeps: readonly DiagnosisTask[];
      readonly otherTypes: readonly ModuleRecord[];
    }
  /** Not answered. */
  | { readonly kind: 'drop'; readonly batch: number };

/** In the order of the requests; undefined where an analyst failed. */
export type AnalystReply = readonly AnalysedSweep[] | readonly DiagnosedSweep[] | undefined;
