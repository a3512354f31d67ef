/** Coefficients from a campaign's own sweeps. Truth: modules of the CEC table carried by De Soto's equations, see cecCampaign.ts. */
import { describe, expect, it } from 'vitest';
import { ownCoefficients, type OwnCoefficients, type OwnSymbol } from '../../src/analysis/ownCoefficients.js';
import type { Conditions } from '../../src/physics/ivCurve.js';
import { coefficientNotes } from '../../src/presentation/coefficientTexts.js';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { disturbed } from '../physics/noise.js';
import { perfectNameplate } from '../physics/perfectNameplate.js';
import {
  csvOf,
  curveAt,
  instruments,
  moduleBlock,
  sweepBlock,
  wideCriteria,
  type ModuleOptions,
} from './cecCampaign.js';

interface Given {
  readonly name?: string;
  readonly noise?: number;
  readonly options?: ModuleOptions;
  readonly series?: number;
  /** This sweep has half its voltage. */
  readonly halved?: number;
  readonly edit?: (text: string) => string;
}

async function own(conditions: readonly Conditions[], given: Given = {}): Promise<OwnCoefficients> {
  const { name = 'row 4', noise = 0, options = {}, series = 10, halved, edit = (text) => text } = given;
  const sweeps = conditions.map(
    (at, k) =>
      `sweep S at 2026-05-14 ${String(8 + k).padStart(2, '0')}:00\n  irradiance ${at.irradiance} W/m2\n  temperature ${at.cellTemperature} degC cell\n  data "${k}.csv"\n  with T, R`,
  );
  const text = [
    moduleBlock(name, options),
    `string S\n  modules ${series} x M`,
    instruments,
    wideCriteria,
    ...sweeps,
  ];
  const tables = conditions.map((at, k) => {
    const whole = curveAt(name, at, { series });
    const curve = k === halved ? { ...whole, voltage: whole.voltage.map((v) => v / 2) } : whole;
    return [`${k}.csv`, csvOf(disturbed(curve, noise * curve.current[0]!, 0, k + 1))];
  });
  const evaluation = await evaluateText(
    edit(text.join('\n\n')),
    Object.fromEntries(tables) as Record<string, string>,
  );
  return ownCoefficients(
    evaluation.sweeps.map(({ id, target, analysis }) => ({ title: id, target, analysis })),
    evaluation.sweeps[0]!.target.module!,
  );
}

const find = ({ coefficients }: OwnCoefficients, symbol: OwnSymbol) =>
  coefficients.find((each) => each.symbol === symbol)!;

const mixed: Conditions[] = [
  { irradiance: 720, cellTemperature: 36 },
  { irradiance: 800, cellTemperature: 50 },
  { irradiance: 860, cellTemperature: 34 },
  { irradiance: 920, cellTemperature: 48 },
  { irradiance: 1000, cellTemperature: 38 },
  { irradiance: 1050, cellTemperature: 53 },
];

describe.each(['row 1', 'row 3', 'row 4', 'row 9'])(
  '%s, a string of 10, sweeps at six mixed conditions',
  (name) => {
    // As found; the truth of alpha and beta is the derivative of the model at STC, of Rs and kappa see perfectNameplate.ts.
    it('each coefficient of one module is near that of the exact model', async () => {
      const found = await own(mixed, { name });
      const { known, coefficients } = perfectNameplate(name);
      const off = (symbol: OwnSymbol, truth: number): number =>
        Math.abs(find(found, symbol).value! / truth - 1);
      expect(off('alpha', known.alpha)).toBeLessThan(0.05);
      expect(off('beta', known.beta)).toBeLessThan(0.02);
      expect(off('B1', coefficients[2].b1)).toBeLessThan(0.05);
      expect(off('Rs', coefficients[1].rs)).toBeLessThan(0.07);
      expect(off('kappa', coefficients[1].kappa)).toBeLessThan(0.16);
      for (const each of found.coefficients) {
        expect(each.residuals).toHaveLength(6);
        expect(Math.max(...each.residuals.map(({ residual }) => Math.abs(residual)))).toBeLessThan(0.002);
        expect(each.standardError).toBeGreaterThan(0);
      }
    });
  },
);

it('with noise, alpha and beta lie within four of their standard errors', async () => {
  const { known } = perfectNameplate('row 4');
  const found = await own(mixed, { noise: 0.002 });
  for (const [symbol, truth] of [
    ['alpha', known.alpha],
    ['beta', known.beta],
  ] as const) {
    const { value, standardError } = find(found, symbol);
    expect(Math.abs(value! - truth)).toBeLessThan(4 * standardError!);
  }
});

it('does not depend on how many modules were measured together', async () => {
  const [one, many] = [await own(mixed, { series: 1 }), await own(mixed, { series: 10 })];
  for (const symbol of ['alpha', 'beta', 'Rs'] as const)
    expect(find(many, symbol).value! / find(one, symbol).value!).toBeCloseTo(1, 3);
});

