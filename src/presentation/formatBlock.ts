/**
 * How the lines of one block are laid out: properties indented by two, their values in one column, rows of points indented by
 * four with their decimal points in line. Only white space between words changes; a line that the lexer could not read stays.
 */
import { isPointRow } from '../campaign/readPoints.js';
import type { Block } from '../syntax/block.js';
import type { Line, Token } from '../syntax/token.js';

const propertyIndent = 2;
const rowIndent = 4;
/** A longer first word is no property; values do not move for it. */
const longestName = 24;
/** Least spaces before a comment behind a value. */
const commentGap = 2;

/** One text for each line of the block, without line ends. */
export function formattedLines(block: Block): readonly string[] {
  return block.derive(format);
}

/** Most blocks have no table of points: a look at the first sign spares the rest. */
const isRow = (line: Line): boolean => {
  const code = line.tokens[0]?.text.charCodeAt(0) ?? 0;
  const mayBe =
    code < 0x41 || code > 0x7f || code === 0x69 || code === 0x49 || code === 0x6e || code === 0x4e;
  return mayBe && isPointRow(line);
};

function format(block: Block): readonly string[] {
  const { header, lines } = block;
  const column = valueColumn(lines, header);
  const rows = rowLayouts(lines);
  const texts = lines.map((line) => {
    if (line.problem || line.unread) return line.text;
    if (line.tokens.length === 0) return commentLine(line, lines);
    const code = line === header ? joined(line, line.tokens) : bodyCode(line, column, rows);
    return withComment(code, line);
  });
  return texts;
}

function bodyCode(line: Line, column: number, rows: ReadonlyMap<Line, string>): string {
  const row = rows.get(line);
  if (row !== undefined) return row;
  if (isRow(line)) return ' '.repeat(rowIndent) + joined(line, line.tokens);
  const [name, ...values] = line.tokens;
  const start = ' '.repeat(propertyIndent) + raw(line, name!);
  return values.length === 0 ? start : start.padEnd(column - 1) + ' ' + joined(line, values);
}

/** The column in which the values of the block stand. */
function valueColumn(lines: readonly Line[], header: Line | undefined): number {
  let longest = 0;
  for (const line of lines) {
    const name = line.tokens[0];
    if (!name || line === header || isRow(line)) continue;
    const length = name.end - name.start;
    if (length <= longestName) longest = Math.max(longest, length);
  }
  return propertyIndent + longest + 1;
}

/** A comment that stands alone is indented like the line it speaks of: the next one that says something, else the last. */
function commentLine(line: Line, lines: readonly Line[]): string {
  if (!line.comment) return '';
  const text = line.comment.text.trimEnd();
  if (!line.indented) return text;
  const spoken = (each: Line): boolean => each.indented && each.tokens.length > 0;
  const next = lines.slice(line.number + 1).find(spoken) ?? lines.slice(0, line.number).findLast(spoken);
  const indent = !next ? line.comment.start : isRow(next) ? rowIndent : propertyIndent;
  return ' '.repeat(indent) + text;
}

/** The comment stays in its column as long as the code leaves it room. */
function withComment(code: string, line: Line): string {
  if (!line.comment) return code;
  return code.padEnd(Math.max(line.comment.start, code.length + commentGap)) + line.comment.text.trimEnd();
}

const raw = (line: Line, token: Token): string => line.text.slice(token.start, token.end);

/** One space between words, none before a comma. */
function joined(line: Line, tokens: readonly Token[]): string {
  let text = '';
  for (const [index, token] of tokens.entries()) {
    const before = tokens[index - 1];
    const isTight =
      !before ||
      (token.kind === 'comma' && before.kind !== 'comma') ||
      (before.kind === 'comma' && isDecimalComma(line, tokens, index - 1));
    text += (isTight ? '' : ' ') + raw(line, token);
  }
  return text;
}

/** `8,5` is a number with the wrong decimal sign; a space would make two numbers of it. */
function isDecimalComma(line: Line, tokens: readonly Token[], at: number): boolean {
  const [before, comma, after] = [tokens[at - 1], tokens[at]!, tokens[at + 1]];
  return (
    before?.end === comma.start &&
    after?.start === comma.end &&
    /\d/.test(line.text[comma.start - 1]!) &&
    /\d/.test(line.text[comma.end]!)
  );
}

/** Tables of points: each run of rows has its own two columns. */
function rowLayouts(lines: readonly Line[]): ReadonlyMap<Line, string> {
  const layouts = new Map<Line, string>();
  let run: { line: Line; voltage: string; current: string; comma: string }[] = [];
  const close = (): void => {
    const [voltage, current] = [
      alignment(run.map((row) => row.voltage)),
      alignment(run.map((row) => row.current)),
    ];
    for (const row of run) {
      const first = (voltage.pad(row.voltage) + row.comma).padEnd(voltage.width + row.comma.length);
      const text = `${' '.repeat(rowIndent)}${first}  ${current.pad(row.current)}`;
      layouts.set(row.line, text);
    }
    run = [];
  };
  for (const line of lines) {
    const pair = line.problem ? undefined : pairOf(line);
    if (pair) run.push({ line, ...pair });
    else if (line.tokens.length > 0) close();
  }
  close();
  return layouts;
}

function pairOf(line: Line): { voltage: string; current: string; comma: string } | undefined {
  const { tokens } = line;
  if (!line.indented || !isRow(line)) return undefined;
  if (tokens.some(({ kind }) => kind !== 'word' && kind !== 'comma')) return undefined;
  if (tokens.length === 2 && tokens[1]!.kind === 'word')
    return { voltage: tokens[0]!.text, current: tokens[1]!.text, comma: '' };
  const isPair = tokens.length === 3 && tokens[1]!.kind === 'comma' && tokens[2]!.kind === 'word';
  if (!isPair || isDecimalComma(line, tokens, 1)) return undefined;
  return { voltage: tokens[0]!.text, current: tokens[2]!.text, comma: ',' };
}

/** Digits before the decimal point are padded in front; `width` is that of the widest number so padded. */
function alignment(numbers: readonly string[]): { readonly width: number; pad(text: string): string } {
  let before = 0;
  for (const text of numbers) before = Math.max(before, wholePart(text));
  const pad = (text: string): string => ' '.repeat(before - wholePart(text)) + text;
  let width = 0;
  for (const text of numbers) width = Math.max(width, pad(text).length);
  return { width, pad };
}

function wholePart(text: string): number {
  const point = text.search(/[.eE]/);
  return point < 0 ? text.length : point;
}
