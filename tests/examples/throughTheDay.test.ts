/** The coefficients that the example finds are those of its simulated modules. The truth is in examples/simulate.ts, under `throughTheDay`. */
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { throughTheDay, trueModule } from '../../examples/simulate.js';
import { ownCoefficients, type OwnSymbol } from '../../src/analysis/ownCoefficients.js';
import { NodeFiles } from '../../src/cli/nodeFiles.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { atConditions } from '../../src/physics/nameplateModel.js';
import { characteristicPoints } from '../physics/deSotoModule.js';
import { coefficientsOf } from '../physics/perfectNameplate.js';

const folder = fileURLToPath(new URL('../../examples/through-the-day', import.meta.url));

describe('through-the-day', () => {
  let evaluation: Evaluation;
  let truth: Readonly<Record<OwnSymbol, number>>;
  beforeAll(async () => {
    evaluation = await new Workbook(new NodeFiles(folder)).evaluate(path.join(folder, 'campaign.sweepbook'));
    const reference = trueModule(evaluation.campaign.modules.get('KF108M')!.record, throughTheDay);
    const at = (irradiance: number, cellTemperature: number) =>
      characteristicPoints(atConditions(reference, { irradiance, cellTemperature }));
    const perKelvin = (name: 'isc' | 'voc' | 'pmax'): number => at(1000, 25.5)[name] - at(1000, 24.5)[name];
    const [alpha, beta, gamma] = [perKelvin('isc'), perKelvin('voc'), perKelvin('pmax')];
    const exact = coefficientsOf({ ...at(1000, 25), alpha, beta, gamma }, reference);
    truth = { alpha, beta, B1: exact[2].b1, Rs: exact[1].rs, kappa: exact[1].kappa };
  });
  const found = (address?: string) => {
    const of = evaluation.sweeps.filter((sweep) => address === undefined || sweep.address === address);
    return ownCoefficients(
      of.map(({ id, target, analysis }) => ({ title: id, target, analysis })),
      of[0]!.target.module!,
    ).coefficients;
  };

  it('has nothing wrong in its files, and all its sweeps pass', () => {
    expect(evaluation.problems).toEqual([]);
    expect(new Set(evaluation.sweeps.map(({ analysis }) => analysis.verdict))).toEqual(new Set(['pass']));
  });

  it.each([
    ['all sweeps of the type', undefined],
    ['the string', 'F1'],
    ['the module', 'F1/6'],
  ])('%s: each coefficient is the true one within twice its standard error', (_, address) => {
    for (const { symbol, value, standardError, refusal } of found(address)) {
      expect(refusal, symbol).toBeUndefined();
      const off = Math.abs(value! - truth[symbol]);
      expect(off, `${symbol} ${value} ± ${standardError}, true ${truth[symbol]}`).toBeLessThan(
        2 * standardError!,
      );
    }
  });

  it('finds that the data sheet is out in beta: true is 3.3 % less', () => {
    const beta = found().find(({ symbol }) => symbol === 'beta')!;
    expect(beta.value! / beta.nameplate!.value - 1).toBeLessThan(-0.015);
    expect(Math.abs(beta.value! - truth.beta)).toBeLessThan(2 * beta.standardError!);
    expect(Math.abs(beta.nameplate!.value - truth.beta)).toBeGreaterThan(2 * beta.standardError!);
  });
});
