/** The five parameters of measured sweeps. Truth: modules of the CEC table carried by De Soto's equations, see cecCampaign.ts. */
import { describe, expect, it } from 'vitest';
import { diodeFitOf } from '../../src/analysis/diodeFit.js';
import { inSeriesParallel } from '../../src/physics/singleDiode.js';
import { composeString, moduleWithSubstrings } from '../../src/physics/seriesComposition.js';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { atConditions } from '../physics/deSotoModule.js';
import { disturbed } from '../physics/noise.js';
import { perfectNameplate } from '../physics/perfectNameplate.js';
import { crystalline, csvOf, curveAt, listed, moduleBlock, sweepBlock, wideCriteria } from './cecCampaign.js';

const at = { irradiance: 820, cellTemperature: 47 };

async function swept(name: string, csv: string, more: string[] = [], criteria = wideCriteria) {
  const text = [
    moduleBlock(name),
    `string S\n  modules 10 x M${more.map((line) => `\n  ${line}`).join('')}`,
    criteria,
    sweepBlock('S', at),
  ];
  const { sweeps } = await evaluateText(text.join('\n\n'), { 's.csv': csv });
  return sweeps[0]!;
}

const noisy = (name: string, noise: number, seed: number): string => {
  const curve = curveAt(name, at, { series: 10, points: 200 });
  return csvOf(disturbed(curve, noise * curve.current[0]!, 0, seed));
};

describe.each(crystalline)('%s, 10 in series, 0.1 % noise', (name) => {
  it('each parameter lies within five of its standard uncertainties', async () => {
    const result = diodeFitOf(await swept(name, noisy(name, 1e-3, 3)));
    if (result.kind === 'none') throw new Error(result.reason);
    const model = inSeriesParallel(atConditions(perfectNameplate(name).module, at), 10, 1);
    const kelvin = at.cellTemperature + 273.15;
    const truth: Record<string, number> = {
      IL: model.photocurrent,
      I0: model.saturationCurrent,
      Rs: model.seriesResistance,
      Rsh: model.shuntResistance,
      // k/q = 8.617333262e-5 V/K (CODATA, exact by definition of the SI).
      n: model.thermalVoltage / (10 * listed(name).cells * 8.617333262e-5 * kelvin),
    };
    expect(result.fitted.values.map(({ symbol }) => symbol)).toEqual(Object.keys(truth));
    for (const { symbol, value, standardUncertainty } of result.fitted.values)
      expect(Math.abs(value - truth[symbol]!)).toBeLessThan(5 * standardUncertainty!);
  });

  it('the nameplate expects the curve that was measured: Isc within 0.2 %, Voc and Pmax within 0.3 %', async () => {
    const sweep = await swept(name, noisy(name, 0, 0));
    const result = diodeFitOf(sweep);
    if (result.kind === 'none') throw new Error(result.reason);
    const { expected } = result.fitted;
    const measured = sweep.analysis.measured!.parameters;
    expect(Math.abs(expected!.isc! / measured.isc! - 1)).toBeLessThan(0.002);
    expect(Math.abs(expected!.voc! / measured.voc! - 1)).toBeLessThan(0.003);
    expect(Math.abs(expected!.pmax! / measured.pmax! - 1)).toBeLessThan(0.003);
  });
});

it('is computed once, and with the cable taken off', async () => {
  const cable = 'cable 200 m, 4 mm2, copper';
  const [plain, through] = [
    await swept('row 4', noisy('row 4', 0, 0)),
    await swept('row 4', noisy('row 4', 0, 0), [cable]),
  ];
  expect(diodeFitOf(plain)).toBe(diodeFitOf(plain));
  const rs = (sweep: typeof plain): number => {
    const result = diodeFitOf(sweep);
    return result.kind === 'none' ? NaN : result.fitted.values.find(({ symbol }) => symbol === 'Rs')!.value;
  };
  const estimate = through.analysis.translated!.estimates.find(({ symbol }) => symbol === 'Rcable')!;
  expect(rs(plain) - rs(through)).toBeCloseTo(estimate.value, 3);
});

describe('a curve that one diode does not describe', () => {
  it('says that it has steps, whether or not it has a second maximum', async () => {
    const model = atConditions(perfectNameplate('row 4').module, at);
    const intact = moduleWithSubstrings(model, 3);
    for (const photocurrentShare of [0.5, 0.85]) {
      const shaded = moduleWithSubstrings(model, 3, { photocurrentShare, weakSubstrings: 2 });
      const curve = composeString([...Array.from({ length: 9 }, () => intact), shaded]);
      const result = diodeFitOf(await swept('row 4', csvOf(curve)));
      expect(result).toMatchObject({ kind: 'none' });
      if (result.kind === 'none') expect(result.reason).toMatch(/has steps/);
    }
  });

  it('says that its points do not reach', async () => {
    const curve = curveAt('row 4', at, { series: 10 });
    const cut = { voltage: curve.voltage.slice(0, 40), current: curve.current.slice(0, 40) };
    expect(diodeFitOf(await swept('row 4', csvOf(cut)))).toMatchObject({ kind: 'none' });
  });
});
