/** `sweeps from "file"`: many sweeps of one table. The curve is that of a module of the CEC table; the rest is invented. */
import { describe, expect, it } from 'vitest';
import { Workbook } from '../../src/evaluation/workbook.js';
import { curveAt, moduleBlock, wideCriteria } from '../analysis/cecCampaign.js';
import { evaluateText, inMemory, MemoryFiles } from './memoryFiles.js';

const at = { irradiance: 850, cellTemperature: 48 };
const curve = curveAt('row 4', at, { points: 60 });

const rowsOf = (address: string, time: string, conditions = '850,48'): string =>
  Array.from(
    curve.voltage,
    (v, k) => `${address},${time},${conditions},${v.toFixed(4)},${curve.current[k]!.toFixed(5)}\n`,
  ).join('');

const header = 'Module,Time,G (W/m2),Tc (degC),U (V),I (A)\n';
const block = (file: string): string =>
  [
    `sweeps from "${file}"`,
    'address "Module"',
    'time "Time"',
    'irradiance "G (W/m2)"',
    'temperature "Tc (degC)"',
    'voltage "U (V)"',
    'current "I (A)"',
  ].join('\n  ');
const text = (...blocks: string[]): string =>
  [moduleBlock('row 4'), 'string S\n  modules 10 x M', wideCriteria, ...blocks].join('\n\n');

describe('rows of a table', () => {
  it('that cannot be placed are said, each with its line, and the others are judged', async () => {
    const table =
      header +
      rowsOf('S/1', '2026-05-14 11:00') +
      rowsOf('S/0', '2026-05-14 11:01') +
      rowsOf('S/11', '2026-05-14 11:02') +
      rowsOf('X/1', '2026-05-14 11:03') +
      rowsOf('S/2', 'yesterday') +
      rowsOf('S/3', '2026-02-30 11:00') +
      rowsOf('S/4', '2026-05-14 11:06', '850,');
    const { sweeps, problems } = await evaluateText(text(block('t.csv')), { 't.csv': table });
    const verdicts = Object.fromEntries(sweeps.map(({ address, analysis }) => [address, analysis.verdict]));
    expect(verdicts).toMatchObject({
      'S/1': 'pass',
      'S/0': 'not judged',
      'S/11': 'not judged',
      'X/1': 'not judged',
      'S/2': 'pass',
      'S/3': 'pass',
      'S/4': 'not judged',
    });
    for (const address of ['S/0', 'X/1', 'S/2', 'S/3', 'S/11']) {
      const { tableLine, problems: own } = sweeps.find((sweep) => sweep.address === address)!;
      expect(own, address).toHaveLength(1);
      expect(own[0]!.message, address).toContain(`t.csv:${tableLine}`);
    }
    expect(problems.filter(({ severity }) => severity === 'error')).toHaveLength(3);
    expect(problems.every(({ range }) => range.start.line === text().split('\n').length + 1)).toBe(true);
    for (const { analysis } of sweeps) expect(analysis.reasons[0]!.text).not.toMatch(/undefined|NaN/);
  });

  it('of two tables are told apart', async () => {
    const tables = {
      'a.csv': header + rowsOf('S/1', '2026-05-14 11:00') + rowsOf('S/2', '2026-05-14 11:01'),
      'b.csv': header + rowsOf('S/3', '2026-05-14 11:02'),
    };
    const { sweeps, problems } = await evaluateText(text(block('a.csv'), block('b.csv')), tables);
    expect(problems).toEqual([]);
    expect(sweeps.map(({ address, dataFile }) => `${address} ${dataFile}`)).toEqual([
      'S/1 /w/a.csv',
      'S/2 /w/a.csv',
      'S/3 /w/b.csv',
    ]);
    expect(new Set(sweeps.map(({ id }) => id)).size).toBe(3);
    expect(sweeps.map(({ analysis }) => analysis.verdict)).toEqual(['pass', 'pass', 'pass']);
  });

  it('that change are computed anew, also where the points could not be read before or after', async () => {
    const files = new MemoryFiles({ 'campaign.sweepbook': text(block('t.csv')) });
    const workbook = new Workbook(files);
    const conditionsWith = async (row: string) => {
      files.write('t.csv', header + row);
      workbook.fileChanged(inMemory('t.csv'));
      const { sweeps } = await workbook.evaluate(inMemory('campaign.sweepbook'));
      return sweeps[0]!.analysis.conditions.irradiance;
    };
    const short = (g: number) =>
      rowsOf('S/1', '2026-05-14 11:00', `${g},48`).split('\n').slice(0, 3).join('\n');
    expect(await conditionsWith(short(700))).toBe(700);
    expect(await conditionsWith(short(900))).toBe(900);
    expect(await conditionsWith(rowsOf('S/1', '2026-05-14 11:00', '850,48'))).toBe(850);
  });

  it('a table that is missing or empty is one problem', async () => {
    const gone = await evaluateText(text(block('t.csv')));
    expect(gone.problems.map(({ id }) => id)).toEqual(['data/missing']);
    for (const table of ['', header, '\n\n']) {
      const { problems, sweeps } = await evaluateText(text(block('t.csv')), { 't.csv': table });
      expect(sweeps).toEqual([]);
      expect(problems.filter(({ severity }) => severity === 'error')).toHaveLength(1);
    }
  });
});
