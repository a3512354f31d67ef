/** What the forms for build servers are made of. */
import type { Evaluation } from '../evaluation/evaluation.js';
import { verdictProblems } from '../presentation/verdictProblems.js';
import type { FileProblem } from '../text/problem.js';

export interface CheckedCampaign {
  readonly evaluation: Evaluation;
  /** How a file is named: relative to the working folder, with `/`. */
  readonly display: (file: string) => string;
}

/** What is wrong in the files, and the failed sweeps whose case is open, each at its place; by file and line. */
export function problemsOf({ evaluation }: CheckedCampaign): FileProblem[] {
  return [...evaluation.problems, ...verdictProblems(evaluation, 'error')].sort(
    (a, b) =>
      evaluation.files.indexOf(a.file) - evaluation.files.indexOf(b.file) ||
      a.range.start.line - b.range.start.line,
  );
}
