/**
 * Campaigns and tables that are not what they seem, each by its name: one clear problem at its place, all else is computed, nothing
 * crashes. How links, devices and pipes are met stands in tests/cli/hostileFiles.test.ts.
 */
import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { beyondRows, mostRows } from '../../src/evaluation/rowsLimit.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { previewModel } from '../../src/presentation/previewModel.js';
import { toResult } from '../../src/presentation/resultSchema.js';
import { sweepsLimit } from '../../src/sweeps/readManySweeps.js';
import { csvOf, curveAt, moduleBlock, wideCriteria } from '../analysis/cecCampaign.js';
import { inMemory, MemoryFiles } from '../evaluation/memoryFiles.js';

const at = { irradiance: 850, cellTemperature: 48 };
const table = csvOf(curveAt('row 4', at, { series: 2, points: 60 }));
const sweep = `sweep S at 2026-05-14 11:42
  irradiance 850 W/m2
  temperature 48 degC cell
  data "s.csv"
`;
const sound = `campaign c "A campaign"\n${moduleBlock('row 4')}\nstring S\n  modules 2 x M\n${wideCriteria}${sweep}`;

type Files = Readonly<Record<string, string | Uint8Array>>;

const evaluated = (files: Files): Promise<Evaluation> =>
  new Workbook(new MemoryFiles({ 's.csv': table, ...files })).evaluate(inMemory('c.sweepbook'));

/** How often each kind of problem was found; none of them repeats a file to its reader. */
function problemsOf({ problems }: Evaluation): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const { id, message } of problems) {
    expect(message.length, id).toBeLessThan(1000);
    counts[id] = (counts[id] ?? 0) + 1;
  }
  return counts;
}

/** The sweep of the sound campaign is judged whatever stands around it. */
async function expectJudged(files: Files, problems: Readonly<Record<string, number>>): Promise<void> {
  const evaluation = await evaluated(files);
  expect(problemsOf(evaluation)).toEqual(problems);
  expect(evaluation.counts.pass).toBe(1);
}

describe('a campaign file with', () => {
  it.each<[string, () => string, Record<string, number>]>([
    ['a line of a million characters', () => `note S "${'x'.repeat(1_000_000)}"`, {}],
    ['a word of a million characters', () => 'x'.repeat(1_000_000), { 'syntax/unknown-block': 1 }],
    ['a million blank lines', () => '\n'.repeat(1_000_000), {}],
    ['a quote that is never closed', () => 'note S "open\nnote S "closed"', { 'syntax/unclosed-quote': 1 }],
    ['a million quotes in a line', () => `note S ${'"'.repeat(1_000_001)}`, { 'syntax/unclosed-quote': 1 }],
    ['200,000 words in a line', () => `note S ${'x '.repeat(200_000)}`, { 'value/quotes-missing': 1 }],
    [
      'a block of an unknown kind and 200,000 words',
      () => 'x '.repeat(200_000),
      { 'syntax/unknown-block': 1 },
    ],
    [
      'a run of a hundred million strings',
      () => 'string 1.01 .. 1.99999999\n  modules 2 x M',
      { 'string/run': 1 },
    ],
    ['modules 1e9 x M', () => 'string T\n  modules 1e9 x M', { 'string/modules': 1 }],
    [
      'a position far beyond its string',
      () => 'replace S/999999 at 2026-05-14 13:10',
      { 'address/beyond-string': 1 },
    ],
    ['the year 999999', () => 'note S at 999999-01-01 00:00 "x"', { 'time/malformed': 1 }],
    ['a zero byte in a note', () => 'note S "a\0b"', { 'syntax/stray-character': 1 }],
    ['letters in another order', () => 'note S "\u202etxet"', { 'syntax/stray-character': 1 }],
    ['half of a pair of code units', () => 'note S "\ud800"', {}],
    ['100,000 notes', () => Array.from({ length: 100_000 }, (_, k) => `note S "${k}"`).join('\n'), {}],
  ])('%s', async (_name, more, problems) => {
    await expectJudged({ 'c.sweepbook': `${sound}\n${more()}\n` }, problems);
  });

  it('the bytes of UTF-16 without a mark: it is no text', async () => {
    const bytes = new Uint8Array(Buffer.from(sound, 'utf16le'));
    expect(problemsOf(await evaluated({ 'c.sweepbook': bytes }))).toEqual({ 'file/unreadable': 1 });
  });

  it('more than 16 MB', async () => {
    const text = `${sound}${'# x\n'.repeat(5_000_000)}`;
    expect(problemsOf(await evaluated({ 'c.sweepbook': text }))).toEqual({ 'file/unreadable': 1 });
  });

  it.each(['1e308', '1e-320', 'NaN', 'Infinity', '-0', '9'.repeat(400), '1e999999999', '0x10', '٣'])(
    'a number like %.20s in each place: what comes out is a number or nothing',
    async (number) => {
      for (const [from, to] of [
        ['irradiance 850', `irradiance ${number}`],
        ['temperature 48', `temperature ${number}`],
        ['modules 2 x', `modules ${number} x`],
        ['Pmax -5 %', `Pmax ${number} %`],
        [/Voc [\d.]+/, `Voc ${number}`],
        [/beta \S+/, `beta ${number}`],
      ] as const) {
        const evaluation = await evaluated({ 'c.sweepbook': sound.replace(from, to) });
        const problems = Object.values(problemsOf(evaluation)).reduce((sum, count) => sum + count, 0);
        expect(problems, to.slice(0, 30)).toBeLessThanOrEqual(1);
        expectFinite(toResult(evaluation, (file) => file, '0'));
      }
    },
  );
});

