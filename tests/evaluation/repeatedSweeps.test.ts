/** The scatter of repeated sweeps in the uncertainty of each. JCGM 100:2008, 4.2: standard deviation of repeated observations. */
import { describe, expect, it } from 'vitest';
import { coverageFactor } from '../../src/physics/studentDistribution.js';
import { budgetRows } from '../../src/presentation/parameterRows.js';
import { evaluateText } from './memoryFiles.js';
import { csvOf, curveAt, instruments, moduleBlock, wideCriteria } from '../analysis/cecCampaign.js';

const at = { irradiance: 900, cellTemperature: 40 };
/** Photocurrents of three sweeps: their relative standard deviation is exactly 0.4 %. */
const factors = [0.996, 1, 1.004];

/** Sweeps of one string, in this order, whose photocurrents differ by these factors. */
async function sweepsOf(changes: readonly number[]) {
  const blocks = changes.map(
    (_, k) =>
      `sweep S at 2026-05-14 11:${10 + k}\n  irradiance 900 W/m2\n  temperature 40 degC cell\n  data "${k}.csv"\n  with T, R`,
  );
  const text = [moduleBlock('row 4'), 'string S\n  modules 1 x M', instruments, wideCriteria, ...blocks];
  const tables = Object.fromEntries(changes.map((factor, k) => [`${k}.csv`, brighter(factor)]));
  return evaluateText(text.join('\n\n'), tables);
}

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
      // Welch-Satterthwaite with the two degrees of freedom of three sweeps (JCGM 100:2008, G.2b); all else is of type B.
      const { factor, degreesOfFreedom } = analysis.coverage!.isc!;
      expect(degreesOfFreedom).toBeCloseTo((2 * squares ** 2) / line.contribution.isc ** 4, 6);
      expect(factor).toBeCloseTo(coverageFactor(degreesOfFreedom), 12);
      expect(factor).toBeGreaterThan(2);
      expect(analysis.uncertainty.isc).toBeCloseTo(factor * Math.sqrt(squares), 9);
    }
  });

  it('leave k at 2 where their scatter counts for next to nothing, and say it where it does', async () => {
    const { sweeps } = await evaluated(3);
    const { analysis } = sweeps[0]!;
    const rows = budgetRows(analysis);
    const factors = rows.find(({ source }) => source.startsWith('Coverage factor'))!.contribution;
    const { factor, degreesOfFreedom } = analysis.coverage!.isc!;
    expect(factors.isc).toBe(`${factor.toFixed(2)} (nu_eff = ${Math.floor(degreesOfFreedom)})`);
    expect(factors.voc).toBe('2');
    expect(rows.find(({ source }) => source.startsWith('Repeatability'))!.source).toMatch(/ \(nu = 2\)$/);
    const alone = (await evaluated(1)).sweeps[0]!.analysis;
    expect(alone.coverage!.pmax).toEqual({ factor: 2, degreesOfFreedom: Infinity });
  });

  it('are those that agree: what was mended between them is no scatter, in whatever order they stand', async () => {
    const repeats = async (changes: readonly number[]) =>
      (await sweepsOf(changes)).sweeps.map(
        ({ analysis }) =>
          analysis.budget.map(({ source }) => source).find((source) => source.startsWith('Repeatability')) ??
          'alone',
      );
    expect(await repeats([0.9, 1, 1.002])).toEqual(['alone', 'alone', 'alone']);
    expect(await repeats([1, 0.9, 1.002, 0.998])).toEqual([
      'Repeatability, 3 sweeps',
      'alone',
      'Repeatability, 3 sweeps',
      'Repeatability, 3 sweeps',
    ]);
    const [failed] = (await sweepsOf([0.9, 1, 1.002])).sweeps;
    const [lonely] = (await sweepsOf([0.9])).sweeps;
    expect(failed!.analysis.uncertainty).toEqual(lonely!.analysis.uncertainty);
  });

  it('need to be three', async () => {
    const { sweeps } = await evaluated(2);
    expect(
      sweeps.flatMap(({ analysis }) => analysis.budget.map(({ source }) => source)).join(),
    ).not.toContain('Repeatability');
  });

  it('do not count together across a replacement whose time has an offset', async () => {
    const site = 'site s\n  position 52.4 N, 0.26 E\n  timezone Europe/London';
    const { sweeps } = await evaluated(3, `${site}\n\nreplace S/1 at 2026-05-14 10:41Z\n  serial "A" -> "B"`);
    const sources = sweeps.flatMap(({ analysis }) => analysis.budget.map(({ source }) => source));
    expect(sources.join()).not.toContain('Repeatability');
  });

  it('do not count together across a replacement', async () => {
    const { sweeps } = await evaluated(3, 'replace S/1 at 2026-05-14 11:41\n  serial "A" -> "B"');
    expect(sweeps[0]!.analysis.budget.map(({ source }) => source).join()).not.toContain('Repeatability');
  });
});
