/** A block taken apart into its header and its properties, so that two blocks can be compared, and mixed, line by line. */
import { findProperty, type PropertyKeyword } from '../campaign/keywords.js';
import { isPointRow } from '../campaign/readPoints.js';
import type { Block } from '../syntax/block.js';
import type { Line } from '../syntax/token.js';

export interface Part {
  /** `header`, `beta`, or `note 2` for the second of a kind. */
  readonly key: string;
  readonly property?: PropertyKeyword | undefined;
  /** Its line, and the rows of points under it. Comments and blank lines belong to no part. */
  readonly lines: readonly Line[];
}

export interface TakenApart {
  readonly header: Part;
  readonly parts: readonly Part[];
}

/** The same block gives the very same answer; undefined where it has no header. */
export function takeApart(block: Block): TakenApart | undefined {
  return block.derive(parted);
}

function parted(block: Block): TakenApart | undefined {
  const { header } = block;
  const keyword = header?.tokens[0]?.text;
  if (!header || keyword === undefined) return undefined;
  const parts: { key: string; property?: PropertyKeyword | undefined; lines: Line[] }[] = [];
  const counts = new Map<string, number>();
  for (const line of block.lines.slice(1)) {
    if (line.tokens.length === 0) continue;
    const above = parts.at(-1);
    if (above && isPointRow(line)) {
      above.lines.push(line);
      continue;
    }
    const name = line.tokens[0]!.text;
    const count = (counts.get(name) ?? 0) + 1;
    counts.set(name, count);
    const key = count === 1 ? name : `${name} ${count}`;
    parts.push({ key, property: findProperty(keyword, name), lines: [line] });
  }
  return { header: { key: 'header', lines: [header] }, parts };
}

/** What is written, without the name of the property and without comments; one space between words. */
export function valueText({ key, lines }: Part): string {
  const [first, ...rows] = lines;
  const tokens = key === 'header' ? first!.tokens : first!.tokens.slice(1);
  const text = tokens.length === 0 ? '' : first!.text.slice(tokens[0]!.start, tokens.at(-1)!.end);
  const spaced = text.replace(/\s+/g, ' ');
  return rows.length === 0 ? spaced : `${spaced} (${rows.length} points)`;
}

/** Words and their kinds, by which two parts are the same whatever their spaces and comments. */
export function writtenWords({ lines }: Part): string {
  return JSON.stringify(lines.map(({ tokens }) => tokens.map(({ kind, text }) => [kind, text])));
}

/** The lines as they stand, each with a line end. */
export function linesText({ lines }: Part): string {
  return lines.map(({ text }) => `${text}\n`).join('');
}
