import path from 'node:path';
import { expect, it } from 'vitest';
import { problemsOf } from '../../src/moduleTable/moduleBlock.js';
import { shell } from './shell.js';

/** Rows of the published table; see tests/physics/data/README.md. */
const folder = path.join(import.meta.dirname, '../physics/data');
const search = (...args: string[]) => shell(folder, 'module', 'search', ...args);
const table = 'cec-modules-2017-06-05.csv';

it('lists name, power and technology of several matches', async () => {
  const { status, out } = await search(table, 'multi');
  expect(status).toBe(0);
  expect(out).toMatch(/^name +Pmax +technology\nrow 3 +200\.1 W +multi-Si\nrow 4 +249\.8 W +multi-Si\n/);
  expect(out).toContain('2 modules.');
});

it('prints the block of one match, and of all with --write', async () => {
  const one = await search(table, 'row', '3');
  expect(one.out).toMatch(/^module row-3 "row 3"\n {2}technology multi-Si\n {2}cells {6}54\n/);
  expect(one.out).toContain('note       "From the module table cec-modules-2017-06-05.csv, line 5;');
  const all = await search('--write', table, 'row');
  expect(all.out.match(/^module /gm)).toHaveLength(9);
  expect(problemsOf(all.out.split('\n'))).toEqual([]);
});

it('answers 2 and says why where nothing is found or the file is no such table', async () => {
  const none = await search(table, 'kestrel');
  expect(none).toMatchObject({ status: 2, out: '' });
  expect(none.error).toContain('none of 9 modules has every word of "kestrel"');
  expect((await search('missing.csv', 'x')).error).toContain('there is no such file');
  expect((await search('.', 'x')).error).toContain('not a file');
  expect((await search('aoi-cases.csv', 'x')).error).toContain('not the header of a module table');
});

it('answers 3 without a query', async () => {
  expect((await search(table)).status).toBe(3);
});
