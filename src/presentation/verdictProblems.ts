import { stringOf } from '../campaign/names.js';
import { isSettledState } from '../cases/stringCase.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { rangeOnLine } from '../text/place.js';
import type { FileProblem, Severity } from '../text/problem.js';
import { headlineReason, sweepTitle } from './sweepTexts.js';
import { verdictMark } from './verdictWords.js';

/**
 * Failed sweeps as problems, for those who want them in the list of problems. A failed string is not a mistake of the
 * text: by itself it is none. Sweeps of a case that was verified or waived are left out.
 */
export function verdictProblems(evaluation: Evaluation, severity: Severity): FileProblem[] {
  const closed = new Set(
    evaluation.cases.filter(({ state }) => isSettledState(state)).map(({ string }) => string),
  );
  return evaluation.sweeps.flatMap((sweep): FileProblem[] => {
    const { verdict } = sweep.analysis;
    if (verdict !== 'fail' && verdict !== 'conditional fail') return [];
    if (closed.has(stringOf(sweep.address))) return [];
    const { word } = verdictMark(verdict);
    const { file, range } = sweep.place;
    return [
      {
        id: `verdict/${word.replace(' ', '-')}`,
        severity,
        file,
        range: rangeOnLine(range.start.line, range.start.character, range.end.character),
        message: `${sweepTitle(sweep)}: ${word}. ${headlineReason(sweep.analysis)?.text ?? ''}`.trim(),
      },
    ];
  });
}
