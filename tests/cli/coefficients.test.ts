/** `sweepbook coefficients`, called as a shell would. Curves: CEC table, see ../analysis/cecCampaign.ts. */
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { csvOf, curveAt, moduleBlock, wideCriteria } from '../analysis/cecCampaign.js';
import { folderOf, shell } from './runInFolder.js';

const projectFolder = path.resolve(import.meta.dirname, '../..');

const conditions = [
  [720, 36],
  [800, 50],
  [900, 34],
  [1000, 52],
  [1050, 40],
] as const;

function files(more = ''): Record<string, string> {
  const sweeps = conditions.map(
    ([irradiance, temperature], k) =>
      `sweep S at 2026-05-14 1${k}:00\n  irradiance ${irradiance} W/m2\n  temperature ${temperature} degC cell\n  data "${k}.csv"`,
  );
  const tables = conditions.map(([irradiance, cellTemperature], k) => [
    `${k}.csv`,
    csvOf(curveAt('row 4', { irradiance, cellTemperature }, { series: 4 })),
  ]);
  const text = [moduleBlock('row 4'), 'string S\n  modules 4 x M', wideCriteria, ...sweeps, more].join(
    '\n\n',
  );
  return { 'c.sweepbook': text, ...(Object.fromEntries(tables) as Record<string, string>) };
}

it('prints each coefficient with its standard error beside the nameplate', async () => {
  const { status, out } = await shell(folderOf(files()), ['coefficients', 'c.sweepbook', 'S']);
  expect(status).toBe(0);
  expect(out).toMatch(/one module M from 5 sweeps of S \(720 to 1050 W\/m2, 34\.0 to 52\.0 degC\)/);
  for (const symbol of ['alpha', 'beta', 'B1', 'Rs', 'kappa'])
    expect(out).toMatch(new RegExp(`^${symbol} +-?\\d\\S* ± \\S+`, 'm'));
  expect(out).toMatch(/^Rs .*\(estimated\)/m);
});

it('takes a module type for all its sweeps, and writes JSON and a page with the residuals', async () => {
  const folder = folderOf(files());
  const args = ['coefficients', 'c.sweepbook', 'M', '--format', 'json', '--out', 'out/page.html'];
  const { status, out } = await shell(folder, args);
  expect(status).toBe(0);
  const result = JSON.parse(out) as {
    module: string;
    address: string | null;
    coefficients: { symbol: string; value: number; residuals: unknown[] }[];
  };
  expect(result).toMatchObject({ module: 'M', address: null });
  expect(result.coefficients.map(({ symbol }) => symbol)).toEqual(['alpha', 'beta', 'B1', 'Rs', 'kappa']);
  for (const { residuals } of result.coefficients) expect(residuals).toHaveLength(5);
  const page = readFileSync(path.join(folder, 'out/page.html'), 'utf8');
  expect(page.match(/<svg/g)).toHaveLength(5);
  expect(page).not.toContain('<script');
});

it('leaves out devices that are not whole, in the invented demo', async () => {
  const args = ['coefficients', 'examples/harrow-fen/campaign.sweepbook', 'KF108M'];
  const { status, out } = await shell(projectFolder, args);
  expect(status).toBe(0);
  for (const sweep of ['1.03 at 2026-05-14 11:42', '1.03/11 at 2026-05-14 12:44'])
    expect(out).toContain(`Left out: ${sweep}, its curve shows substrings out of the current path.`);
  expect(out).toMatch(/^beta +-0\.\d+ ± /m);
});

it('takes the longest run of sweeps without a replacement', async () => {
  const replaced = files('replace S/2 at 2026-05-14 11:30\n  serial "A" -> "B"');
  const { out } = await shell(folderOf(replaced), ['coefficients', 'c.sweepbook', 'S']);
  expect(out).toContain('from 3 sweeps of S');
  expect(out.match(/Left out: S at .*a module was replaced in between/g)).toHaveLength(2);
});

it.each([
  [['S/9'], 2, /neither a module type nor the address of a sweep/],
  [['nothing'], 2, /neither a module type nor the address/],
  [['S', '--out', 'c.sweepbook'], 3, /is a file of the campaign itself/],
  [[], 3, /missing required argument/],
] as const)('%o answers %i', async (args, expected, words) => {
  const folder = folderOf(files());
  const { status, error } = await shell(folder, ['coefficients', 'c.sweepbook', ...args]);
  expect(status).toBe(expected);
  expect(error).toMatch(words);
  expect(existsSync(path.join(folder, 'c.sweepbook'))).toBe(true);
});