function expectFinite(value: unknown): void {
  if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true);
  else if (typeof value === 'object' && value !== null) Object.values(value).forEach(expectFinite);
}

describe('includes that', () => {
  it.each<[string, Files, Record<string, number>]>([
    [
      'lead back to the file itself',
      { 'c.sweepbook': `include "c.sweepbook"\n${sound}` },
      { 'include/cycle': 1 },
    ],
    [
      'lead back through another file',
      { 'c.sweepbook': `include "b.sweepbook"\n${sound}`, 'b.sweepbook': 'include "c.sweepbook"\n' },
      { 'include/cycle': 1 },
    ],
    [
      'meet again in one file',
      {
        'c.sweepbook': `include "a.sweepbook"\ninclude "b.sweepbook"\n${sound}`,
        'a.sweepbook': 'include "d.sweepbook"\n',
        'b.sweepbook': 'include "d.sweepbook"\n',
        'd.sweepbook': 'tracer T\n  voltage ± 0.5 %\n',
      },
      {},
    ],
    [
      'are nested a hundred deep',
      {
        'c.sweepbook': `include "0.sweepbook"\n${sound}`,
        ...Object.fromEntries(
          Array.from({ length: 100 }, (_, k) => [`${k}.sweepbook`, `include "${k + 1}.sweepbook"\n`]),
        ),
      },
      { 'include/too-deep': 1 },
    ],
    [
      'are ten thousand in one file',
      {
        'c.sweepbook': `${Array.from({ length: 10_000 }, (_, k) => `include "${k}.sweepbook"`).join('\n')}\n${sound}`,
        ...Object.fromEntries(Array.from({ length: 10_000 }, (_, k) => [`${k}.sweepbook`, `# ${k}\n`])),
      },
      {},
    ],
  ])('%s', (_name, files, problems) => expectJudged(files, problems));
});

describe.each(['__proto__', 'constructor', 'toString', 'hasOwnProperty'])('the name %s', (name) => {
  it('of a campaign, a module, a string, criteria and a tracer is a name as any', async () => {
    const named = sound
      .replace('campaign c', `campaign ${name}`)
      .replace('module M', `module ${name}`)
      .replace('string S', `string ${name}`)
      .replace('2 x M', `2 x ${name}`)
      .replace('criteria c', `criteria ${name}`)
      .replace('sweep S', `sweep ${name}`);
    const text = `${named}  with ${name}\ntracer ${name}\n  voltage ± 0.5 %\n`;
    await expectJudged({ 'c.sweepbook': text }, {});
  });

  it('that nothing has is unknown, as a block, a property and a reference', async () => {
    await expectJudged(
      { 'c.sweepbook': `${sound}  ${name} 3\n${name}\n` },
      { 'property/unknown': 1, 'syntax/unknown-block': 1 },
    );
    const referring = `${sound}  with ${name}\n  layout ${name}\nstring X\n  modules 2 x ${name}\n`;
    expect(problemsOf(await evaluated({ 'c.sweepbook': referring }))).toEqual({ 'name/unknown': 3 });
  });

  it('of a column is no column of a curve', async () => {
    const csv = `${name},x\n1,2\n2,1\n3,0\n`;
    const evaluation = await evaluated({ 'c.sweepbook': sound, 's.csv': csv });
    expect(problemsOf(evaluation)).toEqual({ 'sweep/no-voltage-column': 1 });
  });
});

