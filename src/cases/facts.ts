/** What the steps of a case rest on, in order of time. */
import type { CheckedSweep } from '../checks/check.js';
import type { Replacement, Test } from './search.js';

export interface Facts {
  /** Judged sweeps of the whole string. */
  readonly wholes: readonly Test[];
  /** The latest sweep of the whole string that is not void, judged or not; of a part where no whole was swept. */
  readonly latest?: { readonly index: number; readonly sweep: CheckedSweep };
  readonly tests: readonly Test[];
  readonly replacements: readonly Replacement[];
  /** The string as a whole was accepted. */
  readonly acceptsAll: boolean;
}
