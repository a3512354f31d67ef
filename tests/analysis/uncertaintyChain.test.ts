/**
 * The stated uncertainty of a string sweep against a Monte Carlo propagation of distributions (JCGM 101:2008) through the whole
 * tool: every trial writes the readings of instruments with errors into table and text, draws the coefficients of the
 * nameplate, and takes the deviations as the tool computes them. Curves as in cecCampaign.ts; the errors are invented.
 */
import { describe, expect, it } from 'vitest';
import type { ParameterName } from '../../src/campaign/model.js';
import type { IvCurve } from '../../src/physics/ivCurve.js';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { gaussian, seeded } from '../physics/noise.js';
import { perfectNameplate } from '../physics/perfectNameplate.js';
import { csvOf, curveAt, instruments, moduleBlock, sweepBlock, wideCriteria } from './cecCampaign.js';

const names = ['isc', 'voc', 'imp', 'vmp', 'pmax', 'ff'] as const;
const module = 'row 4';
const series = 18;

/** Factors on what is true, and the standard deviation of the current from point to point as a fraction of Isc. */
interface Errors {
  readonly irradiance?: number;
  readonly temperature?: number;
  readonly voltage?: number;
  readonly current?: number;
  readonly alpha?: number;
  readonly beta?: number;
  readonly gamma?: number;
  readonly rs?: number;
}

async function analysed(
  exact: IvCurve,
  at: { irradiance: number; cellTemperature: number },
  noise: () => number,
  errors: Errors = {},
) {
  const { alpha, beta, gamma } = perfectNameplate(module).known;
  const { voltage = 0, current = 0, irradiance = 0, temperature = 0 } = errors;
  const lines = [
    `alpha ${alpha * 1000 * (1 + (errors.alpha ?? 0))} mA/K`,
    `beta ${beta * 1000 * (1 + (errors.beta ?? 0))} mV/K`,
    `gamma ${gamma * (1 + (errors.gamma ?? 0))} W/K`,
    ...(errors.rs === undefined ? [] : [`Rs ${errors.rs} ohm`]),
  ];
  const written = {
    irradiance: at.irradiance * (1 + irradiance),
    cellTemperature: at.cellTemperature + temperature,
  };
  const text = [
    moduleBlock(module, { without: ['alpha', 'beta', 'gamma'], lines }),
    `string S\n  modules ${series} x M`,
    instruments,
    wideCriteria,
    sweepBlock('S', written, ['with T, R']),
  ];
  const isc = exact.current[0]!;
  const csv = csvOf({
    voltage: exact.voltage.map((v) => v * (1 + voltage)),
    current: exact.current.map((i) => (i + noise() * isc) * (1 + current)),
  });
  const { sweeps } = await evaluateText(text.join('\n\n'), { 's.csv': csv });
  return sweeps[0]!.analysis;
}

function deviationsOf(rows: readonly Readonly<Record<ParameterName, number | undefined>>[]) {
  return Object.fromEntries(
    names.map((name) => {
      const values = rows.map((row) => row[name]!);
      const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
      const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
      return [name, Math.sqrt(squares / (values.length - 1))];
    }),
  ) as Record<ParameterName, number>;
}

describe('noise of the points alone', () => {
  // A curve from 700 W/m2 is continued to Voc by a model; few points are where the model would outvote the measurement.
  it.each([
    [400, 20],
    [700, 14],
    [700, 40],
    [850, 20],
    [1000, 20],
  ])(
    'from %i W/m2 with %i points: the budget states what the results scatter by',
    async (irradiance, points) => {
      const at = { irradiance, cellTemperature: 48 };
      const exact = curveAt(module, at, { series, points });
      const normal = gaussian(seeded(11));
      const analyses = [];
      for (let trial = 0; trial < 60; trial++)
        analyses.push(await analysed(exact, at, () => 0.002 * normal()));
      const scatter = deviationsOf(analyses.map(({ deviation }) => deviation));
      const lines = analyses.map(
        ({ budget }) => budget.find(({ source }) => source.startsWith('Noise'))!.contribution,
      );
      for (const name of ['isc', 'voc', 'pmax'] as const) {
        const stated = Math.sqrt(lines.reduce((sum, line) => sum + line[name] ** 2, 0) / lines.length);
        expect(stated / scatter[name], name).toBeGreaterThan(0.7);
        expect(stated / scatter[name], name).toBeLessThan(1.6);
      }
      const flagged = analyses.filter(({ translated }) =>
        translated!.flags.some(({ code }) => code === 'outliers-set-aside'),
      );
      expect(flagged.length).toBeLessThan(5);
    },
  );
});

describe('everything together', () => {
  it.each([
    [700, 20, 0.002],
    [850, 128, 0.002],
  ])(
    'from %i W/m2 with %i points and noise of %f: U of every parameter is right',
    async (irradiance, points, sigma) => {
      const at = { irradiance, cellTemperature: 48 };
      const exact = curveAt(module, at, { series, points });
      const normal = gaussian(seeded(7));
      const noise = (): number => sigma * normal();
      const stated = await analysed(exact, at, noise);
      const rs = stated.translated!.estimates.find(({ symbol }) => symbol === 'Rs')!.value / series;
      const residual = stated.budget.find(({ source }) => source === 'Translation procedure')!.contribution;
      const rows = [];
      for (let trial = 0; trial < 200; trial++) {
        // k = 1 of the instruments in cecCampaign.ts, and of the tolerances in assumedTolerances.ts.
        const errors = {
          irradiance: 0.01 * normal(),
          // Of the reading, and of the mean of the cells of 18 modules against the place of the sensor.
          temperature: 0.5 * normal() + 0.87 * normal(),
          voltage: 0.0025 * normal(),
          current: 0.0025 * normal(),
          alpha: 0.1 * normal(),
          beta: 0.03 * normal(),
          gamma: 0.03 * normal(),
          rs: rs * (1 + 0.15 * normal()),
        };
        rows.push((await analysed(exact, at, noise, errors)).deviation);
      }
      const scatter = deviationsOf(rows);
      for (const name of names) {
        const drawn = 2 * Math.hypot(scatter[name], residual[name]);
        // 200 trials tell a standard deviation to 5 %; the noise that a single sweep shows of itself scatters too.
        expect(Math.abs(stated.uncertainty[name]! / drawn - 1), `${name}: ${drawn}`).toBeLessThan(0.15);
      }
    },
  );
});
