/** Random damage to the example campaign: whatever is written, the evaluation answers, and says what it says within the text. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { toResult } from '../../src/presentation/resultSchema.js';
import { inMemory, MemoryFiles } from './memoryFiles.js';

const folder = new URL('../../examples/harrow-fen/', import.meta.url);
const example = (name: string): string => readFileSync(new URL(name, folder), 'utf8');
const root = inMemory('campaign.sweepbook');

/** One file holds all; a few sweeps are enough, one of each kind. */
const modules = example('modules.sweepbook');
const array = example('array.sweepbook');
const campaign = example('campaign.sweepbook');
const sweepsKept = [
  '1.03 at 2026-05-14 11:42',
  '1.05 at 2026-05-14 11:57',
  '1.03/1-9',
  '2.04 at 2026-05-14 14:16',
];
const blocks = campaign.replaceAll(/^include.*$/gm, '').split(/\n(?=\S)/);
const kept = blocks.filter(
  (block) => !block.startsWith('sweep ') || sweepsKept.some((each) => block.startsWith(`sweep ${each}`)),
);
const inline = (points: number): string =>
  [
    'sweep 1.06 at 2026-05-14 12:10',
    '  irradiance 826 W/m2',
    '  temperature 45.3 degC cell',
    '  points V, A',
    // An invented curve, straight and falling.
    ...Array.from(
      { length: points },
      (_, k) => `    ${k * 40} ${(11 * Math.sqrt(1 - k / points)).toFixed(2)}`,
    ),
    '',
  ].join('\n');
const text = [modules, array, ...kept, inline(17)].join('\n');
const csvNames = [...text.matchAll(/"(sweeps\/[^"]+\.csv)"/g)].map(([, name]) => name!);
const csvs = Object.fromEntries(csvNames.map((name) => [name, example(name)]));

const lines = text.split('\n');
const words = [
  'sweep',
  'sweeps from',
  'include "campaign.sweepbook"',
  'module KF108M',
  '±',
  '..',
  '-5 %',
  '1e309',
  '-0',
  '"',
  '#',
  '\t',
  '\r',
  '\u0000',
  '€',
  '𝔾',
  '   ',
  '700 W/m2',
  '12:99',
  'points V, A',
  '1.03/0',
  '99999999999999999999',
  'void ""',
  'NaN',
  'at 2026-02-30',
];

const lineAt = fc.nat(lines.length - 1);
type Edit = (now: string[]) => string[];
const edit: fc.Arbitrary<Edit> = fc.oneof(
  lineAt.map(
    (k): Edit =>
      (now) =>
        now.filter((_, index) => index !== k % now.length),
  ),
  fc.tuple(lineAt, lineAt).map(([k, l]): Edit => (now) => {
    const next = [...now];
    next.splice(l % now.length, 0, now[k % now.length]!);
    return next;
  }),
  fc.tuple(lineAt, fc.nat(60), fc.constantFrom(...words)).map(([k, column, word]): Edit => (now) => {
    const next = [...now];
    const line = next[k % now.length]!;
    const at = column % (line.length + 1);
    next[k % now.length] = line.slice(0, at) + word + line.slice(at);
    return next;
  }),
  fc.tuple(lineAt, fc.nat(60), fc.nat(6)).map(([k, column, count]): Edit => (now) => {
    const next = [...now];
    const line = next[k % now.length]!;
    const at = column % (line.length + 1);
    next[k % now.length] = line.slice(0, at) + line.slice(at + count);
    return next;
  }),
  fc.tuple(lineAt, fc.string({ maxLength: 20, unit: 'binary' })).map(([k, junk]): Edit => (now) => {
    const next = [...now];
    next[k % now.length] = junk;
    return next;
  }),
);
const apply = (edits: readonly Edit[]): string =>
  edits.reduce((now, each) => (now.length === 0 ? now : each(now)), lines).join('\n');

const result = (evaluation: Evaluation): string =>
  JSON.stringify(toResult(evaluation, (file) => file.replace('/w/', ''), 'test'));

