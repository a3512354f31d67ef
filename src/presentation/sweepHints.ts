import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import type { Range } from '../text/place.js';
import { formatDeviation } from './formatNumber.js';
import { verdictMark } from './verdictWords.js';

/** A few words behind the end of a line. */
export interface LineHint {
  readonly line: number;
  readonly text: string;
}

/** Behind the first line of each sweep in a range: its verdict and the deviation of its maximum power. */
export function sweepHints(evaluation: Evaluation, file: string, { start, end }: Range): LineHint[] {
  return evaluation.sweeps
    .filter(
      ({ block, tableLine }) =>
        block.file === file &&
        tableLine === undefined &&
        block.startLine >= start.line &&
        block.startLine <= end.line,
    )
    .map(({ block, analysis }) => ({ line: block.startLine, text: hintText(analysis) }));
}

function hintText({ verdict, deviation }: EvaluatedSweep['analysis']): string {
  const mark = verdictMark(verdict);
  const power = deviation.pmax === undefined ? '' : `, Pmax ${formatDeviation(deviation.pmax)}`;
  return `\u00a0${mark.symbol} ${mark.word}${power}`;
}
