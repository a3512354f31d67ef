/** What the forms for build servers are made of. */
import type { Evaluation } from '../evaluation/evaluation.js';
import { verdictProblems } from '../presentation/verdictProblems.js';
import type { Range } from '../text/place.js';
import type { Severity } from '../text/problem.js';

export interface CheckedCampaign {
  readonly evaluation: Evaluation;
  /** How a file is named: relative to the working folder, with `/`. */
  readonly display: (file: string) => string;
}

interface ShownPlace {
  readonly message: string;
  /** As it is shown. */
  readonly file: string;
  readonly range: Range;
}

/** A problem as plain data, which outlives the evaluation that it is from. */
export interface ShownProblem extends ShownPlace {
  readonly id: string;
  readonly severity: Severity;
  readonly related: readonly ShownPlace[];
}

/** What is wrong in the files, and the failed sweeps whose case is open, each at its place; by file and line. */
export function shownProblems({ evaluation, display }: CheckedCampaign): ShownProblem[] {
  return [...evaluation.problems, ...verdictProblems(evaluation, 'error')]
    .sort(
      (a, b) =>
        evaluation.files.indexOf(a.file) - evaluation.files.indexOf(b.file) ||
        a.range.start.line - b.range.start.line,
    )
    .map(({ id, severity, message, file, range, related = [] }) => ({
      id,
      severity,
      message,
      file: display(file),
      range,
      related: related.map((each) => ({
        message: each.message,
        file: display(each.place.file),
        range: each.place.range,
      })),
    }));
}
