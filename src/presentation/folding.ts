/** What can be folded: blocks, tables of points inside them, runs of comment lines, runs of includes. */
import { isPointRow } from '../campaign/readPoints.js';
import type { Document, PlacedBlock } from '../syntax/document.js';

export interface FoldingRegion {
  readonly start: number;
  /** Last line that is hidden. */
  readonly end: number;
  readonly kind?: 'comment' | 'imports';
}

export function foldingRegions(document: Document): FoldingRegion[] {
  const regions = document.blocks.flatMap((placed) => [...blockRegions(placed), ...commentRegions(placed)]);
  regions.push(...includeRegions(document.blocks));
  return regions.sort((a, b) => a.start - b.start || b.end - a.end);
}

function blockRegions({ block, startLine }: PlacedBlock): FoldingRegion[] {
  const regions: FoldingRegion[] = [];
  const add = (from: number, to: number): void => {
    if (to > from) regions.push({ start: startLine + from, end: startLine + to });
  };
  if (block.header) add(0, block.endLine);
  const { lines } = block;
  for (let index = 1; index < lines.length; index++) {
    if (lines[index]!.tokens[0]?.text !== 'points') continue;
    let last = index;
    for (let row = index + 1; row < lines.length; row++) {
      if (isPointRow(lines[row]!)) last = row;
      else if (lines[row]!.tokens.length > 0) break;
    }
    add(index, last);
    index = last;
  }
  return regions;
}

/** Two or more lines of comment in a row. */
function commentRegions({ block, startLine }: PlacedBlock): FoldingRegion[] {
  const regions: FoldingRegion[] = [];
  let start = -1;
  const { lines } = block;
  for (let index = 0; index <= lines.length; index++) {
    const line = lines[index];
    const isComment = line?.comment !== undefined && line.tokens.length === 0;
    if (isComment && start < 0) start = index;
    if (isComment || start < 0) continue;
    if (index - start > 1)
      regions.push({ start: startLine + start, end: startLine + index - 1, kind: 'comment' });
    start = -1;
  }
  return regions;
}

function includeRegions(blocks: readonly PlacedBlock[]): FoldingRegion[] {
  const regions: FoldingRegion[] = [];
  let first: number | undefined;
  let last = 0;
  const close = (): void => {
    if (first !== undefined && last > first) regions.push({ start: first, end: last, kind: 'imports' });
    first = undefined;
  };
  for (const { block, startLine } of blocks) {
    if (block.header?.tokens[0]?.text === 'include') {
      first ??= startLine;
      last = startLine;
    } else close();
  }
  close();
  return regions;
}
