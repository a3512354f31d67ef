/** What a workbook is told to forget is read again when it is asked for, and comes out the same. */
import { expect, it } from 'vitest';
import { Workbook } from '../../src/evaluation/workbook.js';
import { csvOf, curveAt, moduleBlock, wideCriteria } from '../analysis/cecCampaign.js';
import { inMemory, MemoryFiles } from './memoryFiles.js';

const table = csvOf(curveAt('row 4', { irradiance: 850, cellTemperature: 48 }, { series: 2, points: 60 }));
const text = `campaign c "Invented"\n${moduleBlock('row 4')}\nstring S\n  modules 2 x M\n${wideCriteria}sweep S at 2026-05-14 11:42
  irradiance 850 W/m2
  temperature 48 degC cell
  data "s.csv"
`;
const root = inMemory('c.sweepbook');
const data = inMemory('s.csv');

it('reads what it forgot again', async () => {
  const workbook = new Workbook(new MemoryFiles({ 'c.sweepbook': text, 's.csv': table }));
  const before = await workbook.evaluate(root);
  expect((await workbook.evaluate(root)).sweeps[0]).toBe(before.sweeps[0]);
  workbook.forget(root, [root, data]);
  expect(workbook.document(root)).toBe(undefined);
  const after = await workbook.evaluate(root);
  expect(after.counts).toEqual(before.counts);
  expect(after.sweeps[0]).not.toBe(before.sweeps[0]);
});

it('keeps the text that an editor holds', async () => {
  const workbook = new Workbook(new MemoryFiles({ 'c.sweepbook': 'campaign other\n', 's.csv': table }));
  workbook.setText(root, text);
  const before = await workbook.evaluate(root);
  workbook.forget(root, [root, data]);
  expect((await workbook.evaluate(root)).counts).toEqual(before.counts);
});