describe('a table that is', () => {
  const head = 'V (V),I (A)\n';
  it.each<[string, () => string | Uint8Array, string]>([
    ['one line of 30 MB', () => '1,2,'.repeat(7_500_000), 'sweep/line-too-long'],
    ['a million columns wide', () => `${head}${'1,'.repeat(1_000_000)}\n`, 'sweep/line-too-long'],
    ['a million empty rows', () => `${head}${'\n'.repeat(1_000_000)}`, 'sweep/no-data'],
    ['a million rows of commas', () => `${head}${',\n'.repeat(1_000_000)}`, 'sweep/no-data'],
    ['a million points at one place', () => `${head}${'1,2\n'.repeat(1_000_000)}`, 'sweep/voltage-constant'],
    [
      'a megabyte behind a quote that is never closed',
      () => `${head}"${'1,2\n'.repeat(250_000)}`,
      'sweep/broken-quote',
    ],
    ['a million quotes', () => `${head}${'"'.repeat(1_000_000)}`, 'sweep/line-too-long'],
    ['packed with gzip', () => gzipSync(table), 'sweep/binary-file'],
    [
      'fifty megabytes of zeros packed with gzip',
      () => gzipSync(new Uint8Array(50_000_000)),
      'sweep/binary-file',
    ],
    ['twenty megabytes of zeros', () => new Uint8Array(20_000_000), 'sweep/binary-file'],
    ['UTF-16 without a mark', () => new Uint8Array(Buffer.from(table, 'utf16le')), 'sweep/binary-file'],
    ['larger than 32 MB', () => '1,2\n'.repeat(9_000_000), 'data/too-large'],
    [
      'of numbers without end',
      () => `${head}1e308,1e308\nNaN,Infinity\n${'9'.repeat(400)},1\n1,2\n`,
      'sweep/too-few-points',
    ],
  ])('%s', async (_name, content, id) => {
    const evaluation = await evaluated({ 'c.sweepbook': sound, 's.csv': content() });
    expect(Object.keys(problemsOf(evaluation))).toContain(id);
    expect(evaluation.problems.length).toBeLessThanOrEqual(2);
    expect(evaluation.sweeps[0]!.analysis.verdict).toBe('not judged');
  });

  it.each<[string, () => string | Uint8Array]>([
    [
      'of mixed line ends',
      () => table.split('\n').reduce((text, row, k) => text + row + ['\n', '\r\n', '\r'][k % 3]!, ''),
    ],
    ['UTF-16 with a mark', () => new Uint8Array(Buffer.from(`\ufeff${table}`, 'utf16le'))],
  ])('%s is read', (_name, content) => expectJudged({ 'c.sweepbook': sound, 's.csv': content() }, {}));

  it.each<[string, number, number]>([
    ['denormals as voltages', 1e-310, 1],
    ['denormals as currents', 1, 1e-310],
    ['the least number there is, over and over', 5e-324, 5e-324],
    ['voltages of 1e300', 1e299, 1],
    ['currents of 1e300', 1, 1e299],
    ['powers beyond the largest number', 1e160, 1e160],
  ])('of %s gives no verdict and no number that is none', async (_name, volts, amperes) => {
    const scaled = table
      .split('\n')
      .map((row) => {
        const [voltage, current, ...more] = row.split(',').map(Number);
        if (current === undefined || more.length > 0 || Number.isNaN(voltage! + current)) return row;
        return `${voltage! * volts},${current * amperes}`;
      })
      .join('\n');
    expect(scaled).not.toBe(table);
    const evaluation = await evaluated({ 'c.sweepbook': sound, 's.csv': scaled });
    expect(evaluation.counts.pass).toBe(0);
    expectFinite(toResult(evaluation, (file) => file, '0', { withFit: true }));
    expect(previewModel(evaluation, evaluation.sweeps[0]!.id)?.charts).toBeDefined();
  });

  it('small and holds more sweeps than any is refused by one message', async () => {
    const rows = Array.from({ length: sweepsLimit + 1 }, (_, index) => `${index},0,9`);
    const block = 'sweeps from "s.csv"\n  address "id"\n  voltage "V (V)"\n  current "I (A)"\n';
    const evaluation = await evaluated({
      'c.sweepbook': sound.replace(sweep, block),
      's.csv': `id,V (V),I (A)\n${rows.join('\n')}\n`,
    });
    expect(problemsOf(evaluation)).toMatchObject({ 'sweep/too-many-sweeps': 1 });
    expect(evaluation.sweeps).toEqual([]);
  });

  it('named by fifty sweeps is read from the disk once', async () => {
    const sweeps = Array.from({ length: 50 }, (_, minute) => sweep.replace(':42', `:${10 + minute}`));
    const files = new MemoryFiles({ 'c.sweepbook': sound.replace(sweep, sweeps.join('')), 's.csv': table });
    const { counts } = await new Workbook(files).evaluate(inMemory('c.sweepbook'));
    expect(counts.pass).toBe(50);
    expect(files.reads.filter((file) => file === inMemory('s.csv'))).toHaveLength(1);
  });

  describe('of 20,000 rows and named by a thousand sweeps', () => {
    const long = `V (V),I (A)\n${'1,2\n'.repeat(19_999)}`;
    const naming = (file: string, minute: number): string =>
      sweep
        .replace('11:42', `${12 + Math.floor(minute / 60)}:${String(minute % 60).padStart(2, '0')}`)
        .replace('s.csv', file);
    const thousand = Array.from({ length: 1_000 }, (_, at) => naming('long.csv', at % 600)).join('');
    const points = table
      .split('\n')
      .slice(1)
      .map((row) => `    ${row.replace(',', ' ')}`);
    const inline = `${sweep.replace(/ {2}data.*\n/, '')}  points V, A\n${points.join('\n')}\n`;
    const files = { 's.csv': table, 'long.csv': long };
    const place = sound.split('\n').length - 1;

    it('is computed for half of them, and one problem tells where that ends', async () => {
      const text = `${sound}${thousand}${naming('s.csv', 0)}sweeps from "s.csv"\n${inline}`;
      const { problems, sweeps, counts } = await evaluated({ ...files, 'c.sweepbook': text });
      const said = problems.filter(({ id }) => id === 'data/too-many-rows');
      expect(said).toMatchObject([{ severity: 'error', range: { start: { line: place + 499 * 4 + 3 } } }]);
      expect(said[0]!.message).toContain(`more than ${mostRows / 1e6} million rows`);
      expect(problems.filter(({ id }) => id === 'sweep/voltage-constant')).toHaveLength(499);
      const without = sweeps.filter(({ analysis }) =>
        analysis.reasons.some(({ text }) => text === beyondRows),
      );
      expect(without).toEqual(sweeps.slice(500, 1_002));
      expect(without.every(({ analysis }) => analysis.verdict === 'not judged')).toBe(true);
      // The first, which stands before, and the last, which names no table.
      expect(counts.pass).toBe(2);
    });

    it('is computed as before once fewer name it, and left out again', async () => {
      const workbook = new Workbook(new MemoryFiles(files));
      const few = `${sound}${naming('long.csv', 0).repeat(3)}${naming('s.csv', 1)}`;
      const many = `${sound}${thousand}${naming('s.csv', 1)}`;
      for (const [text, pass] of [
        [few, 2],
        [many, 1],
        [few, 2],
      ] as const) {
        workbook.setText(inMemory('c.sweepbook'), text);
        expect((await workbook.evaluate(inMemory('c.sweepbook'))).counts.pass).toBe(pass);
      }
    });

    it('counts for the sweeps of other files, which stay where they are', async () => {
      const workbook = new Workbook(new MemoryFiles({ ...files, 'last.sweepbook': naming('s.csv', 2) }));
      const withFew = (count: number): string =>
        `${sound}${naming('long.csv', 0).repeat(count)}include "last.sweepbook"\n`;
      for (const [count, pass] of [
        [2, 2],
        [500, 1],
        [2, 2],
      ] as const) {
        workbook.setText(inMemory('c.sweepbook'), withFew(count));
        expect((await workbook.evaluate(inMemory('c.sweepbook'))).counts.pass).toBe(pass);
      }
    });
  });

  it('a sweep of 200,000 points is judged and drawn', async () => {
    const csv = csvOf(curveAt('row 4', at, { series: 2, points: 200_000 }));
    const evaluation = await evaluated({ 'c.sweepbook': sound, 's.csv': csv });
    expect(evaluation.counts.pass).toBe(1);
    expect(previewModel(evaluation, evaluation.sweeps[0]!.id)?.charts).toBeDefined();
  });
});

