import { existsSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { exportTables } from '../../src/export/tables.js';
import { campaign, folderOf, inFolder, shell } from './runInFolder.js';

const tables = exportTables.map(({ table }) => table.name);

it('writes a file for each campaign and table, whatever the verdicts', async () => {
  const folder = folderOf({ ...inFolder('a', campaign({ level: 0.8 })), ...inFolder('b', campaign()) });
  const answer = await shell(folder, ['export', '.', '--to', 'out']);
  expect(answer).toMatchObject({ status: 0, error: '' });
  expect(answer.out).toMatch(
    /^a\/c\.sweepbook: 1 sweep, \d+ points\nb\/c\.sweepbook: 1 sweep, \d+ points\n$/,
  );
  expect(readdirSync(path.join(folder, 'out')).sort()).toEqual([...tables, 'tables.json'].sort());
  for (const table of tables) {
    const files = readdirSync(path.join(folder, 'out', table)).sort();
    expect(files).toEqual([
      expect.stringMatching(/^a-c-[0-9a-f]{8}\.parquet$/),
      expect.stringMatching(/^b-c-[0-9a-f]{8}\.parquet$/),
    ]);
    const bytes = readFileSync(path.join(folder, 'out', table, files[0]!));
    expect(bytes.subarray(0, 4).toString()).toBe('PAR1');
    expect(bytes.subarray(-4).toString()).toBe('PAR1');
  }
});

it('names a campaign alike wherever it is started, and two campaigns apart', async () => {
  const folder = folderOf({ ...inFolder('a', campaign()), ...inFolder('b', campaign()) });
  const first = await shell(path.join(folder, 'a'), ['export', 'c.sweepbook', '--to', '../out']);
  expect(first.out).toMatch(/^a\/c\.sweepbook: /);
  const second = await shell(path.join(folder, 'b'), ['export', 'c.sweepbook', '--to', '../out']);
  expect(second.out).toMatch(/^b\/c\.sweepbook: /);
  const again = await shell(folder, ['export', 'a', '--to', 'out']);
  expect(again.out).toBe(first.out);
  expect(readdirSync(path.join(folder, 'out/sweeps'))).toHaveLength(2);
  const away = await shell(folder, ['export', 'a', '--to', 'far/out']);
  expect(away.out).toMatch(/^\.\.\/a\/c\.sweepbook: /);
});

it('leaves out what another campaign includes', async () => {
  const files = campaign();
  const folder = folderOf({ ...files, 'whole.sweepbook': 'include "c.sweepbook"\n' });
  const { out } = await shell(folder, ['export', '.', '--to', 'out', '--format', 'csv']);
  expect(out).toMatch(/^whole\.sweepbook: 1 sweep, \d+ points\n$/);
});

it('goes into no folder that holds other files, and mixes no formats', async () => {
  const folder = folderOf({ ...campaign(), 'sweeps/s.csv': 'V,A\n' });
  const refused = await shell(folder, ['export', 'c.sweepbook', '--to', '.', '--format', 'csv']);
  expect(refused).toMatchObject({
    status: 3,
    out: '',
    error: expect.stringContaining('no export') as string,
  });
  expect(readdirSync(path.join(folder, 'sweeps'))).toEqual(['s.csv']);
  expect((await shell(folder, ['export', 'c.sweepbook', '--to', 'out'])).status).toBe(0);
  const mixed = await shell(folder, ['export', 'c.sweepbook', '--to', 'out', '--format', 'csv']);
  expect(mixed).toMatchObject({ status: 3, error: expect.stringContaining('as parquet') as string });
});

it('says which campaigns of earlier exports still count', async () => {
  const folder = folderOf({ ...inFolder('a', campaign()), ...inFolder('b', campaign()) });
  await shell(folder, ['export', '.', '--to', 'out']);
  const again = await shell(folder, ['export', 'a', '--to', 'out']);
  expect(again.status).toBe(0);
  expect(again.error).toMatch(/earlier exports.*b-c-[0-9a-f]{8}\.parquet/);
});

it('says what is missing, and what cannot be written', async () => {
  const folder = folderOf(campaign());
  const missing = await shell(folder, ['export', 'c.sweepbook', 'gone.sweepbook', '--to', 'out']);
  expect(missing).toMatchObject({ status: 2, error: expect.stringContaining('gone.sweepbook') as string });
  expect(existsSync(path.join(folder, 'out/sweeps'))).toBe(true);
  writeFileSync(path.join(folder, 'file'), '');
  const file = await shell(folder, ['export', 'c.sweepbook', '--to', 'file']);
  expect(file).toEqual({
    status: 2,
    out: '',
    error: 'file: could not be written (a part of the path is a file, not a folder)\n',
  });
  expect((await shell(folder, ['export', 'c.sweepbook'])).status).toBe(3);
});

it('prints the tables with their columns', async () => {
  const { out, status } = await shell(folderOf(), ['schema', '--tables']);
  expect(status).toBe(0);
  const description = JSON.parse(out) as { tables: { name: string; columns: unknown[] }[] };
  expect(description.tables.map(({ name }) => name)).toEqual(tables);
});
