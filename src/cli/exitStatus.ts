import type { Evaluation } from '../evaluation/evaluation.js';

/**
 * What the program answers to the shell.
 *
 * | status | means |
 * |---|---|
 * | 0 | every sweep that was judged passes, at least one was, and no error stands in the files |
 * | 1 | at least one sweep fails (also conditionally), or the latest of an electrical test does |
 * | 2 | not computable: a file is missing, an error stands in the files, or no sweep could be judged |
 * | 3 | usage: an unknown command or option, nothing named |
 *
 * A failed sweep outweighs an error. Void sweeps count for nothing.
 */
export const exitStatus = { pass: 0, fail: 1, notComputable: 2, usage: 3 } as const;

export function statusOf(evaluations: readonly Evaluation[], somethingMissing: boolean): number {
  const sum = (count: (evaluation: Evaluation) => number): number =>
    evaluations.reduce((total, evaluation) => total + count(evaluation), 0);
  const failed = sum(
    ({ counts, electricalCounts }) => counts.fail + counts.conditionalFail + electricalCounts.fail,
  );
  if (failed > 0) return exitStatus.fail;
  const judged = sum(
    ({ counts, electricalCounts }) => counts.pass + counts.conditionalPass + electricalCounts.pass,
  );
  const errors = sum(({ problems }) => problems.filter(({ severity }) => severity === 'error').length);
  return somethingMissing || errors > 0 || judged === 0 ? exitStatus.notComputable : exitStatus.pass;
}
