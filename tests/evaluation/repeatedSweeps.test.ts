/** The scatter of repeated sweeps in the uncertainty of each. JCGM 100:2008, 4.2: standard deviation of repeated observations. */
import { describe, expect, it } from 'vitest';
import { evaluateText } from './memoryFiles.js';
import { csvOf, curveAt, instruments, moduleBlock, wideCriteria } from '../analysis/cecCampaign.js';

const at = { irradiance: 900, cellTemperature: 40 };
/** Photocurrents of three sweeps: their relative standard deviation is exactly 0.4 %. */
const factors = [0.996, 1, 1.004];

const brighter = (factor: number) =>
  csvOf(
    curveAt('row 4', at, { change: (model) => ({ ...model, photocurrent: model.photocurrent * factor }) }),
  );

async function evaluated(sweeps: number, between = '') {
  const blocks = factors
    .slice(0, sweeps)
    .map((_, k) =>
      [
        `sweep S at 2026-05-14 11:4${k}`,
        '  irradiance 900 W/m2',
        '  temperature 40 degC cell',
        `  data "${k}.csv"`,
        '  with T, R',
      ].join('\n'),
    );
  const text = [
    moduleBlock('row 4'),
    'string S\n  modules 1 x M',
    instruments,
    wideCriteria,
    ...blocks,
    between,
  ];
  const tables = Object.fromEntries(factors.map((factor, k) => [`${k}.csv`, brighter(factor)]));
  return evaluateText(text.join('\n\n'), tables);
}

describe('repeated sweeps', () => {
  it('add their standard deviation to the budget of each', async () => {
    const { sweeps } = await evaluated(3);
    for (const { analysis } of sweeps) {
      const line = analysis.budget.find(({ source }) => source === 'Repeatability, 3 sweeps')!;
      expect(line.contribution.isc).toBeCloseTo(0.004, 4);
      // The noise of the points is part of that scatter and is not counted beside it.
      expect(analysis.budget.map(({ source }) => source)).not.toContain('Noise of the points');
      const squares = analysis.budget.reduce((sum, each) => sum + each.contribution.isc ** 2, 0);
      expect(analysis.uncertainty.isc).toBeCloseTo(2 * Math.sqrt(squares), 9);
    }
  });

  it('need to be three', async () => {
    const { sweeps } = await evaluated(2);
    expect(
      sweeps.flatMap(({ analysis }) => analysis.budget.map(({ source }) => source)).join(),
    ).not.toContain('Repeatability');
  });

  it('do not count together across a replacement', async () => {
    const { sweeps } = await evaluated(3, 'replace S/1 at 2026-05-14 11:41\n  serial "A" -> "B"');
    expect(sweeps[0]!.analysis.budget.map(({ source }) => source).join()).not.toContain('Repeatability');
  });
});
