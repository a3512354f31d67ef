/** The queries of examples/fleet on campaigns whose answers are known. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { shell } from '../cli/runInFolder.js';
import { openDuck, type Row } from './duck.js';
import { fleetFiles, types, writeFiles, type FleetSite } from './fleet.js';

const [good, weak] = types as readonly [(typeof types)[0], (typeof types)[0]];

const sites: readonly FleetSite[] = [
  {
    site: 'fen',
    strings: [
      { name: '1.01', type: good, levels: [1, 0.98] },
      { name: '1.02', type: good, levels: [0.99, 0.985] },
      { name: '1.03', type: weak, levels: [1, 0.9] },
    ],
  },
  {
    site: 'mill',
    strings: [
      { name: '1.01', type: weak, levels: [1, 0.96] },
      { name: '1.02', type: weak, levels: [0.93, 0.92] },
    ],
    more: 'replace 1.02/4 at 2026-06-01 09:00\n  serial "A" -> "B"\n',
  },
];

const query = (name: string): string =>
  readFileSync(new URL(`../../examples/fleet/${name}.sql`, import.meta.url), 'utf8');

let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'sweepbook-'));
  writeFiles(folder, fleetFiles(sites, [2024, 2026]));
  for (const format of ['parquet', 'csv']) {
    const answer = await shell(folder, ['export', '.', '--to', `${format}/fleet`, '--format', format]);
    expect(answer.out.trim().split('\n')).toHaveLength(4);
    expect(answer.status).toBe(0);
  }
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe.each(['parquet', 'csv'])('on an export as %s', (format) => {
  let run: (name: string) => Promise<Row[]>;
  beforeAll(async () => {
    const duck = await openDuck();
    await duck.run(`SET file_search_path = '${path.join(folder, format)}'`);
    await duck.run(query(`views-${format}`));
    run = (name) => duck.query(query(name));
  });

  it('finds the worst strings, each by its latest sweep', async () => {
    const rows = await run('worst-strings');
    expect(rows.map(({ place, string }) => `${String(place)} ${String(string)}`)).toEqual([
      'fen 1.03',
      'mill 1.02',
      'mill 1.01',
      'fen 1.01',
      'fen 1.02',
    ]);
    expect(rows[0]!['deviation_pmax']).toBeCloseTo(-0.1, 2);
    expect(rows[0]!['watts']).toBeCloseTo(-0.1 * 10 * weak.imp * weak.vmp, -1.5);
    expect(rows[0]!['verdict']).toBe('fail');
  });

  it('finds how much each string loses a year', async () => {
    const rows = await run('degradation');
    const found = Object.fromEntries(
      rows.map((row) => [
        `${String(row['site'])} ${String(row['string'])}`,
        row['change_per_year'] as number,
      ]),
    );
    const known = {
      'fen 1.01': -0.01,
      'fen 1.02': -0.0025,
      'fen 1.03': -0.05,
      'mill 1.01': -0.02,
      'mill 1.02': -0.005,
    };
    expect(Object.keys(found).sort()).toEqual(Object.keys(known).sort());
    for (const [name, change] of Object.entries(known)) expect(found[name]).toBeCloseTo(change, 2.5);
    expect(rows[0]).toMatchObject({ site: 'fen', string: '1.03' });
    for (const { uncertainty_per_year: own } of rows)
      expect(own).toSatisfy((value: number) => value > 0.005 && value < 0.05);
  });

  it('finds failure rates by module type', async () => {
    const rows = await run('failure-rates');
    expect(rows).toEqual([
      {
        module_type: weak.name,
        strings: 3,
        failed: 2,
        failed_of_judged: 2 / 3,
        modules: 30,
        replaced: 2,
        replaced_of_installed: 2 / 30,
      },
      {
        module_type: good.name,
        strings: 2,
        failed: 0,
        failed_of_judged: 0,
        modules: 20,
        replaced: 0,
        replaced_of_installed: 0,
      },
    ]);
  });
});

it('the query of README.md answers, as it stands there, over all campaigns', async () => {
  const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
  const [, sql] = /```sql\n([^]*?)```/.exec(readme)!;
  const duck = await openDuck();
  await duck.run(`SET file_search_path = '${path.join(folder, 'parquet')}'`);
  // Medians of the levels given above, good 1, 0.98, 0.99, 0.985 and weak 1, 0.9, 1, 0.96, 0.93, 0.92, as near as the translation is.
  const near = (percent: number): number => expect.closeTo(percent, -0.3) as number;
  expect(await duck.query(sql!)).toEqual([
    {
      module_type: weak.name,
      campaigns: 4,
      sweeps: 6,
      median_percent: near(-5.5),
      failed: 3,
    },
    {
      module_type: good.name,
      campaigns: 2,
      sweeps: 4,
      median_percent: near(-1.3),
      failed: 0,
    },
  ]);
});
