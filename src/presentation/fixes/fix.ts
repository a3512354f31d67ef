/** What a quick fix is, what it is worked out from, and the edits that most of them are made of. */
import {
  findBlockKeyword,
  findProperty,
  type BlockKeyword,
  type PropertyKeyword,
} from '../../campaign/keywords.js';
import type { Evaluation } from '../../evaluation/evaluation.js';
import type { Document, PlacedBlock } from '../../syntax/document.js';
import type { Line, Token } from '../../syntax/token.js';
import { rangeOnLine, type Range } from '../../text/place.js';
import type { FileProblem } from '../../text/problem.js';
import type { FileEdit } from '../fileEdit.js';

export interface FixEdit extends FileEdit {
  /** `text` holds tab stops. At most one edit of a fix has them, in the file of the problem. */
  readonly isSnippet?: boolean;
}

export interface Fix {
  readonly title: string;
  readonly edits: readonly FixEdit[];
  /** What nearly everyone wants here. */
  readonly isPreferred?: boolean;
}

/** What is asked of the host beyond the evaluation. */
export interface FixHost {
  /** Its latest parse, for files of the campaign. */
  document(file: string): Document | undefined;
  resolve(from: string, relative: string): string | undefined;
  /** Paths relative to `from`, with `/`. */
  paths(kind: 'table' | 'campaign', from: string): Promise<readonly string[]>;
  read(file: string): Promise<Uint8Array | undefined>;
}

export interface FixInput {
  readonly problem: FileProblem;
  readonly evaluation: Evaluation;
  readonly host: FixHost;
  readonly document: Document;
  readonly placed: PlacedBlock;
  /** The line on which the problem begins. */
  readonly line: Line;
  readonly keyword?: BlockKeyword;
  /** Of that line, where it is a property. */
  readonly property?: PropertyKeyword;
}

export type Fixer = (input: FixInput) => readonly Fix[] | Promise<readonly Fix[]>;

/** Undefined when the text has changed since and the problem has no place in it. */
export function fixInput(problem: FileProblem, evaluation: Evaluation, host: FixHost): FixInput | undefined {
  const document = host.document(problem.file);
  const placed = document?.blockAt(problem.range.start.line);
  const line = placed?.block.lines[problem.range.start.line - placed.startLine];
  if (!document || !placed || !line) return undefined;
  const keyword = findBlockKeyword(placed.block.header?.tokens[0]?.text ?? '');
  const name = line.number > 0 ? line.tokens[0]?.text : undefined;
  const property = keyword && name !== undefined ? findProperty(keyword.name, name) : undefined;
  return { problem, evaluation, host, document, placed, line, keyword, property };
}

/** The text of the line that the problem marks; up to the end of its first line. */
export function markedText({ problem: { range }, line }: FixInput): string {
  return line.text.slice(range.start.character, endOn(range, line));
}

function endOn(range: Range, line: Line): number {
  return range.end.line > range.start.line ? line.text.length : range.end.character;
}

/** Replaces what the problem marks. */
export function replaceMarked(input: FixInput, text: string, title = `Write \`${text}\``): Fix {
  const { problem, line } = input;
  const { start } = problem.range;
  const range = rangeOnLine(start.line, start.character, endOn(problem.range, line));
  return { title, edits: [{ file: problem.file, range, text }] };
}

/** Replaces columns `from` to `to` of the problem's line. */
export function editOnLine(
  { problem, placed, line }: FixInput,
  from: number,
  to: number,
  text: string,
): FixEdit {
  return { file: problem.file, range: rangeOnLine(placed.startLine + line.number, from, to), text };
}

export function tokenEdit(input: FixInput, token: Token, text: string): FixEdit {
  return editOnLine(input, token.start, token.end, text);
}

/** The line of a property of a block, the first of them. */
export function propertyLine({ block }: PlacedBlock, name: string): Line | undefined {
  return block.lines.slice(1).find(({ tokens }) => tokens[0]?.text === name);
}

/** Puts lines at the end of a block, each `name value`, the values in the column of the others. */
export function addProperties(
  file: string,
  placed: PlacedBlock,
  properties: readonly (readonly [name: string, value: string])[],
  isSnippet = false,
): FixEdit {
  const { block, startLine } = placed;
  const last = block.lines[block.endLine]!;
  const width = Math.max(columnOf(placed), ...properties.map(([name]) => name.length + 3));
  const text = properties.map(([name, value]) => `\n${`  ${name}`.padEnd(width)}${value}`).join('');
  const at = last.text.trimEnd().length;
  return { file, range: rangeOnLine(startLine + block.endLine, at, last.text.length), text, isSnippet };
}

function columnOf({ block }: PlacedBlock): number {
  const starts = block.lines
    .slice(1)
    .flatMap(({ tokens }) =>
      tokens[1] && tokens[0]!.kind === 'word' && !/^\d/.test(tokens[0]!.text) ? tokens[1].start : [],
    );
  return Math.max(0, ...starts.filter((start) => start < 24));
}

/** Puts a block before another one, and before the comments that stand right above that. */
export function insertBlock(
  file: string,
  { startLine }: PlacedBlock,
  document: Document,
  lines: readonly string[],
  isSnippet = false,
): FixEdit {
  let line = startLine;
  while (line > 0 && /^#/.test(textOfLine(document, line - 1))) line--;
  return { file, range: rangeOnLine(line, 0, 0), text: `${lines.join('\n')}\n\n`, isSnippet };
}

export function textOfLine(document: Document, line: number): string {
  const placed = document.blockAt(line);
  return placed?.block.lines[line - placed.startLine]?.text ?? '';
}

/** Takes a whole line away, its end with it. */
export function removeLines(file: string, first: number, last = first): FixEdit {
  return {
    file,
    range: { start: { line: first, character: 0 }, end: { line: last + 1, character: 0 } },
    text: '',
  };
}

/** `wanted`, or with `-2`, `-3` … behind it, so that nothing of the campaign has it. */
export function freeName({ campaign }: Pick<Evaluation, 'campaign'>, wanted: string): string {
  const { sites, planes, modules, strings, instruments, layouts, criteria } = campaign;
  const all = [sites, planes, modules, strings, instruments, layouts, criteria];
  const isTaken = (name: string): boolean => all.some((map) => map.has(name));
  let name = wanted;
  for (let count = 2; isTaken(name); count++) name = `${wanted}-${count}`;
  return name;
}
