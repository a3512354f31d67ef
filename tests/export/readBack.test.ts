import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { toResult } from '../../src/presentation/resultSchema.js';
import { exportTables } from '../../src/export/tables.js';
import { csvViews, parquetViews } from '../../src/export/views.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { NodeFiles } from '../../src/cli/nodeFiles.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { shell } from '../cli/runInFolder.js';
import { openDuck, type Row } from './duck.js';
import { fleetFiles, types, writeFiles } from './fleet.js';

const site = {
  site: 'fen',
  strings: [
    { name: '1.1', type: types[0]!, levels: [1] },
    { name: '1.10', type: types[1]!, levels: [0.9] },
  ],
  more: `string 9.99 "never measured"
  modules 10 x KF108M
sweep 1.10/3 at 2026-05-14 12:30
  irradiance 900 W/m2
  temperature 45 degC cell
  data "missing.csv"
  note "=HYPERLINK(1)"
  note "Größe ""fünf"", then @cmd; Ω"
replace 1.10/3 at 2026-05-15 09:00
  serial "=A1" -> "KF-2"
  reason "+glass broken"
insulation 1.1 at 2026-05-14 10:05
  resistance 42 Mohm
  voltage 500 V
polarity 1.10 at 2026-05-14 10:06
  result reversed
`,
};

let folder: string;
let evaluation: Evaluation;
let rows: Record<'parquet' | 'csv', Record<string, Row[]>>;

const formats = ['parquet', 'csv'] as const;

beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'sweepbook-'));
  writeFiles(folder, fleetFiles([site], [2026]));
  const reader = new NodeFiles(folder, folder);
  evaluation = await new Workbook(reader).evaluate(path.join(folder, 'fen-2026/campaign.sweepbook'));
  rows = { parquet: {}, csv: {} };
  for (const format of formats) {
    const to = `out-${format}/fleet`;
    const answer = await shell(folder, ['export', 'fen-2026', '--to', to, '--format', format]);
    expect(answer).toMatchObject({ status: 0, error: '' });
    const duck = await openDuck();
    await duck.run(`SET file_search_path = '${path.join(folder, `out-${format}`)}'`);
    await duck.run(format === 'csv' ? csvViews() : parquetViews());
    for (const { table } of exportTables) {
      const order = table.key.map((name) => `"${name}"`).join(', ');
      rows[format][table.name] = await duck.query(`SELECT * FROM ${table.name} ORDER BY ${order}`);
    }
    const described = await duck.query('DESCRIBE sweeps');
    expect(described.map(({ column_name }) => column_name)).toEqual(
      exportTables.find(({ table }) => table.name === 'sweeps')!.table.columns.map(({ name }) => name),
    );
  }
}, 60_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe.each(formats)('DuckDB reads the export as %s', (format) => {
  const table = (name: string): Row[] => rows[format][name]!;

  it('with every row', () => {
    const points = evaluation.sweeps.reduce(
      (sum, { reading, analysis }) =>
        sum + (reading?.curve.voltage.length ?? 0) + (analysis.translated?.curve.voltage.length ?? 0),
      0,
    );
    expect(points).toBeGreaterThan(200);
    const counts = Object.fromEntries(Object.entries(rows[format]).map(([name, all]) => [name, all.length]));
    expect(counts).toMatchObject({
      campaigns: 1,
      strings: 3,
      sweeps: 3,
      points,
      electrical_tests: 2,
      replacements: 1,
    });
    expect(counts['findings']).toBeGreaterThanOrEqual(3);
  });

  it('with every number to the last digit', () => {
    for (const { address, analysis } of evaluation.sweeps) {
      const row = table('sweeps').find((each) => each['address'] === address)!;
      for (const name of ['isc', 'voc', 'imp', 'vmp', 'pmax', 'ff'] as const) {
        expect(row[`measured_${name}`] ?? undefined).toBe(analysis.measured?.parameters[name]);
        expect(row[`translated_${name}`] ?? undefined).toBe(analysis.translated?.parameters[name]);
        expect(row[`deviation_${name}`] ?? undefined).toBe(analysis.deviation[name]);
      }
    }
    const sum = (values: Iterable<number>): number => [...values].reduce((a, b) => a + b, 0);
    const measured = table('points').filter(({ curve }) => curve === 'measured');
    const read = evaluation.sweeps.flatMap(({ reading }) => (reading ? [...reading.curve.current] : []));
    expect(sum(measured.map(({ current }) => current as number))).toBe(sum(read));
  });

  it('with the numbers that the JSON result shows', () => {
    const result = toResult(evaluation, (file) => file, '0.0.0');
    for (const sweep of result.sweeps) {
      const row = table('sweeps').find((each) => each['address'] === sweep.address)!;
      for (const name of ['isc', 'voc', 'pmax'] as const) {
        const value = row[`translated_${name}`] as number | null;
        expect(value === null ? null : Number(value.toPrecision(7))).toBe(sweep.translated[name]);
      }
      expect(row['verdict']).toBe(sweep.verdict);
    }
  });

  it('with NULL for what is not known, and no number guessed from a name', () => {
    expect(table('strings').map(({ string }) => string)).toEqual(['1.1', '1.10', '9.99']);
    expect(table('strings')[2]).toMatchObject({
      sweeps: 0,
      latest_verdict: null,
      latest_deviation_pmax: null,
    });
    const failed = table('sweeps').find(({ address }) => address === '1.10/3')!;
    expect(failed).toMatchObject({
      verdict: 'not judged',
      whole_string: false,
      first_position: 3,
      last_position: 3,
      measured_pmax: null,
      remark: null,
      healthy: null,
    });
    expect(table('points').every(({ irradiance }) => irradiance === null)).toBe(true);
  });

  it('with times in UTC', () => {
    const [sweep] = table('sweeps');
    expect(sweep!['time']).toBe('2026-05-14T11:10:00+01:00');
    expect((sweep!['time_utc'] as Date).toISOString()).toBe('2026-05-14T10:10:00.000Z');
  });

  it('with umlauts, quotes and line breaks, and no formula in CSV', () => {
    const { notes } = table('sweeps').find(({ address }) => address === '1.10/3')!;
    const guard = format === 'csv' ? "'" : '';
    expect(notes).toBe(`${guard}=HYPERLINK(1)\nGröße "fünf", then @cmd; Ω`);
    expect(table('replacements')[0]).toMatchObject({
      old_serial: `${guard}=A1`,
      new_serial: 'KF-2',
      reason: `${guard}+glass broken`,
      position: 3,
    });
  });

  it('with the electrical tests', () => {
    expect(table('electrical_tests')).toMatchObject([
      {
        kind: 'insulation',
        string: '1.1',
        resistance: 42e6,
        least_resistance: 1e6,
        verdict: 'pass',
        latest: true,
      },
      { kind: 'polarity', string: '1.10', result: 'reversed', verdict: 'fail', resistance: null },
    ]);
    expect(table('campaigns')[0]).toMatchObject({ electrical_pass: 1, electrical_fail: 1, sweeps: 3 });
  });
});

it('says the same in both formats, but for the guard', () => {
  const plain = (all: Row[]): unknown =>
    JSON.parse(JSON.stringify(all), (_, value: unknown) =>
      typeof value === 'string' ? value.replace(/^'(?=[=+\-@\t\r\n])/, '') : value,
    );
  for (const { table } of exportTables)
    expect(plain(rows.csv[table.name]!)).toEqual(plain(rows.parquet[table.name]!));
});

it('writes the same bytes again', async () => {
  const bytes = (): Record<string, string> =>
    Object.fromEntries(
      readdirSync(path.join(folder, 'out-parquet'), { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => [
          entry.name + entry.parentPath,
          readFileSync(path.join(entry.parentPath, entry.name), 'base64'),
        ]),
    );
  const before = bytes();
  await shell(folder, ['export', 'fen-2026', '--to', 'out-parquet/fleet']);
  expect(bytes()).toEqual(before);
  expect(Object.keys(before).length).toBe(exportTables.length + 1);
});
