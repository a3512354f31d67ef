import fc from 'fast-check';
import papaparse from 'papaparse/papaparse.js';
import { parquetReadObjects } from 'hyparquet';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { integer, moment, number, text, yesNo, type Table } from '../../src/export/exportTable.js';
import { exportTables } from '../../src/export/tables.js';
import { tablesDocument } from '../../src/export/tablesDocument.js';
import { csvViews, parquetViews } from '../../src/export/views.js';
import { toCsv } from '../../src/export/writeCsv.js';
import { toParquet } from '../../src/export/writeParquet.js';

interface Sample {
  readonly words?: string | undefined;
  readonly value?: number | undefined;
  readonly count?: number | undefined;
  readonly flag?: boolean | undefined;
  readonly when?: number | undefined;
}

const table: Table<Sample> = {
  name: 'sample',
  meaning: '',
  key: ['words'],
  columns: [
    text('words', '', ({ words }) => words),
    number('value', '', '', ({ value }) => value),
    integer('count', '', '', ({ count }) => count),
    yesNo('flag', '', ({ flag }) => flag),
    moment('when', '', ({ when }) => when),
  ],
};

const maybe = <T>(arbitrary: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> =>
  fc.option(arbitrary, { nil: undefined });
const words = fc.oneof(
  fc.string({ unit: 'grapheme' }),
  fc.string({
    unit: fc.constantFrom('=', '+', '-', '@', '\t', '\r', '\n', '"', "'", ',', ';', 'ü', ' ', '1'),
  }),
);
const samples = fc.array(
  fc.record({
    words: maybe(words),
    value: maybe(fc.double()),
    count: maybe(fc.integer()),
    flag: maybe(fc.boolean()),
    when: maybe(fc.integer({ min: 0, max: 4e12 })),
  }),
  { maxLength: 20 },
);

/** What UTF-8 can hold: half a surrogate pair becomes the mark for what cannot be shown. */
const asUtf8 = (value: string): string =>
  new TextDecoder('utf-8', { ignoreBOM: true }).decode(new TextEncoder().encode(value));

const known = (value: number | undefined): number | null =>
  value === undefined || !Number.isFinite(value) ? null : value + 0;

describe('CSV', () => {
  it('gives back every value, and no cell that a spreadsheet would compute', () => {
    fc.assert(
      fc.property(samples, (rows) => {
        const csv = new TextDecoder('utf-8', { ignoreBOM: true }).decode(toCsv(table, rows));
        const { data } = papaparse.parse(csv, { delimiter: ',', newline: '\n', fastMode: false });
        expect(data[0]).toEqual(['words', 'value', 'count', 'flag', 'when']);
        const body = data.slice(1, rows.length + 1);
        rows.forEach((row, index) => {
          const [own, value, count, flag, when] = body[index]!;
          expect(own).not.toMatch(/^[=+\-@\t\r\n]|[;\t\r\n]"*[=+\-@]/);
          // Nothing but apostrophes is put in.
          expect(own!.replaceAll("'", '')).toBe((row.words ?? '').replaceAll("'", ''));
          expect(value === '' ? null : Number(value)).toBe(known(row.value));
          expect(count).toBe(row.count === undefined ? '' : String(row.count));
          expect(flag).toBe(row.flag === undefined ? '' : String(row.flag));
          expect(when === '' ? undefined : Date.parse(when!)).toBe(row.when);
        });
      }),
    );
  });

  it('holds no formula either for a spreadsheet that is set to semicolons or tabs', () => {
    fc.assert(
      fc.property(fc.constantFrom(';', '\t'), samples, (delimiter, rows) => {
        const csv = new TextDecoder('utf-8', { ignoreBOM: true }).decode(toCsv(table, rows));
        const { data } = papaparse.parse(csv, { delimiter, newline: '\n', fastMode: false });
        for (const cell of data.flat()) expect(cell).not.toMatch(/^"*[=+\-@](?!\d)/);
      }),
    );
  });

  it.each([
    ['-5', "'-5"],
    ['seen;=HYPERLINK("x")', 'seen;\'=HYPERLINK("x")'],
    ['seen;"=1+1"', 'seen;\'"=1+1"'],
    ['one\n-two', "one\n'-two"],
    ['Pmax -6.1 %; -0.5 % of it; a=b', 'Pmax -6.1 %; -0.5 % of it; a=b'],
  ])('writes the text %j as %j', (words, expected) => {
    const csv = new TextDecoder().decode(toCsv(table, [{ words }]));
    const { data } = papaparse.parse(csv, { delimiter: ',', newline: '\n', fastMode: false });
    expect(data[1]![0]).toBe(expected);
  });

  it('leaves negative numbers as they are', () => {
    expect(new TextDecoder().decode(toCsv(table, [{ value: -0.05 }]))).toContain('\n,-0.05,,,\n');
  });
});

describe('Parquet', () => {
  it('gives back every value as it was', async () => {
    await fc.assert(
      fc.asyncProperty(samples, async (rows) => {
        const bytes = toParquet(table, rows);
        const file = bytes.buffer as ArrayBuffer;
        const read = await parquetReadObjects({ file });
        expect(read).toEqual(
          rows.map(({ words: own, value, count, flag, when }) => ({
            words: own === undefined || own === '' ? null : asUtf8(own),
            value: known(value),
            count: count ?? null,
            flag: flag ?? null,
            when: when === undefined ? null : new Date(when),
          })),
        );
      }),
      { numRuns: 60 },
    );
  });
});

describe('the published description', () => {
  it.each([
    ['../../syntaxes/export-tables.md', tablesDocument],
    ['../../examples/fleet/views-parquet.sql', parquetViews],
    ['../../examples/fleet/views-csv.sql', csvViews],
  ])('%s is as the tables say', (file, made) => {
    expect(readFileSync(new URL(file, import.meta.url), 'utf8')).toBe(made());
  });

  it('names every column once, in words that SQL and Spark take, with a meaning', () => {
    for (const { table: each } of exportTables) {
      const names = each.columns.map(({ name }) => name);
      expect(new Set(names).size).toBe(names.length);
      for (const { name, meaning, type, unit } of each.columns) {
        expect(name).toMatch(/^[a-z][a-z0-9_]*$/);
        expect(meaning).toMatch(/[.?]$/);
        if (type === 'text' || type === 'boolean' || type === 'time') expect(unit).toBe('');
      }
      for (const name of each.key) expect(names).toContain(name);
    }
  });
});
