import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import {
  fitCurrentCoefficients,
  fitVoltageCoefficients,
  searchKappa,
  searchSeriesResistance,
  type KnownSweep,
  type SearchTask,
} from '../../src/physics/coefficientsFromSweeps.js';
import { deviceCoefficients } from '../../src/physics/deviceCoefficients.js';
import { standardTestConditions } from '../../src/physics/ivCurve.js';
import { readTable } from './checkData.js';
import {
  atConditions,
  characteristicPoints,
  deSotoModule,
  pointsOfSmoothCurve,
  wideCurve,
} from './deSotoModule.js';
import { perfectNameplate } from './perfectNameplate.js';

const sweepsOf = (name: string, conditions: readonly (readonly [number, number])[]): KnownSweep[] =>
  conditions.map(([irradiance, cellTemperature]) => {
    const at = { irradiance, cellTemperature };
    const model = atConditions(deSotoModule(name), at);
    const { isc, voc } = characteristicPoints(model);
    return { curve: wideCurve(model, 1000), conditions: at, isc, voc };
  });
const powerOf: SearchTask['powerOf'] = (curve) => pointsOfSmoothCurve(curve).pmax;
const modules = ['row 1', 'row 2', 'row 3', 'row 4', 'row 5'];
const expected = (name: string, column: string): number =>
  Number(readTable('translation-selfcheck-derived.csv').find((row) => row['module'] === name)![column]);

describe.each(modules)('from sweeps of %s', (name) => {
  const { known, coefficients } = perfectNameplate(name);
  const oneOf = (procedure: 1 | 2) => deviceCoefficients(coefficients[procedure], 1, 1);

  it('Rs of procedure 1 from 700, 800 and 900 W/m2: as computed apart from this project, within 1 %', () => {
    const task = {
      procedure: 1,
      sweeps: sweepsOf(name, [
        [700, 25],
        [800, 25],
        [900, 25],
      ]),
      coefficients: { ...oneOf(1), kappa: 0 },
      powerOf,
      to: standardTestConditions,
    } as const;
    const found = searchSeriesResistance(task);
    expect(found.found).toBe(true);
    if (!found.found) return;
    expect(Math.abs(found.value / expected(name, 'Rs1_ohm') - 1)).toBeLessThan(0.01);
    expect(found.spread).toBeLessThan(1e-4);
    expect(found.residuals).toHaveLength(3);
    expect(found.standardError! / found.value).toBeLessThan(0.05);
  });

  it('kappa of procedure 1 from 35 to 65 degC: as computed apart from this project, within 4 %', () => {
    const found = searchKappa({
      procedure: 1,
      sweeps: sweepsOf(name, [
        [1000, 35],
        [1000, 45],
        [1000, 55],
        [1000, 65],
      ]),
      coefficients: {
        ...oneOf(1),
        alpha: expected(name, 'alpha_A_K'),
        beta: expected(name, 'beta_V_K'),
        rs: expected(name, 'Rs1_ohm'),
      },
      powerOf,
    });
    expect(found.found).toBe(true);
    if (found.found) expect(Math.abs(found.value / expected(name, 'kappa1_ohm_K') - 1)).toBeLessThan(0.04);
  });

  it('alpha, beta and B1 from sweeps at mixed conditions, within 2 % of the exact model', () => {
    const sweeps = sweepsOf(name, [
      [600, 30],
      [700, 50],
      [800, 25],
      [900, 45],
      [1000, 35],
      [1050, 55],
    ]);
    const current = fitCurrentCoefficients(sweeps)!;
    const voltage = fitVoltageCoefficients(sweeps)!;
    expect(Math.abs(current.isc.value / known.isc - 1)).toBeLessThan(3e-3);
    expect(Math.abs(voltage.voc.value / known.voc - 1)).toBeLessThan(3e-3);
    expect(Math.abs(voltage.beta.value / known.beta - 1)).toBeLessThan(0.02);
    expect(Math.abs(voltage.b1.value / coefficients[2].b1 - 1)).toBeLessThan(0.05);
  });
});

describe('standard errors', () => {
  it('say how far alpha and beta scatter: nearly all repetitions lie within three of them', () => {
    const random = xoroshiro128plus(7);
    const uniform = (): number => ((random.next() >>> 5) + 0.5) / 2 ** 27;
    const normal = (): number => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    const sweeps = sweepsOf(
      'row 4',
      [20, 25, 30, 35, 40, 45, 50, 55, 60].map((t, k) => [800 + 25 * (k % 4), t] as const),
    );
    const truth = { current: fitCurrentCoefficients(sweeps)!, voltage: fitVoltageCoefficients(sweeps)! };
    let inside = 0;
    for (let round = 0; round < 200; round++) {
      const noisy = sweeps.map((sweep) => ({
        ...sweep,
        isc: sweep.isc * (1 + 0.002 * normal()),
        voc: sweep.voc * (1 + 0.001 * normal()),
      }));
      const { alpha } = fitCurrentCoefficients(noisy)!;
      const { beta } = fitVoltageCoefficients(noisy)!;
      const off = [
        (alpha.value - truth.current.alpha.value) / alpha.standardError!,
        (beta.value - truth.voltage.beta.value) / beta.standardError!,
      ];
      if (off.every((ratio) => Math.abs(ratio) < 3)) inside++;
    }
    expect(inside).toBeGreaterThan(180);
    expect(inside).toBeLessThan(200);
  });
});

describe('refusals', () => {
  const coefficients = deviceCoefficients(perfectNameplate('row 4').coefficients[1], 1, 1);
  const task = (conditions: [number, number][], power = powerOf): SearchTask => ({
    procedure: 1,
    sweeps: sweepsOf('row 4', conditions),
    coefficients,
    powerOf: power,
  });

  it('conditions too much alike', () => {
    const alike = { found: false, refusal: 'conditions-alike' };
    expect(
      searchSeriesResistance(
        task([
          [800, 25],
          [820, 25],
        ]),
      ),
    ).toEqual(alike);
    expect(
      searchKappa(
        task([
          [800, 25],
          [800, 30],
        ]),
      ),
    ).toEqual(alike);
    expect(searchSeriesResistance(task([]))).toEqual(alike);
    expect(fitCurrentCoefficients(sweepsOf('row 4', [[800, 25]]))).toBeUndefined();
    expect(
      fitCurrentCoefficients(
        sweepsOf('row 4', [
          [800, 40],
          [900, 40],
        ]),
      ),
    ).toBeUndefined();
    expect(
      fitVoltageCoefficients(
        sweepsOf('row 4', [
          [800, 30],
          [800, 40],
          [800, 50],
        ]),
      ),
    ).toBeUndefined();
  });

  it('a spread that is least at the end of the range', () => {
    const rising = task([
      [700, 25],
      [800, 25],
      [900, 25],
    ]);
    const damaged = {
      ...rising,
      sweeps: rising.sweeps.map((sweep, k) => ({ ...sweep, isc: sweep.isc * (1 - 0.1 * (2 - k)) })),
    };
    const found = searchSeriesResistance(damaged);
    expect(found).toEqual({ found: false, refusal: 'edge' });
  });

  it('curves without a maximum', () => {
    expect(
      searchSeriesResistance(
        task(
          [
            [700, 25],
            [900, 25],
          ],
          () => undefined,
        ),
      ),
    ).toEqual({ found: false, refusal: 'no-power' });
  });
});
