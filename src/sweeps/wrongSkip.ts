/** A layout that skips too few or too many lines lands on a line that is not the header: one mistake, one problem. */
import type { ColumnMap, LayoutRecord } from '../campaign/model.js';
import { looksNumeric } from './numberText.js';
import { error, shownList } from './readingProblems.js';
import type { ReadingProblem } from './sweepReading.js';
import type { RowBatch } from './tableText.js';
import { sameHeader, trimmed, type TableShape } from './tableShape.js';

/** Undefined where `skip` is not written, or its line holds words and no other line holds the headers that are named. */
export function wrongSkip(
  shape: TableShape,
  layout: LayoutRecord | undefined,
  given: ColumnMap,
  batch: RowBatch,
): ReadingProblem | undefined {
  const { header } = shape;
  if (layout?.skip === undefined || layout.header === false || !header) return undefined;
  const named = Object.values(given).flatMap((name) =>
    name?.header === undefined ? [] : [name.header as string],
  );
  const texts = header.cells.map(({ text }) => text);
  const isNumbers = texts.filter((text) => text.trim() !== '').every(looksNumeric);
  const right = lineOfHeader(batch, named);
  // Headers that stand nowhere were misspelt, which is another mistake.
  if (!isNumbers && (right === undefined || named.some((name) => holds(texts, name)))) return undefined;
  const mend =
    right === undefined
      ? 'Correct `skip` (it counts the lines before the header), or write `header no` where there is none.'
      : `Line ${right} holds the headers that the layout names: write \`skip ${right - 1} lines\`.`;
  const what = isNumbers ? 'a row of numbers, not a header' : 'not the header that the layout names';
  const message = `The layout skips ${layout.skip} lines, and line ${header.line} is ${what}: ${shownList(texts)}. ${mend}`;
  return error('wrong-skip', message, { line: header.line });
}

const holds = (texts: readonly string[], name: string): boolean =>
  texts.some((text) => sameHeader(text, name));

function lineOfHeader(batch: RowBatch, named: readonly string[]): number | undefined {
  if (named.length === 0) return undefined;
  const row = batch.rows.findIndex((fields) => {
    const texts = trimmed(fields);
    return named.every((name) => holds(texts, name));
  });
  return row < 0 ? undefined : batch.lineOf(row);
}
