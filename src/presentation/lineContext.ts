/** What the cursor stands on, from the text alone: it holds while the text is being typed and nothing parses yet. */
import {
  findBlockKeyword,
  findProperty,
  type BlockKeyword,
  type PropertyKeyword,
} from '../campaign/keywords.js';
import { isConflictMarker } from '../syntax/conflicts.js';
import { lexLine } from '../syntax/lexLine.js';
import type { Token } from '../syntax/token.js';
import { rangeOnLine, type Position, type Range } from '../text/place.js';
import type { OpenFile } from './editorTypes.js';

export interface LineContext {
  readonly text: string;
  readonly tokens: readonly Token[];
  /** The token that holds or touches the cursor. */
  readonly token?: Token;
  /** Its place among the tokens; -1 without one. */
  readonly index: number;
  readonly inComment: boolean;
  readonly isHeader: boolean;
  /** Line of the header of the block; undefined outside blocks. */
  readonly headerLine?: number;
  readonly block?: BlockKeyword;
  /** On an indented line of a known block: its first word, when that is a property. */
  readonly property?: PropertyKeyword;
}

/** A block with thousands of inline points is possible, an endless search is not. */
const farthestHeader = 20_000;

export function lineContext(open: OpenFile, position: Position): LineContext {
  const text = open.lineAt(position.line);
  const { tokens, indented, comment } = lexLine(text, 0);
  const { character } = position;
  const index = tokens.findIndex((token) => token.start <= character && character <= token.end);
  const isHeader = !indented && tokens.length > 0;
  const headerLine = isHeader ? position.line : indented ? headerAbove(open, position.line) : undefined;
  const keyword = headerLine === undefined ? undefined : firstWord(open.lineAt(headerLine));
  const block = keyword === undefined ? undefined : findBlockKeyword(keyword);
  const first = tokens[0]?.text;
  const property = block && !isHeader && first !== undefined ? findProperty(block.name, first) : undefined;
  const inComment = comment !== undefined && character > comment.start;
  return { text, tokens, token: tokens[index], index, inComment, isHeader, headerLine, block, property };
}

function headerAbove(open: OpenFile, line: number): number | undefined {
  for (let above = line - 1; above >= Math.max(0, line - farthestHeader); above--) {
    const text = open.lineAt(above);
    if (/^[^\s#]/.test(text) && !isConflictMarker(text)) return above;
  }
  return undefined;
}

const firstWord = (text: string): string | undefined => /^[^\s#"]+/.exec(text)?.[0];

/** First words of the lines of the block whose header stands at `headerLine`, header left out. */
export function propertiesWritten(
  open: OpenFile,
  headerLine: number,
  exceptLine: number,
): ReadonlySet<string> {
  const found = new Set<string>();
  for (let line = headerLine + 1; line <= headerLine + 200; line++) {
    const text = open.lineAt(line);
    if (/^[^\s#]/.test(text)) break;
    const word = line === exceptLine ? undefined : /^\s+([^\s#"]+)/.exec(text)?.[1];
    if (word !== undefined) found.add(word);
  }
  return found;
}

export function tokenRange(line: number, token: Token): Range {
  return rangeOnLine(line, token.start, token.end);
}
