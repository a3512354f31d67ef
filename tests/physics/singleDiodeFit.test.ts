import { describe, expect, it } from 'vitest';
import { junctionThermalVoltage } from '../../src/physics/constants.js';
import { sampleCurve } from '../../src/physics/singleDiode.js';
import { fitSingleDiode } from '../../src/physics/singleDiodeFit.js';
import { readTable, relative } from './checkData.js';
import { disturbed } from './noise.js';

const precise = ['precise-iv-set1.csv', 'precise-iv-set2.csv'].flatMap(readTable).map((row) => ({
  photocurrent: Number(row.photocurrent),
  saturationCurrent: Number(row.saturation_current),
  seriesResistance: Number(row.resistance_series),
  shuntResistance: Number(row.resistance_shunt),
  thermalVoltage: Number(row.n) * Number(row.cells_in_series) * junctionThermalVoltage(25),
}));

describe('five parameters of the 64 published curves (pvlib tests/data/precise_iv_curves)', () => {
  it('come back from 100 exact points to 1e-7 relative', () => {
    expect(precise).toHaveLength(64);
    for (const model of precise) {
      const fit = fitSingleDiode(sampleCurve(model, 100))!;
      for (const key of Object.keys(model) as (keyof typeof model)[]) {
        expect(relative(fit.model[key], model[key])).toBeLessThan(1e-7);
      }
    }
  });

  it('lie within five standard errors with 0.1 % noise, and two thirds within one', () => {
    let within = 0;
    let all = 0;
    precise.forEach((model, index) => {
      const exact = sampleCurve(model, 200);
      const { model: found, standardErrors } = fitSingleDiode(
        disturbed(exact, 1e-3 * exact.current[0]!, 0, index),
      )!;
      const deviations = [
        (found.photocurrent - model.photocurrent) / standardErrors.photocurrent,
        (found.seriesResistance - model.seriesResistance) / standardErrors.seriesResistance,
        (1 / found.shuntResistance - 1 / model.shuntResistance) / standardErrors.shuntConductance,
        (found.thermalVoltage - model.thermalVoltage) / standardErrors.thermalVoltage,
      ];
      for (const deviation of deviations) {
        expect(Math.abs(deviation)).toBeLessThan(5);
        all++;
        if (Math.abs(deviation) < 1) within++;
      }
    });
    expect(within / all).toBeGreaterThan(0.55);
    expect(within / all).toBeLessThan(0.85);
  });
});

it('no fit for points without power', () => {
  expect(
    fitSingleDiode({ voltage: Float64Array.of(0, 1, 2), current: Float64Array.of(-1, -1, -1) }),
  ).toBeUndefined();
});
