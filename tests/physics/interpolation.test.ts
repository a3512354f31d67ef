import { describe, expect, it } from 'vitest';
import { junctionThermalVoltage } from '../../src/physics/constants.js';
import {
  interpolateByProcedure3,
  interpolationFraction,
  type CurveAt,
} from '../../src/physics/interpolation.js';
import type { Conditions } from '../../src/physics/ivCurve.js';
import {
  translateByJunctionTemperature,
  type JunctionDevice,
} from '../../src/physics/junctionTemperature.js';
import {
  atConditions,
  characteristicPoints,
  deSotoModule,
  pointsOfSmoothCurve,
  wideCurve,
} from './deSotoModule.js';

const curveAt = (name: string, irradiance: number, cellTemperature: number): CurveAt => {
  const conditions = { irradiance, cellTemperature };
  const model = atConditions(deSotoModule(name), conditions);
  return { curve: wideCurve(model), isc: characteristicPoints(model).isc, conditions };
};

describe('procedure 3', () => {
  it('(9 A, 30 V) and (4 A, 31 V), Isc 10 and 5 A, a = 0.4: (7 A, 30.4 V) at 800 W/m2 and 42 degC', () => {
    // Arithmetic by hand; the equations are from memory.
    const bright: Conditions = { irradiance: 1000, cellTemperature: 50 };
    const dim: Conditions = { irradiance: 500, cellTemperature: 30 };
    const a = interpolationFraction(bright, dim, { irradiance: 800, cellTemperature: 42 })!;
    expect(a).toBeCloseTo(0.4, 12);
    const between = interpolateByProcedure3(
      {
        curve: { voltage: Float64Array.of(0, 30), current: Float64Array.of(10, 9) },
        isc: 10,
        conditions: bright,
      },
      {
        curve: { voltage: Float64Array.of(0, 31, 33), current: Float64Array.of(5, 4, 3) },
        isc: 5,
        conditions: dim,
      },
      a,
    );
    expect([...between.curve.voltage]).toEqual([0, expect.closeTo(30.4, 12)]);
    expect([...between.curve.current]).toEqual([expect.closeTo(8, 12), expect.closeTo(7, 12)]);
    expect(between.conditions.irradiance).toBeCloseTo(800, 10);
    expect(between.conditions.cellTemperature).toBeCloseTo(42, 10);
    expect(between.isc).toBeCloseTo(8, 12);
  });

  it.each(['row 1', 'row 4', 'row 5', 'row 9'])(
    '%s: halfway between two curves it is within 0.2 % of the exact model',
    (name) => {
      const pairs: [CurveAt, CurveAt][] = [
        [curveAt(name, 1000, 25), curveAt(name, 800, 25)],
        [curveAt(name, 1000, 45), curveAt(name, 1000, 25)],
      ];
      for (const [first, second] of pairs) {
        const between = interpolateByProcedure3(first, second, 0.5);
        const truth = characteristicPoints(atConditions(deSotoModule(name), between.conditions));
        const found = pointsOfSmoothCurve(between.curve);
        for (const key of ['isc', 'voc', 'pmax'] as const) {
          expect(Math.abs(found[key] / truth[key] - 1)).toBeLessThan(2e-3);
        }
      }
    },
  );

  it('says nothing of curves that do not differ, and leaves out points without a partner', () => {
    const at: Conditions = { irradiance: 900, cellTemperature: 40 };
    expect(interpolationFraction(at, at, { irradiance: 1000, cellTemperature: 25 })).toBeUndefined();
    expect(interpolationFraction(at, { ...at, cellTemperature: 20 }, { ...at, cellTemperature: 30 })).toBe(
      0.5,
    );
    const first = {
      curve: { voltage: Float64Array.of(0, 30, 34), current: Float64Array.of(10, 9, 0) },
      isc: 10,
      conditions: at,
    };
    const short = {
      curve: { voltage: Float64Array.of(0, 31), current: Float64Array.of(5, 4) },
      isc: 5,
      conditions: at,
    };
    expect(interpolateByProcedure3(first, short, 0.5).curve.voltage).toHaveLength(2);
  });
});

describe('voltage-temperature relation of the silicon junction', () => {
  // As found; the relation has one band gap for all silicon, the model of the table another (1.21 eV + 3 kT instead of 1.232 eV).
  it.each([
    ['row 3', 54],
    ['row 4', 60],
    ['row 1', 96],
    ['row 2', 96],
  ])(
    '%s, %d cells, from 55 degC: Voc and Pmax within 1 % with the ideality factor, within 2.5 % without',
    (name, cells) => {
      const module = deSotoModule(name);
      const hot = atConditions(module, { irradiance: 1000, cellTemperature: 55 });
      const device = { cells, rs: hot.seriesResistance, alpha: module.alpha };
      const ideality = module.reference.thermalVoltage / (cells * junctionThermalVoltage(25));
      const truth = characteristicPoints(module.reference);
      const errors = (of: JunctionDevice): number => {
        const moved = pointsOfSmoothCurve(translateByJunctionTemperature(wideCurve(hot), 55, 25, of));
        return Math.max(Math.abs(moved.voc / truth.voc - 1), Math.abs(moved.pmax / truth.pmax - 1));
      };
      expect(errors({ ...device, ideality })).toBeLessThan(0.01);
      expect(errors(device)).toBeLessThan(0.025);
    },
  );

  it('goes there and back to the same points', () => {
    const curve = { voltage: Float64Array.of(0, 20, 30), current: Float64Array.of(9, 8.5, 2) };
    const device = { cells: 60, rs: 0.3, alpha: 0.004 };
    const back = translateByJunctionTemperature(
      translateByJunctionTemperature(curve, 55, 25, device),
      25,
      55,
      device,
    );
    back.voltage.forEach((v, k) => expect(v).toBeCloseTo(curve.voltage[k]!, 10));
    back.current.forEach((i, k) => expect(i).toBeCloseTo(curve.current[k]!, 10));
  });
});