it('stands beside the nameplate, declared or estimated', async () => {
  const found = await own(mixed, { options: { lines: ['Rs 0.4 ohm'] } });
  expect(find(found, 'Rs').nameplate).toEqual({ value: 0.4, declared: true });
  expect(find(found, 'kappa').nameplate!.declared).toBe(false);
  expect(find(found, 'beta').nameplate!.declared).toBe(true);
  const without = await own(mixed, { options: { without: ['alpha', 'beta', 'gamma'] } });
  expect(find(without, 'beta').nameplate!.declared).toBe(false);
  expect(find(without, 'beta').value! / find(found, 'beta').value!).toBeCloseTo(1, 6);
});

describe('refusals name what is missing', () => {
  const at = (irradiance: number, cellTemperature: number): Conditions => ({ irradiance, cellTemperature });
  const refusals = async (...conditions: Conditions[]) => {
    const found = await own(conditions);
    return Object.fromEntries(found.coefficients.map(({ symbol, refusal }) => [symbol, refusal]));
  };

  it('too few sweeps', async () => {
    const found = await refusals(at(800, 30), at(1000, 50));
    for (const text of Object.values(found)) expect(text).toMatch(/at least [34] usable sweeps; there are 2/);
  });

  it('temperatures too near each other', async () => {
    const found = await refusals(at(700, 40), at(800, 42), at(900, 45), at(1000, 47));
    for (const symbol of ['alpha', 'beta', 'B1', 'kappa'])
      expect(found[symbol]).toMatch(/temperatures lie 7\.0 K apart; at least 10 K/);
    expect(found['Rs']).toBeUndefined();
  });

  it('irradiances too near each other', async () => {
    const found = await refusals(at(900, 30), at(920, 38), at(940, 46), at(960, 54));
    for (const symbol of ['B1', 'Rs'])
      expect(found[symbol]).toMatch(/1\.07 times the least; at least 1\.2 times/);
    expect(found['alpha']).toBeUndefined();
    expect(found['kappa']).toBeUndefined();
  });

  it('one condition that would stand for another coefficient', async () => {
    const found = await refusals(at(600, 25), at(750, 45), at(850, 30), at(1000, 55));
    expect(found['Rs']).toMatch(/more than 20 K apart/);
    expect(found['kappa']).toMatch(/more than 1\.5 times the least/);
  });
});

it('a sweep of another state of the device spoils them, and its residual shows which', async () => {
  // One of six sweeps with half its cells out of the current path.
  const spoilt = await own(mixed, { halved: 3 });
  const beta = find(spoilt, 'beta');
  expect(beta.value).toBeUndefined();
  expect(beta.refusal).toMatch(/scatter too much/);
  const worst = beta.residuals.reduce((a, b) => (Math.abs(b.residual) > Math.abs(a.residual) ? b : a));
  expect(worst).toMatchObject(mixed[3]!);
});

it('leaves out, with the reason, what says nothing', async () => {
  const found = await own(mixed, {
    edit: (text) =>
      text
        .replace('data "0.csv"', 'data "0.csv"\n  void "Cloud."')
        .replace('temperature 50 degC cell', 'temperature from Voc'),
  });
  expect(found.sweeps).toHaveLength(4);
  expect(found.leftOut.map(({ reason }) => reason)).toEqual([
    'declared void',
    expect.stringMatching(/from Voc/),
  ]);
});

it('pasted together, Rs, kappa and B1 need procedure 1 to be named, as the table of the coefficients says', async () => {
  const found = await own(mixed);
  const value = (symbol: OwnSymbol) => find(found, symbol).value!;
  const lines = [`Rs ${value('Rs')} ohm`, `kappa ${value('kappa')} ohm/K`, `B1 ${value('B1')}`];
  const at = { irradiance: 500, cellTemperature: 60 };
  const translated = async (criteria: string, pasted: readonly string[]) => {
    const text = [
      moduleBlock('row 4', { lines: pasted }),
      'string S\n  modules 10 x M',
      instruments,
      wideCriteria + criteria,
      sweepBlock('S', at, ['with T, R']),
    ].join('\n\n');
    const { sweeps } = await evaluateText(text, { 's.csv': csvOf(curveAt('row 4', at, { series: 10 })) });
    const { translated: curve, deviation } = sweeps[0]!.analysis;
    return { procedure: curve!.procedure, error: Math.abs(deviation.pmax!) };
  };
  const [automatic, named] = [
    await translated('', lines),
    await translated('\n  procedure IEC60891-1', lines),
  ];
  expect(automatic.procedure).toBe('IEC60891-2');
  expect(named.procedure).toBe('IEC60891-1');
  // The curves are those of the nameplate, so that whatever Pmax deviates is the error of the translation.
  expect(named.error).toBeLessThan(automatic.error);
  expect((await translated('', lines.slice(0, 2))).procedure).toBe('IEC60891-1');
  expect(coefficientNotes.join()).toContain('write `procedure IEC60891-1` into the criteria');
});
