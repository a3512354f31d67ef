/**
 * The presentation on the sample campaign as it is shipped. The data are simulated; what is held here is that every
 * output says the same as the evaluation.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import Ajv2020 from 'ajv/dist/2020.js';
import { beforeAll, expect, it } from 'vitest';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { campaignModel, previewModel } from '../../src/presentation/previewModel.js';
import { toResult } from '../../src/presentation/resultSchema.js';
import { drawnHtml, exampleFile } from '../report/campaigns.js';
import { sweepTable } from '../../src/presentation/textTable.js';

const project = fileURLToPath(new URL('../..', import.meta.url));
let evaluation: Evaluation;
let display: (file: string) => string;

beforeAll(async () => {
  ({ evaluation, display } = await exampleFile('harrow-fen-sample'));
});

it('gives every sweep one line, in order, with the verdict of the evaluation', () => {
  const lines = sweepTable(evaluation, { display })
    .split('\n')
    .slice(3, 3 + evaluation.sweeps.length);
  expect(evaluation.sweeps.length).toBeGreaterThan(0);
  evaluation.sweeps.forEach((sweep, index) => {
    expect(lines[index]).toContain(` ${sweep.address} `);
    expect(lines[index]).toMatch(new RegExp(`${sweep.analysis.verdict}$`));
  });
});

it('writes a result that the published schema accepts', () => {
  const file = path.join(project, 'syntaxes/check-result.schema.json');
  const validate = new Ajv2020({ strict: true }).compile(JSON.parse(readFileSync(file, 'utf8')));
  const result = toResult(evaluation, display, '0.0.0');
  validate(JSON.parse(JSON.stringify(result)));
  expect(validate.errors ?? []).toEqual([]);
  result.sweeps.forEach((sweep, index) => {
    const { measured, deviation } = evaluation.sweeps[index]!.analysis;
    expect(sweep.measured.pmax!).toBeCloseTo(measured!.parameters.pmax!, 2);
    expect(sweep.deviation.pmax!).toBeCloseTo(deviation.pmax!, 6);
  });
});

it('shows the same deviations in table, panel and page', async () => {
  const { sweeps } = campaignModel(evaluation);
  const page = await drawnHtml(evaluation, { display });
  for (const item of sweeps) {
    const row = previewModel(evaluation, item.id)!.parameters.find(({ parameter }) => parameter === 'pmax')!;
    expect(row.deviation).toBe(item.deviation);
    expect(page).toContain(item.deviation);
    expect(sweepTable(evaluation, { display })).toContain(item.deviation);
  }
  // The overview, two charts a sweep, and those of the string: its sweeps, its parts, composed of its modules.
  expect(page.match(/<svg/g)!.length).toBeGreaterThanOrEqual(1 + 2 * sweeps.length);
});
