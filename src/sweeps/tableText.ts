// eslint-disable-next-line @typescript-eslint/triple-slash-reference -- every program that imports this file needs it.
/// <reference path="./papaparseModule.d.ts" />
/**
 * Rows of fields with the line each begins on. papaparse splits the fields; the line numbers are counted here, since
 * blank lines, line ends inside quotes and pieces would shift its own. A long text is split in pieces, so that a
 * million rows never stand in memory at once.
 */
import papa from 'papaparse/papaparse.js';
import type { Delimiter } from './delimiters.js';

const pieceLength = 256 * 1024;

export interface TableText {
  /** Lines end in `\n`. */
  readonly text: string;
  readonly delimiter: Delimiter;
  /** Double quotes hold fields together. */
  readonly quoted: boolean;
  /** Where a quote opens that is not closed as it should; all quotes are then read as plain characters. */
  readonly brokenQuoteLine?: number;
  /** Offsets of the `\n` between pieces. */
  readonly cuts: readonly number[];
}

export interface RowBatch {
  readonly rows: readonly (readonly string[])[];
  /** The line on which a row begins, from 1. */
  lineOf(row: number): number;
  /** No rows follow. */
  readonly last: boolean;
}

/** `delimiter` splits the fields; runs of spaces count as one where it is a space. */
export function prepareTable(text: string, delimiter: Delimiter): TableText {
  const tidy = delimiter === ' ' ? text.replace(/[ \t]+/g, ' ').replace(/^ | $/gm, '') : text;
  if (!tidy.includes('"'))
    return { text: tidy, delimiter, quoted: false, cuts: cutsOutsideQuotes(tidy, delimiter).cuts };
  const { cuts, brokenAt } = cutsOutsideQuotes(tidy, delimiter);
  if (brokenAt === undefined) return { text: tidy, delimiter, quoted: true, cuts };
  const plain = cutsOutsideQuotes(tidy, undefined);
  return {
    text: tidy,
    delimiter,
    quoted: false,
    brokenQuoteLine: 1 + newlinesIn(tidy, brokenAt),
    cuts: plain.cuts,
  };
}

export function* rowBatches(table: TableText): Generator<RowBatch> {
  let firstLine = 1;
  let start = 0;
  for (let piece = 0; piece <= table.cuts.length; piece++) {
    const end = table.cuts[piece] ?? table.text.length;
    const source = start === 0 && end === table.text.length ? table.text : table.text.slice(start, end);
    const rows = papa.parse(source, {
      delimiter: table.delimiter,
      newline: '\n',
      fastMode: !table.quoted,
    }).data;
    const first = firstLine;
    const lines = table.quoted ? linesOf(rows, first) : undefined;
    yield { rows, lineOf: (row) => lines?.[row] ?? first + row, last: piece === table.cuts.length };
    firstLine = lines ? lines[rows.length]! : first + rows.length;
    start = end + 1;
  }
}

/** Line of each row, and of the row that would follow. */
function linesOf(rows: readonly (readonly string[])[], first: number): Int32Array {
  const lines = new Int32Array(rows.length + 1);
  let line = first;
  rows.forEach((row, at) => {
    lines[at] = line++;
    for (const field of row) if (field.includes('\n')) line += newlinesIn(field, field.length);
  });
  lines[rows.length] = line;
  return lines;
}

function newlinesIn(text: string, end: number): number {
  let count = 0;
  for (let at = text.indexOf('\n'); at >= 0 && at < end; at = text.indexOf('\n', at + 1)) count++;
  return count;
}

/**
 * Walks from quote to quote, as RFC 4180 lays down: a field is quoted when a quote is its first character; a doubled
 * quote stands for one; the closing quote is followed by a delimiter or a line end, spaces allowed. Finds line ends
 * outside quotes at which the text can be cut. With no `delimiter`, quotes are plain characters.
 */
function cutsOutsideQuotes(
  text: string,
  delimiter: string | undefined,
): { cuts: number[]; brokenAt?: number } {
  const cuts: number[] = [];
  let wanted = pieceLength;
  let newline = -1;
  const cutBetween = (from: number, to: number) => {
    for (;;) {
      if (wanted >= to) return;
      const least = Math.max(from, wanted);
      if (newline < least) newline = text.indexOf('\n', least);
      if (newline < 0) newline = text.length;
      if (newline >= to) return;
      cuts.push(newline);
      wanted = newline + pieceLength;
    }
  };
  let outsideFrom = 0;
  for (let quote = delimiter ? text.indexOf('"') : -1; quote >= 0; quote = text.indexOf('"', outsideFrom)) {
    if (!opensField(text, quote, delimiter!)) {
      cutBetween(outsideFrom, quote);
      outsideFrom = quote + 1;
      continue;
    }
    cutBetween(outsideFrom, quote);
    const end = closingQuote(text, quote, delimiter!);
    if (end === undefined) return { cuts, brokenAt: quote };
    outsideFrom = end + 1;
  }
  cutBetween(outsideFrom, text.length);
  return { cuts };
}

function opensField(text: string, quote: number, delimiter: string): boolean {
  const before = text[quote - 1];
  return before === undefined || before === '\n' || before === delimiter;
}

function closingQuote(text: string, opening: number, delimiter: string): number | undefined {
  for (let quote = text.indexOf('"', opening + 1); quote >= 0; quote = text.indexOf('"', quote + 1)) {
    if (text[quote + 1] === '"') {
      quote++;
      continue;
    }
    let after = quote + 1;
    while (text[after] === ' ' && delimiter !== ' ') after++;
    const follows = text[after];
    return follows === undefined || follows === '\n' || follows === delimiter ? quote : undefined;
  }
  return undefined;
}
