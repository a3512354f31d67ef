/** Positions in text. Lines and characters count from zero; characters are UTF-16 code units. */

export interface Position {
  readonly line: number;
  readonly character: number;
}

/** From `start` up to, not including, `end`. */
export interface Range {
  readonly start: Position;
  readonly end: Position;
}

/** A range in a named file. File names are opaque keys that the host chose (see evaluation/ports.ts). */
export interface Place {
  readonly file: string;
  readonly range: Range;
}

export function rangeOnLine(line: number, start: number, end: number): Range {
  return { start: { line, character: start }, end: { line, character: end } };
}

/** The same range, `lines` further down. Blocks keep block-relative ranges, so an edit above them costs nothing. */
export function shiftRange(range: Range, lines: number): Range {
  return {
    start: { line: range.start.line + lines, character: range.start.character },
    end: { line: range.end.line + lines, character: range.end.character },
  };
}

export function contains(range: Range, position: Position): boolean {
  const { start, end } = range;
  const afterStart =
    position.line > start.line || (position.line === start.line && position.character >= start.character);
  const beforeEnd =
    position.line < end.line || (position.line === end.line && position.character <= end.character);
  return afterStart && beforeEnd;
}
