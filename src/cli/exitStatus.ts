import { failedOutside } from '../cases/failedOutside.js';
import { isOpenState } from '../cases/stringCase.js';
import type { Evaluation } from '../evaluation/evaluation.js';

/**
 * What the program answers to the shell.
 *
 * | status | means |
 * |---|---|
 * | 0 | no case is open: every string that failed passes now or was accepted; something was judged; no error in the files |
 * | 1 | a case is open, located or replaced, or the latest of an electrical test fails |
 * | 2 | not computable: a file is missing, an error stands in the files, or no sweep could be judged |
 * | 3 | usage: an unknown command or option, nothing named |
 * | 130, 141, 143 | stopped: stoppedStatus.ts |
 *
 * What is open outweighs an error. Void sweeps count for nothing.
 */
export const exitStatus = { pass: 0, fail: 1, notComputable: 2, usage: 3 } as const;

/** What the status of a campaign follows from. */
export interface Tally {
  /** Cases that are open, and latest electrical tests that fail. */
  readonly open: number;
  readonly judged: number;
  readonly errors: number;
}

export function tallyOf(evaluation: Evaluation): Tally {
  const { cases, counts, electricalCounts, problems } = evaluation;
  return {
    open:
      cases.filter(({ state }) => isOpenState(state)).length +
      failedOutside(evaluation).length +
      electricalCounts.fail,
    judged:
      counts.pass + counts.conditionalPass + counts.conditionalFail + counts.fail + electricalCounts.pass,
    errors: problems.filter(({ severity }) => severity === 'error').length,
  };
}

/** @param somethingMissing a campaign that was named is not there or could not be computed */
export function statusOf(tallies: readonly Tally[], somethingMissing: boolean): number {
  const sum = (of: keyof Tally): number => tallies.reduce((total, tally) => total + tally[of], 0);
  if (sum('open') > 0) return exitStatus.fail;
  return somethingMissing || sum('errors') > 0 || sum('judged') === 0
    ? exitStatus.notComputable
    : exitStatus.pass;
}
