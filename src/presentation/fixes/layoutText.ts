/** Layout blocks as text, and read back by the notation itself, so that what is offered is what was tried. */
import { decodeBlock } from '../../campaign/decodeBlock.js';
import type { LayoutRecord } from '../../campaign/model.js';
import { parseDocument } from '../../syntax/document.js';
import { quotedText } from '../../syntax/quotedText.js';
import { readSweepTable } from '../../sweeps/readSweepTable.js';
import type { RecognisedColumn, RecognisedLayout } from '../../sweeps/recogniseLayout.js';
import type { SweepReading } from '../../sweeps/sweepReading.js';

export type LayoutLines = readonly (readonly [property: string, value: string])[];

export function layoutText(name: string, lines: LayoutLines): string[] {
  const width = Math.max(...lines.map(([property]) => property.length)) + 1;
  return [`layout ${name}`, ...lines.map(([property, value]) => `  ${property.padEnd(width)}${value}`)];
}

/** Undefined when the notation finds anything wrong with it. */
export function readLayout(lines: readonly string[]): LayoutRecord | undefined {
  const placed = parseDocument(`${lines.join('\n')}\n`).blocks.find(({ block }) => block.header);
  const decoded = placed && decodeBlock(placed.block);
  const isSound = decoded?.problems.every(({ severity }) => severity !== 'error');
  return isSound && decoded?.entry?.kind === 'layout' ? decoded.entry : undefined;
}

export interface Trial {
  readonly reading: SweepReading;
  /** Everything that was said of the table but what only informs. */
  readonly complaints: number;
}

/** Undefined where the table cannot be read so, or where its columns look exchanged. */
export function tryLayout(bytes: Uint8Array, layout: LayoutRecord | undefined): Trial | undefined {
  const { reading, problems } = readSweepTable(bytes, layout);
  if (!reading || problems.some(({ id, severity }) => severity === 'error' || id === 'sweep/swapped-columns'))
    return undefined;
  return { reading, complaints: problems.filter(({ severity }) => severity !== 'information').length };
}

const delimiterWords: Readonly<Record<string, string>> = {
  ',': 'comma',
  ';': 'semicolon',
  '\t': 'tab',
  '|': 'pipe',
  ' ': 'space',
};

/** How the table as a whole is written, as recognised. */
export function formLines({ delimiter, decimal }: RecognisedLayout): LayoutLines {
  return [
    ['delimiter', delimiterWords[delimiter]!],
    ['decimal', decimal === ',' ? 'comma' : 'point'],
  ];
}

/** Longer headers are sentences; the number of their column says more. */
const longestHeader = 100;

/** By its header where that is the only one of its text and can be written, else by its number. */
export function columnText(
  { header, number }: RecognisedColumn,
  all: readonly RecognisedColumn[],
  unit = '',
): string {
  const isAlone = header !== undefined && all.filter((each) => each.header === header).length === 1;
  const quoted = isAlone && header.length <= longestHeader ? quotedText(header) : undefined;
  const name = quoted ?? `column ${number}`;
  return unit === '' ? name : `${name} ${unit}`;
}