function expectSound(evaluation: Evaluation, current: string): void {
  const now = current.split(/\r\n|\r|\n/);
  for (const { file, range, message, id } of evaluation.problems) {
    expect(message, id).toMatch(/\S/);
    expect(message).not.toMatch(/undefined|\[object|NaN V|NaN A/);
    if (file !== root) continue;
    expect(range.start.line).toBeGreaterThanOrEqual(0);
    expect(range.end.line, `${id}: ${message}`).toBeLessThan(now.length);
    expect(range.start.character, id).toBeLessThanOrEqual(now[range.start.line]!.length);
    expect(range.end.character, `${id} ${message}`).toBeLessThanOrEqual(now[range.end.line]!.length);
  }
  for (const { analysis } of evaluation.sweeps) expect(analysis.reasons.length).toBeGreaterThan(0);
}

describe('random edits of the example campaign', () => {
  it('never throw, and every problem lies within the text', async () => {
    const files = new MemoryFiles({ ...csvs, 'campaign.sweepbook': text });
    await fc.assert(
      fc.asyncProperty(fc.array(edit, { minLength: 1, maxLength: 6 }), async (edits) => {
        const current = apply(edits);
        const workbook = new Workbook(files);
        workbook.setText(root, current);
        expectSound(await workbook.evaluate(root), current);
      }),
      { numRuns: 60 },
    );
  });

  it('give step by step what a fresh evaluation gives', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(edit, { minLength: 1, maxLength: 6 }), async (edits) => {
        const files = new MemoryFiles({ ...csvs, 'campaign.sweepbook': text });
        const kept = new Workbook(files);
        await kept.evaluate(root);
        for (let k = 1; k <= edits.length; k++) {
          const current = apply(edits.slice(0, k));
          kept.setText(root, current);
          const fresh = new Workbook(files);
          fresh.setText(root, current);
          expect(result(await kept.evaluate(root))).toBe(result(await fresh.evaluate(root)));
        }
      }),
      { numRuns: 12 },
    );
  });

  it('a problem of inline points stands within the text too', async () => {
    for (const points of [inline(3), inline(17).replaceAll(/^    (\S+) \S+$/gm, '    $1 0')]) {
      const current = [modules, array, points.trimEnd()].join('\n');
      const evaluation = await new Workbook(new MemoryFiles({ 'campaign.sweepbook': current })).evaluate(
        root,
      );
      expect(evaluation.problems.some(({ id }) => id !== 'criteria/missing')).toBe(true);
      expectSound(evaluation, current);
    }
  });

  it('of the tables: the same', async () => {
    const damage = fc.tuple(
      fc.constantFrom(...csvNames),
      fc.nat(),
      fc.oneof(
        fc.constantFrom('', '\n', ';;;', '\uFEFF', '"', '1e308', '-', 'V', '\u0000'),
        fc.string({ maxLength: 8 }),
      ),
      fc.nat(400),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(damage, { minLength: 1, maxLength: 4 }), async (damages) => {
        const files = new MemoryFiles({ ...csvs, 'campaign.sweepbook': text });
        const kept = new Workbook(files);
        await kept.evaluate(root);
        const now: Record<string, string> = { ...csvs };
        for (const [name, at, put, cut] of damages) {
          const table = now[name]!;
          const place = at % (table.length + 1);
          now[name] = table.slice(0, place) + put + table.slice(place + cut);
          files.write(name, now[name]!);
          kept.fileChanged(inMemory(name));
        }
        const evaluation = await kept.evaluate(root);
        expectSound(evaluation, text);
        expect(result(evaluation)).toBe(result(await new Workbook(files).evaluate(root)));
      }),
      { numRuns: 30 },
    );
  });

  it('with other line ends: the same results', async () => {
    const plain = await new Workbook(new MemoryFiles({ ...csvs, 'campaign.sweepbook': text })).evaluate(root);
    const windows = Object.fromEntries(
      Object.entries(csvs).map(([name, csv]) => [name, csv.replaceAll(/\r?\n/g, '\r\n')]),
    );
    const other = new MemoryFiles({
      ...windows,
      'campaign.sweepbook': `\uFEFF${text.replaceAll('\n', '\r\n')}`,
    });
    expect(result(await new Workbook(other).evaluate(root))).toBe(result(plain));
    expect(plain.problems.filter(({ severity }) => severity === 'error')).toEqual([]);
  });
});