it('whatever stands in the lines of a layout and of its table, the evaluation answers', async () => {
  const words = fc.constantFrom(
    '1e308',
    '"',
    '""',
    '__proto__',
    '\u202e',
    '-1',
    '999999',
    'tab',
    'V',
    '"V (V)"',
    '±',
    '..',
  );
  const property = fc.constantFrom(
    'delimiter',
    'decimal',
    'skip',
    'header',
    'voltage',
    'current',
    'sign',
    'irradiance',
  );
  const line = fc
    .tuple(property, fc.array(words, { maxLength: 3 }))
    .map(([name, rest]) => `  ${name} ${rest.join(' ')}`);
  const row = fc.array(fc.constantFrom('1', '-1e308', '1,5', '"', 'NaN', '', 'V', '\0'), { maxLength: 4 });
  await fc.assert(
    fc.asyncProperty(
      fc.array(line, { maxLength: 6 }),
      fc.array(row, { maxLength: 12 }),
      async (lines, rows) => {
        const text = `${sound}  layout L\nlayout L\n${lines.join('\n')}\n`;
        const csv = rows.map((each) => each.join(';')).join('\n');
        const evaluation = await evaluated({ 'c.sweepbook': text, 's.csv': csv });
        problemsOf(evaluation);
        expectFinite(toResult(evaluation, (file) => file, '0'));
      },
    ),
    { numRuns: 60 },
  );
});
