import type { Block } from '../syntax/block.js';
import type { Document } from '../syntax/document.js';
import type { Range } from '../text/place.js';
import { shiftRange } from '../text/place.js';
import { decodeBlock } from './decodeBlock.js';

export interface IncludeLine {
  /** As written, relative to the file. */
  readonly path: string;
  /** Of the path, quotes included, in lines of the document. */
  readonly range: Range;
}

/** What a document pulls in, in the order of its lines. */
export function includesOf(document: Document): readonly IncludeLine[] {
  const includes: IncludeLine[] = [];
  for (const { block, startLine } of document.blocks) {
    const include = block.text.startsWith('include') ? decodeBlock(block).include : undefined;
    if (include) includes.push({ path: include.text, range: shiftRange(include.range, startLine) });
  }
  return includes;
}

/**
 * A file of a campaign with what it includes: one entry for each of `includesOf(document)`, in that order. Who loads the
 * files reports what could not be had; `unavailable` then keeps the names it may have given from being called unknown.
 */
export interface CampaignFile {
  readonly file: string;
  readonly document: Document;
  readonly includes: readonly (CampaignFile | 'unavailable' | 'already-read')[];
}

export interface BlockOfFile {
  readonly file: string;
  readonly block: Block;
  /** Line of the file, from 0, where the block begins. */
  readonly startLine: number;
}

/** Every block of a campaign; those of an included file stand behind the line that includes it. */
export const blocksInReadingOrder = (root: CampaignFile): Generator<BlockOfFile> =>
  inOrderOfIncludes(
    root,
    ({ file, document }) => document.blocks.map(({ block, startLine }) => ({ file, block, startLine })),
    ({ block }) => decodeBlock(block).include !== undefined,
  );

/**
 * What stands for the blocks of a campaign, in reading order.
 * @param blocksOf one for each block of a file, in their order; `isInclude` tells those that include a file
 */
export function* inOrderOfIncludes<Each>(
  root: CampaignFile,
  blocksOf: (file: CampaignFile) => readonly Each[],
  isInclude: (each: Each) => boolean,
): Generator<Each> {
  let include = 0;
  for (const each of blocksOf(root)) {
    yield each;
    if (!isInclude(each)) continue;
    const included = root.includes[include++];
    if (included && typeof included !== 'string') yield* inOrderOfIncludes(included, blocksOf, isInclude);
  }
}

/** The file and all that it includes, in reading order, each once. */
export function filesOf(root: CampaignFile): CampaignFile[] {
  return [
    root,
    ...root.includes.flatMap((included) => (typeof included === 'string' ? [] : filesOf(included))),
  ];
}
