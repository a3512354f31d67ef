/** The demo campaign, which is invented, and the same with something changed in it. */
import { readFileSync, readdirSync } from 'node:fs';
import { compareCampaigns, type CompareOptions } from '../../src/difference/compareCampaigns.js';
import type { Difference } from '../../src/difference/difference.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { inMemory, MemoryFiles } from '../evaluation/memoryFiles.js';

export type Files = Readonly<Record<string, string>>;

const folder = new URL('../../examples/harrow-fen/', import.meta.url);
const read = (name: string): string => readFileSync(new URL(name, folder), 'utf8');

export const harrowFen: Files = Object.fromEntries(
  [
    'campaign.sweepbook',
    'array.sweepbook',
    'modules.sweepbook',
    ...readdirSync(new URL('sweeps/', folder)).map((name) => `sweeps/${name}`),
  ].map((name) => [name, read(name)]),
);

/** The files with `before` replaced by `after` in one of them; it must be there. */
export function edited(files: Files, name: string, before: string | RegExp, after: string): Files {
  const text = files[name]!.replace(before, after);
  if (text === files[name]) throw new Error(`${name} has no ${String(before)}`);
  return { ...files, [name]: text };
}

export function evaluated(files: Files, root = 'campaign.sweepbook'): Promise<Evaluation> {
  return new Workbook(new MemoryFiles(files)).evaluate(inMemory(root));
}

export async function difference(
  before: Files | Promise<Evaluation>,
  after: Files | Promise<Evaluation>,
  options?: CompareOptions,
): Promise<Difference> {
  const of = (given: Files | Promise<Evaluation>) => (given instanceof Promise ? given : evaluated(given));
  const [a, b] = await Promise.all([of(before), of(after)]);
  return compareCampaigns({ evaluation: a }, { evaluation: b }, options);
}

let demo: Promise<Evaluation> | undefined;
/** Evaluated once for all tests of a file. */
export const demoEvaluation = (): Promise<Evaluation> => (demo ??= evaluated(harrowFen));
