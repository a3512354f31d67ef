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
 *
 * What is open outweighs an error. Void sweeps count for nothing.
 */
export const exitStatus = { pass: 0, fail: 1, notComputable: 2, usage: 3 } as const;

const openCases = ({ cases }: Evaluation): number => cases.filter(({ state }) => isOpenState(state)).length;

export function statusOf(evaluations: readonly Evaluation[], somethingMissing: boolean): number {
  const sum = (count: (evaluation: Evaluation) => number): number =>
    evaluations.reduce((total, evaluation) => total + count(evaluation), 0);
  if (sum((each) => openCases(each) + failedOutside(each).length + each.electricalCounts.fail) > 0)
    return exitStatus.fail;
  const judged = sum(
    ({ counts, electricalCounts }) =>
      counts.pass + counts.conditionalPass + counts.conditionalFail + counts.fail + electricalCounts.pass,
  );
  const errors = sum(({ problems }) => problems.filter(({ severity }) => severity === 'error').length);
  return somethingMissing || errors > 0 || judged === 0 ? exitStatus.notComputable : exitStatus.pass;
}
