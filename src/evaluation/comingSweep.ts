import type { SweepSettings } from '../analysis/conditions.js';
import type { SweepTarget } from '../campaign/model.js';
import type { Timed } from '../campaign/moment.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import type { Table } from './readings.js';

/** A sweep that is about to be analysed. */
export interface ComingSweep extends Timed {
  /** As in `rememberedAnalysis`. */
  readonly owner: object;
  readonly key: string;
  readonly address: string;
  readonly settings: SweepSettings;
  readonly target: SweepTarget;
  readonly points:
    | { readonly table: Table; readonly shown: string }
    | { readonly reading: SweepReading; readonly failure?: string };
}
