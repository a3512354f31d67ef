/**
 * Where names stand in a text: given, and referred to. Read from the words of each line alone, so it holds for a line that is
 * wrong or half typed; kept with each block, so an edit reads one block again.
 */
import { findBlockKeyword, findProperty, type BlockKeyword } from '../campaign/keywords.js';
import type { NamedKind } from '../campaign/model.js';
import { namesOfRun, normalName } from '../campaign/names.js';
import type { Block } from '../syntax/block.js';
import type { Document, PlacedBlock } from '../syntax/document.js';
import type { Line, Token } from '../syntax/token.js';
import { contains, rangeOnLine, shiftRange, type Position, type Range } from '../text/place.js';
import { namesAnAddress } from './namedThings.js';

/** Names of one space are told apart; tracers and references share theirs. */
export type NameSpace = Exclude<NamedKind, 'tracer' | 'reference'> | 'instrument';

export interface NamedTarget {
  readonly space: NameSpace;
  /** In the normal form of names. */
  readonly text: string;
}

export interface NameOccurrence extends NamedTarget {
  readonly range: Range;
  readonly isGiven: boolean;
  /** The names of a run `A .. B`; `text` is then its first. */
  readonly run?: readonly string[];
  /** What the name belongs to, as a reader says it: `module`, `tracer or reference`. */
  readonly kind: string;
}

/** A file with what stands in it. */
export interface FileDocument {
  readonly file: string;
  readonly document: Document;
}

/** With lines relative to the block. */
export function namesOfBlock(block: Block): readonly NameOccurrence[] {
  return block.derive(readNames);
}

/** With lines of the document. */
export function namesIn(placed: PlacedBlock): NameOccurrence[] {
  return namesOfBlock(placed.block).map((each) => ({
    ...each,
    range: shiftRange(each.range, placed.startLine),
  }));
}

/** The name that the position is in or touches. */
export function nameAt(document: Document, position: Position): NameOccurrence | undefined {
  const placed = document.blockAt(position.line);
  return placed && namesIn(placed).find(({ range }) => contains(range, position));
}

export function spaceOf(kind: NamedKind): NameSpace {
  return kind === 'tracer' || kind === 'reference' ? 'instrument' : kind;
}

function readNames(block: Block): NameOccurrence[] {
  const { header } = block;
  const keyword = header && keywordOf(header);
  if (!keyword) return [];
  const found = namesOfHeader(header, keyword);
  for (const line of block.lines.slice(1)) {
    if (startsOtherBlock(keyword, line)) break;
    for (const name of namesOfProperty(line, keyword)) found.push(name);
  }
  return found;
}

function keywordOf({ tokens }: Line): BlockKeyword | undefined {
  const first = tokens[0];
  return first?.kind === 'word' ? findBlockKeyword(first.text) : undefined;
}

/** A block keyword that slipped inwards: what follows belongs to no block that is known. */
export function startsOtherBlock(keyword: BlockKeyword, line: Line): boolean {
  const first = line.tokens[0];
  return first?.kind === 'word' && !!findBlockKeyword(first.text) && !findProperty(keyword.name, first.text);
}

function namesOfHeader({ tokens, number }: Line, keyword: BlockKeyword): NameOccurrence[] {
  const name = tokens[1];
  if (name?.kind !== 'word') return [];
  if (keyword.header === 'name') return [occurrence(name, number, true, [keyword.name as NamedKind])];
  if (keyword.header === 'run') {
    const last = tokens[2]?.kind === 'range' && tokens[3]?.kind === 'word' ? tokens[3] : undefined;
    return last ? givenByRun(name, last, number) : [occurrence(name, number, true, ['string'])];
  }
  if (!namesAnAddress(keyword.header)) return [];
  if (name.text === 'at' && /^\d{4}-/.test(tokens[2]?.text ?? '')) return [];
  return [stringOfAddress(name, number)];
}

function givenByRun(first: Token, last: Token, line: number): NameOccurrence[] {
  const run = namesOfRun(normalName(first.text), normalName(last.text));
  if ('message' in run) return [];
  const range = rangeOnLine(line, first.start, last.end);
  return [{ ...occurrence(first, line, true, ['string']), range, run }];
}

/** Of `1.03/11` the part that names the string. */
function stringOfAddress(token: Token, line: number): NameOccurrence {
  const string = token.text.split('/')[0]!;
  return occurrence({ ...token, text: string, end: token.start + string.length }, line, false, ['string']);
}

function namesOfProperty(line: Line, keyword: BlockKeyword): NameOccurrence[] {
  const { tokens, number } = line;
  const property = tokens[0]?.kind === 'word' ? findProperty(keyword.name, tokens[0].text) : undefined;
  if (!property) return [];
  const { form } = property;
  const words = tokens.slice(1).filter(({ kind }) => kind === 'word');
  const all = (each: readonly Token[], kinds: readonly NamedKind[]) =>
    each.map((token) => occurrence(token, number, false, kinds));
  switch (form.kind) {
    case 'reference':
      return all(words.slice(0, 1), form.to);
    case 'references':
      return all(words, form.to);
    case 'typeChange':
      return all(words.slice(0, 2), ['module']);
    case 'modules': {
      const at = typeAt(words.map(({ text }) => text));
      return all(words.slice(at, at + 1), ['module']);
    }
    default:
      return [];
  }
}

/** Of `18 x KF108M` and `18x KF108M` where the type stands, or would; a type may be called `x`. */
function typeAt([count = '', mark = '']: readonly string[]): number {
  return !/[x×*]$/u.test(count) && /^[x×*]$/u.test(mark) ? 2 : 1;
}

function occurrence(
  token: Token,
  line: number,
  isGiven: boolean,
  kinds: readonly NamedKind[],
): NameOccurrence {
  return {
    space: spaceOf(kinds[0]!),
    text: normalName(token.text),
    range: rangeOnLine(line, token.start, token.end),
    isGiven,
    kind: kinds.join(' or '),
  };
}

export function isNamed(each: NameOccurrence, target: NamedTarget): boolean {
  if (each.space !== target.space) return false;
  return each.run ? each.run.includes(target.text) : each.text === target.text;
}
