import { describe, expect, it } from 'vitest';
import {
  cellFromModuleTemperature,
  cellTemperatureFromVoc,
  equivalentCellTemperature,
} from '../../src/physics/cellTemperature.js';
import { deviceCoefficients, estimateB1, estimateB2 } from '../../src/physics/deviceCoefficients.js';
import { atConditions, characteristicPoints, deSotoModule } from './deSotoModule.js';

describe('back of module', () => {
  it('900 W/m2, back at 40.809 degC on an open rack, glass/glass: cell at 43.509 degC', () => {
    // pvlib-python, tests/test_temperature.py (model of SAND2004-3535).
    expect(cellFromModuleTemperature(40.809, 900)).toBeCloseTo(43.509, 3);
    expect(cellFromModuleTemperature(40.809, 900, 0)).toBe(40.809);
  });
});

describe('equivalent cell temperature from Voc', () => {
  it('36.6 V at STC, 32.9 V at 850 W/m2: 52.5822 degC', () => {
    // Arithmetic of procedure 2 of IEC 60891:2009 at I = 0; no published example was found.
    const at = equivalentCellTemperature(
      { voc: 32.9, irradiance: 850 },
      { voc: 36.6, irradiance: 1000, cellTemperature: 25 },
      -0.0034,
      0.045,
    );
    expect(at).toBeCloseTo(52.5822, 4);
  });

  const device = deviceCoefficients(
    { alpha: 0, beta: -0.1, rs: 0, kappa: 0, isc: 9, voc: 40, b1: 0.045, b2: 0.002 },
    10,
    1,
  );

  it('at 1000 W/m2 the device follows the same formula, whatever the count of modules', () => {
    const reference = { voc: 400, irradiance: 1000, cellTemperature: 25 };
    const formula = equivalentCellTemperature({ voc: 370, irradiance: 1000 }, reference, -1 / 400, 0.045);
    expect(cellTemperatureFromVoc(370, 1000, device)).toBeCloseTo(formula, 10);
  });

  // Worst error from 400 to 1100 W/m2 and 10 to 65 degC, in K, as found; the last is cadmium telluride.
  it.each([
    ['row 1', 0.3],
    ['row 2', 0.3],
    ['row 3', 0.3],
    ['row 4', 0.3],
    ['row 9', 0.5],
    ['row 5', 1.6],
  ])('%s: within %d K of the exact model, nearer than the formula of 2011', (name, tolerance) => {
    const module = deSotoModule(name);
    const stc = characteristicPoints(module.reference);
    const vocAt = (irradiance: number, cellTemperature: number): number =>
      characteristicPoints(atConditions(module, { irradiance, cellTemperature })).voc;
    const a = module.reference.thermalVoltage;
    const beta = vocAt(1000, 25.5) - vocAt(1000, 24.5);
    const b1 = estimateB1(a, stc.voc);
    const of = {
      alpha: 0,
      beta,
      rs: 0,
      kappa: 0,
      isc: stc.isc,
      voc: stc.voc,
      b1,
      b2: estimateB2(a, stc.voc),
    };
    const atStc = { voc: stc.voc, irradiance: 1000, cellTemperature: 25 };
    let [worst, worstOf2011] = [0, 0];
    for (const irradiance of [400, 600, 800, 1000, 1100]) {
      for (const cellTemperature of [10, 25, 45, 65]) {
        const voc = vocAt(irradiance, cellTemperature);
        const found = cellTemperatureFromVoc(voc, irradiance, deviceCoefficients(of, 1, 1))!;
        const of2011 = equivalentCellTemperature({ voc, irradiance }, atStc, beta / stc.voc, b1);
        worst = Math.max(worst, Math.abs(found - cellTemperature));
        worstOf2011 = Math.max(worstOf2011, Math.abs(of2011 - cellTemperature));
      }
    }
    expect(worst).toBeLessThan(tolerance);
    expect(worst).toBeLessThan(worstOf2011);
  });

  it.each([
    ['hotter than a cell can be', 200, 1000],
    ['colder than a cell can be', 480, 1000],
    ['no voltage', 0, 1000],
    ['no light', 400, 0],
    ['not a number', NaN, 1000],
  ])('is refused: %s', (_, voc, irradiance) => {
    expect(cellTemperatureFromVoc(voc, irradiance, device)).toBeUndefined();
  });

  it('is refused where Voc does not fall with temperature', () => {
    expect(cellTemperatureFromVoc(390, 1000, { ...device, beta: 0 })).toBeUndefined();
  });
});
