import { Block, nextLine, startsHeader } from './block.js';
import { findConflicts, noConflicts, unreadLines, type Conflicts } from './conflicts.js';

export interface PlacedBlock {
  readonly block: Block;
  /** Line of the document, from 0, where the block begins. */
  readonly startLine: number;
}

/** A text taken apart into blocks. Immutable; an edit makes a new one that shares the blocks it did not touch. */
export interface Document {
  readonly text: string;
  /** `\uFEFF` or nothing. Columns of the first line count behind it, as editors do. */
  readonly byteOrderMark: string;
  readonly blocks: readonly PlacedBlock[];
  /** As an editor counts: a text that ends with a line end has one more, empty line. */
  readonly lineCount: number;
  /** What a merge left in the text. */
  readonly conflicts: Conflicts;
  /** The block that holds the line; the last one for lines behind it; undefined in an empty document. */
  blockAt(line: number): PlacedBlock | undefined;
}

/**
 * Reads a text. Given the `previous` document, the blocks before and behind what changed are taken over unread, as the
 * same objects; only what the edit touched is read again.
 */
export function parseDocument(text: string, previous?: Document): Document {
  if (previous?.text === text) return previous;
  const byteOrderMark = text.startsWith('\uFEFF') ? '\uFEFF' : '';
  const former = previous?.blocks ?? [];
  const conflicts = findConflicts(text);
  // What a line is then depends on lines of other blocks, so no block is taken over for where it stands.
  if (conflicts !== noConflicts || (previous && previous.conflicts !== noConflicts))
    return withConflicts(text, byteOrderMark, former, conflicts);
  const front = matchFront(text, byteOrderMark.length, former);
  const back = matchBack(text, front.offset, former.slice(front.count));
  const touched = former.slice(front.count, former.length - back.count);
  const fresh = splitBlocks(text, front.offset, back.offset, touched);
  const kept = former.slice(former.length - back.count);
  return placeBlocks(text, byteOrderMark, [
    ...former.slice(0, front.count),
    ...placedAfter(fresh, former[front.count - 1]),
    ...kept,
  ]);
}

function withConflicts(
  text: string,
  byteOrderMark: string,
  former: readonly PlacedBlock[],
  conflicts: Conflicts,
): Document {
  const plain = former.filter(({ block }) => block.unread.size === 0);
  const unread = unreadLines(conflicts);
  const blocks = splitBlocks(text, byteOrderMark.length, text.length, plain, unread);
  return placeBlocks(text, byteOrderMark, placedAfter(blocks, undefined), conflicts);
}

/** The text again, byte for byte. */
export function printDocument(document: Document): string {
  return document.byteOrderMark + document.blocks.map(({ block }) => block.text).join('');
}

interface Match {
  readonly count: number;
  readonly offset: number;
}

function matchFront(text: string, start: number, blocks: readonly PlacedBlock[]): Match {
  let offset = start;
  let count = 0;
  for (const { block } of blocks) {
    const end = offset + block.text.length;
    if (!text.startsWith(block.text, offset) || !isBoundary(text, end)) break;
    offset = end;
    count++;
  }
  return { count, offset };
}

function matchBack(text: string, least: number, blocks: readonly PlacedBlock[]): Match {
  let offset = text.length;
  let count = 0;
  for (let index = blocks.length - 1; index >= 0; index--) {
    const { block } = blocks[index]!;
    const start = offset - block.text.length;
    if (start < least || !text.startsWith(block.text, start)) break;
    if (start > least && !isBoundary(text, start)) break;
    // The part before the first header can only stand at the front.
    if (!startsHeader(block.text, 0)) break;
    offset = start;
    count++;
  }
  return { count, offset };
}

/** Does one block end and another begin at `offset`, or the text end there? */
function isBoundary(text: string, offset: number): boolean {
  if (offset >= text.length) return true;
  const before = text.charCodeAt(offset - 1);
  return (before === 0x0a || before === 0x0d) && startsHeader(text, offset);
}

/** Blocks of `text` from `start` to `end`. Blocks among `former` with the same text are taken over, each once. */
function splitBlocks(
  text: string,
  start: number,
  end: number,
  former: readonly PlacedBlock[],
  unread?: ReadonlySet<number>,
): Block[] {
  const known = new Map(former.map(({ block }) => [block.text, block]));
  const blocks: Block[] = [];
  let blockStart = start;
  let lines = 0;
  let line = 0;
  const close = (at: number) => {
    if (at === blockStart) return;
    const blockText = text.slice(blockStart, at);
    const skipped = unread && within(unread, line - lines, line);
    const same = skipped ? undefined : known.get(blockText);
    if (same) known.delete(blockText);
    blocks.push(same ?? new Block(blockText, lines, skipped));
    blockStart = at;
    lines = 0;
  };
  for (let at = start; at < end; at = nextLine(text, at, end)) {
    if (startsHeader(text, at) && !unread?.has(line)) close(at);
    lines++;
    line++;
  }
  close(end);
  return blocks;
}

/** Those from `first` up to `end`, counted from `first`; undefined where there are none. */
function within(lines: ReadonlySet<number>, first: number, end: number): ReadonlySet<number> | undefined {
  const found = [...lines].filter((line) => line >= first && line < end).map((line) => line - first);
  return found.length > 0 ? new Set(found) : undefined;
}

function placedAfter(blocks: readonly Block[], before: PlacedBlock | undefined): PlacedBlock[] {
  let startLine = before ? before.startLine + before.block.lineCount : 0;
  return blocks.map((block) => {
    const placed = { block, startLine };
    startLine += block.lineCount;
    return placed;
  });
}

function placeBlocks(
  text: string,
  byteOrderMark: string,
  blocks: readonly PlacedBlock[],
  conflicts: Conflicts = noConflicts,
): Document {
  let startLine = 0;
  const placed = blocks.map((each) => {
    const now = each.startLine === startLine ? each : { block: each.block, startLine };
    startLine += each.block.lineCount;
    return now;
  });
  const endsOpen = text.length > byteOrderMark.length && !/[\r\n]$/.test(text.slice(-1));
  const lineCount = startLine + (endsOpen ? 0 : 1);
  const blockAt = (line: number): PlacedBlock | undefined => findBlock(placed, line);
  return { text, byteOrderMark, blocks: placed, lineCount, conflicts, blockAt };
}

function findBlock(blocks: readonly PlacedBlock[], line: number): PlacedBlock | undefined {
  let low = 0;
  let high = blocks.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (blocks[middle]!.startLine <= line) low = middle;
    else high = middle - 1;
  }
  return blocks[low];
}
