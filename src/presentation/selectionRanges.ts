/** What a growing selection takes in: a word, what is between quotes, the value, the line, the block, the file. */
import type { Document } from '../syntax/document.js';
import type { Line, Token } from '../syntax/token.js';
import { contains, rangeOnLine, type Position, type Range } from '../text/place.js';

/** From the narrowest to the whole file; each holds the one before it and the position. */
export function selectionRanges(document: Document, position: Position): Range[] {
  const placed = document.blockAt(position.line);
  const ranges: Range[] = [];
  if (placed) {
    const line = placed.block.lines[position.line - placed.startLine];
    if (line) ranges.push(...rangesOfLine(line, position));
    if (placed.block.header)
      ranges.push(blockRange(placed.startLine, placed.block.endLine, placed.block.lines));
  }
  const lastLine = document.lineCount - 1;
  const end = { line: lastLine, character: lengthOfLine(document, lastLine) };
  ranges.push({ start: { line: 0, character: 0 }, end });
  return growing(ranges.filter((range) => contains(range, position)));
}

function rangesOfLine(line: Line, { line: number, character }: Position): Range[] {
  const on = (from: number, to: number): Range => rangeOnLine(number, from, to);
  const { tokens, comment } = line;
  if (comment && character >= comment.start) {
    const end = line.text.length;
    const words = /^#\s*/.exec(comment.text)![0].length;
    return [on(comment.start + words, end), on(comment.start, end), on(0, end)];
  }
  const token = tokens.find(({ start, end }) => start <= character && character <= end);
  const first = tokens[0];
  if (!first) return [];
  const last = tokens.at(-1)!;
  const ranges: Range[] = [];
  if (token?.kind === 'quoted') ranges.push(on(token.start + 1, Math.max(token.start + 1, token.end - 1)));
  if (
    token?.kind === 'word' &&
    token.text.includes('/') &&
    character <= token.start + token.text.indexOf('/')
  )
    ranges.push(on(token.start, token.start + token.text.indexOf('/')));
  if (token) ranges.push(on(token.start, token.end));
  const value = partBetweenCommas(tokens.slice(1), character);
  if (value) ranges.push(on(value[0].start, value[1].end));
  if (tokens[1]) ranges.push(on(tokens[1].start, last.end));
  ranges.push(on(first.start, last.end), on(0, line.text.length));
  return ranges;
}

function partBetweenCommas(tokens: readonly Token[], character: number): readonly [Token, Token] | undefined {
  let part: Token[] = [];
  for (const token of [...tokens, undefined]) {
    if (token && token.kind !== 'comma') {
      part.push(token);
      continue;
    }
    if (part.length > 0 && part[0]!.start <= character && character <= part.at(-1)!.end)
      return [part[0]!, part.at(-1)!];
    part = [];
  }
  return undefined;
}

function blockRange(startLine: number, endLine: number, lines: readonly Line[]): Range {
  const character = lines[endLine]?.text.length ?? 0;
  return { start: { line: startLine, character: 0 }, end: { line: startLine + endLine, character } };
}

function lengthOfLine(document: Document, line: number): number {
  const placed = document.blockAt(line);
  return placed?.block.lines[line - placed.startLine]?.text.length ?? 0;
}

/** Without those that repeat the one before or do not hold it. */
function growing(ranges: readonly Range[]): Range[] {
  const kept: Range[] = [];
  for (const range of ranges) {
    const inner = kept.at(-1);
    if (!inner || (holds(range, inner) && !holds(inner, range))) kept.push(range);
  }
  return kept;
}

function holds(outer: Range, inner: Range): boolean {
  return contains(outer, inner.start) && contains(outer, inner.end);
}
