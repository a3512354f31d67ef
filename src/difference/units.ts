/** The blocks of a campaign as things that two campaigns may both have: a module type, a string, a sweep. */
import { blocksInReadingOrder } from '../campaign/campaignFile.js';
import { decodeBlock } from '../campaign/decodeBlock.js';
import type { Address, CampaignEntry, StringRecord } from '../campaign/model.js';
import type { Sources } from '../evaluation/evaluation.js';
import { Block } from '../syntax/block.js';
import { linesText, takeApart, type Part, type TakenApart } from './parts.js';

export interface Unit extends TakenApart {
  readonly file: string;
  readonly startLine: number;
  readonly block: Block;
  /** The word that the block begins with. */
  readonly kind: string;
  /** As it is called: `KF108M`, `1.03 at 2026-05-14 11:42`, the path of a table. */
  readonly name: string;
  /** Absent where the header cannot be read. */
  readonly entry?: CampaignEntry;
}

/** In reading order. Includes are no things of their own: what they bring in stands in their place. */
export function unitsOf({ root }: Sources): Unit[] {
  const units: Unit[] = [];
  for (const { file, block, startLine } of blocksInReadingOrder(root)) {
    const taken = takeApart(block);
    const { entry, include } = decodeBlock(block);
    if (taken && !include) units.push(unitOf(file, startLine, block, taken, entry));
  }
  return units;
}

function unitOf(
  file: string,
  startLine: number,
  block: Block,
  taken: TakenApart,
  entry: CampaignEntry | undefined,
): Unit {
  const kind = taken.header.lines[0]!.tokens[0]!.text;
  return { ...taken, file, startLine, block, kind, name: nameOf(entry, taken.header), entry };
}

function nameOf(entry: CampaignEntry | undefined, header: Part): string {
  if (!entry) return header.lines[0]!.text.trim();
  if ('name' in entry) return entry.name.text;
  if (entry.kind === 'sweeps') return entry.data.text;
  const time = 'time' in entry ? entry.time?.iso.slice(0, 16).replace('T', ' ') : undefined;
  return [entry.address?.text, time && `at ${time}`].filter((part) => part !== undefined).join(' ');
}

/** What the block speaks of: of a sweep, a replacement, a test, a note. */
export function addressOf({ entry }: Unit): Address | undefined {
  return entry && 'address' in entry ? entry.address : undefined;
}

export function isString(unit: Unit): unit is Unit & { readonly entry: StringRecord } {
  return unit.entry?.kind === 'string';
}

/** Each string of a run as a block of its own, with the lines of the run. */
export function splitRun(unit: Unit & { readonly entry: StringRecord }): Unit[] {
  const { entry, header, parts, file, startLine } = unit;
  const title = entry.title === undefined ? '' : ` "${entry.title.replaceAll('"', '""')}"`;
  return entry.names.map((name) => {
    const block = blockOf([{ ...header, lines: [] }, ...parts], `string ${name}${title}\n`);
    // The places are those of the run.
    const own = { header: { ...takeApart(block)!.header }, parts };
    return { ...unitOf(file, startLine, block, own, decodeBlock(block).entry), name };
  });
}

/** A block made of lines that stand elsewhere. */
export function blockOf(parts: readonly Part[], start = ''): Block {
  const text = start + parts.map(linesText).join('');
  return new Block(text, text.split('\n').length - 1);
}
