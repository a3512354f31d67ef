import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  deviceCoefficients,
  type DeviceCoefficients,
  type ModuleCoefficients,
} from '../../src/physics/deviceCoefficients.js';
import { standardTestConditions, type Conditions } from '../../src/physics/ivCurve.js';
import {
  translateByProcedure1,
  translateByProcedure2,
  translatePointByProcedure1,
  translatePointByProcedure2,
  untranslatePointByProcedure1,
  untranslatePointByProcedure2,
} from '../../src/physics/translation.js';
import { translatePointByProcedure2Edition2009 } from '../../src/physics/translation2009.js';
import { readTable } from './checkData.js';
import {
  atConditions,
  characteristicPoints,
  deSotoModule,
  pointsOfSmoothCurve,
  wideCurve,
} from './deSotoModule.js';

const oneModule = (values: Partial<ModuleCoefficients>): DeviceCoefficients =>
  deviceCoefficients({ alpha: 0, beta: 0, rs: 0, kappa: 0, isc: 9, voc: 40, b1: 0, b2: 0, ...values }, 1, 1);

const from: Conditions = { irradiance: 800, cellTemperature: 50 };

describe('points by hand arithmetic', () => {
  // Equations as in MATLAB_PV_LIB (pvl_translate_IV_curve_IEC60891_1.m and _2.m); numbers worked out by hand.
  it('procedure 1', () => {
    const moved = translatePointByProcedure1(
      { voltage: 24, current: 7 },
      {
        isc: 8,
        from,
        to: standardTestConditions,
        coefficients: oneModule({ alpha: 0.005, beta: -0.13, rs: 0.3, kappa: 0.0015 }),
      },
    );
    expect(moved.current).toBeCloseTo(8.875, 12);
    expect(moved.voltage).toBeCloseTo(27.0203125, 10);
  });

  it('procedure 2, edition of 2009', () => {
    const moved = translatePointByProcedure2Edition2009(
      { voltage: 24, current: 7 },
      {
        voc: 29.5,
        from,
        to: standardTestConditions,
        alphaRel: 0.0005,
        betaRel: -0.0035,
        a: 0.045,
        rs: 0.3,
        kappa: 0.0015,
      },
    );
    expect(moved.current).toBeCloseTo(8.640625, 12);
    expect(moved.voltage).toBeCloseTo(26.709309, 6);
  });

  it('procedure 2, edition of 2021 (equations from memory; arithmetic by hand)', () => {
    // I2 = 1.25 * 7 / (1 + 0.0005 * 25) = 8.641975; f(800) = 1 + 0.045 ln 1.25 = 1.0100414602;
    // V2 = 24 - (0.3 + 0.0015 * 25) * 1.641975 + 0.0015 * 25 * 8.641975
    //      + 37 * (0.0035 * 1.0100414602 * 25 + 1 - 1/1.0100414602) = 27.407715.
    const moved = translatePointByProcedure2(
      { voltage: 24, current: 7 },
      {
        isc: 8,
        from,
        to: standardTestConditions,
        coefficients: oneModule({
          alpha: 0.0005 * 10,
          isc: 10,
          beta: -0.0035 * 37,
          voc: 37,
          rs: 0.3,
          kappa: 0.0015,
          b1: 0.045,
        }),
      },
    );
    expect(moved.current).toBeCloseTo(8.641975309, 8);
    const f = 1 + 0.045 * Math.log(1.25);
    expect(moved.voltage).toBeCloseTo(
      24 - 0.3375 * 1.641975309 + 0.0375 * 8.641975309 + 37 * (0.0875 * f + 1 - 1 / f),
      7,
    );
  });
});

const conditions: fc.Arbitrary<Conditions> = fc.record({
  irradiance: fc.double({ min: 100, max: 1400, noNaN: true }),
  cellTemperature: fc.double({ min: -20, max: 90, noNaN: true }),
});
const moduleCoefficients = fc.record({
  alpha: fc.double({ min: -0.001, max: 0.01, noNaN: true }),
  beta: fc.double({ min: -0.4, max: -0.05, noNaN: true }),
  rs: fc.double({ min: 0, max: 3, noNaN: true }),
  kappa: fc.double({ min: -0.001, max: 0.02, noNaN: true }),
  isc: fc.double({ min: 1, max: 20, noNaN: true }),
  voc: fc.double({ min: 20, max: 150, noNaN: true }),
  b1: fc.double({ min: 0.02, max: 0.08, noNaN: true }),
  b2: fc.double({ min: 0, max: 0.01, noNaN: true }),
});
const point = fc.record({
  voltage: fc.double({ min: -5, max: 150, noNaN: true }),
  current: fc.double({ min: -2, max: 20, noNaN: true }),
});

describe('laws that hold for any device', () => {
  const procedures = [
    { name: 'procedure 1', there: translatePointByProcedure1, back: untranslatePointByProcedure1 },
    { name: 'procedure 2', there: translatePointByProcedure2, back: untranslatePointByProcedure2 },
  ];

  it.each(procedures)('$name: the inverse undoes it', ({ there, back }) => {
    fc.assert(
      fc.property(conditions, conditions, moduleCoefficients, point, (start, to, module, p) => {
        const task = { isc: 5, from: start, to, coefficients: deviceCoefficients(module, 1, 1) };
        const returned = back(there(p, task), task);
        expect(returned.voltage).toBeCloseTo(p.voltage, 8);
        expect(returned.current).toBeCloseTo(p.current, 8);
      }),
    );
  });

  it.each(procedures)('$name: to the same conditions nothing moves', ({ there }) => {
    fc.assert(
      fc.property(conditions, moduleCoefficients, point, (at, module, p) => {
        const moved = there(p, { isc: 5, from: at, to: at, coefficients: deviceCoefficients(module, 1, 1) });
        expect(moved.voltage).toBeCloseTo(p.voltage, 10);
        expect(moved.current).toBeCloseTo(p.current, 10);
      }),
    );
  });

  it('procedure 2: there, on, and back is the direct way', () => {
    fc.assert(
      fc.property(conditions, conditions, conditions, moduleCoefficients, point, (a, b, c, module, p) => {
        const coefficients = deviceCoefficients(module, 1, 1);
        const viaB = translatePointByProcedure2(
          translatePointByProcedure2(p, { isc: 5, from: a, to: b, coefficients }),
          { isc: 5, from: b, to: c, coefficients },
        );
        const direct = translatePointByProcedure2(p, { isc: 5, from: a, to: c, coefficients });
        expect(viaB.voltage).toBeCloseTo(direct.voltage, 8);
        expect(viaB.current).toBeCloseTo(direct.current, 8);
      }),
    );
  });

  it.each(procedures)('$name: a device of equal modules moves as its modules do', ({ there }) => {
    const counts = fc.integer({ min: 1, max: 40 });
    fc.assert(
      fc.property(
        conditions,
        conditions,
        moduleCoefficients,
        point,
        counts,
        counts,
        (start, to, module, p, ns, np) => {
          const ofModule = there(p, {
            isc: 5,
            from: start,
            to,
            coefficients: deviceCoefficients(module, 1, 1),
          });
          const ofDevice = there(
            { voltage: p.voltage * ns, current: p.current * np },
            { isc: 5 * np, from: start, to, coefficients: deviceCoefficients(module, ns, np) },
          );
          expect(ofDevice.voltage / ns).toBeCloseTo(ofModule.voltage, 8);
          expect(ofDevice.current / np).toBeCloseTo(ofModule.current, 8);
        },
      ),
    );
  });
});

describe('whole curves', () => {
  const curve = {
    voltage: Float64Array.of(0, 10, 20, 20, 30),
    current: Float64Array.of(5, 4.9, 4.7, 4.7, 1),
  };
  const coefficients = oneModule({ alpha: 0.004, beta: -0.1, rs: 0.3, kappa: 0.002, b1: 0.04 });

  it('keeps every point and returns them by ascending voltage, even when noise swaps neighbours', () => {
    const noisy = { voltage: Float64Array.of(0, 10, 10.01, 20), current: Float64Array.of(5, 4.9, 5.4, 1) };
    const moved = translateByProcedure1(
      noisy,
      5,
      { irradiance: 1000, cellTemperature: 60 },
      standardTestConditions,
      oneModule({ rs: 0.3, kappa: -0.01 }),
    );
    expect(moved.voltage).toHaveLength(4);
    expect([...moved.voltage]).toEqual([...moved.voltage].sort((a, b) => a - b));
    expect([...moved.current].sort()).toEqual([1, 4.9, 5, 5.4]);
    expect(moved.current[1]).toBeCloseTo(5.4, 12);
  });

  it('with the same irradiance at every point gives what one irradiance gives', () => {
    const each = new Float64Array(5).fill(800);
    const plain1 = translateByProcedure1(curve, 5, from, standardTestConditions, coefficients);
    const point1 = translateByProcedure1(curve, 5, from, standardTestConditions, coefficients, each);
    const plain2 = translateByProcedure2(curve, from, standardTestConditions, coefficients);
    const point2 = translateByProcedure2(curve, from, standardTestConditions, coefficients, each);
    expect([...point1.voltage, ...point1.current]).toEqual([...plain1.voltage, ...plain1.current]);
    expect([...point2.voltage, ...point2.current]).toEqual([...plain2.voltage, ...plain2.current]);
  });

  it('takes a drift of irradiance out, point by point', () => {
    // Each point is measured on the curve of its own irradiance; the procedure then finds the undisturbed curve.
    const module = deSotoModule('row 1');
    const start: Conditions = { irradiance: 900, cellTemperature: 25 };
    const points = 400;
    const irradiance = Float64Array.from({ length: points }, (_, k) => 880 + (60 * k) / points);
    const steady = wideCurve(atConditions(module, start), points);
    const drifting = { voltage: new Float64Array(points), current: new Float64Array(points) };
    irradiance.forEach((g, k) => {
      const moment = wideCurve(atConditions(module, { ...start, irradiance: g }), points);
      drifting.voltage[k] = moment.voltage[k]!;
      drifting.current[k] = moment.current[k]!;
    });
    const truth = characteristicPoints(module.reference);
    const isc = characteristicPoints(atConditions(module, start)).isc;
    const device = oneModule({
      alpha: module.alpha,
      beta: -0.2427,
      rs: 1.283,
      isc: truth.isc,
      voc: truth.voc,
    });
    const corrected = pointsOfSmoothCurve(
      translateByProcedure1(drifting, isc, start, standardTestConditions, device, irradiance),
    );
    const uncorrected = pointsOfSmoothCurve(
      translateByProcedure1(drifting, isc, start, standardTestConditions, device),
    );
    const undisturbed = pointsOfSmoothCurve(
      translateByProcedure1(steady, isc, start, standardTestConditions, device),
    );
    expect(Math.abs(corrected.pmax / undisturbed.pmax - 1)).toBeLessThan(1e-4);
    expect(Math.abs(uncorrected.pmax / undisturbed.pmax - 1)).toBeGreaterThan(5e-3);
  });
});

describe('against the exact model, with coefficients determined from it', () => {
  // translation-selfcheck-derived.csv: computed apart from this project, see data/README.md.
  const cases = readTable('translation-selfcheck-derived.csv').map((row) => ({
    module: row['module']!,
    G: Number(row['G1']),
    T: Number(row['T1']),
    row,
  }));
  const number = (row: Record<string, string>, name: string): number => Number(row[name]);

  it.each(cases)('$module from $G W/m2, $T degC: procedure 1', ({ module, G, T, row }) => {
    const device = deSotoModule(module);
    const start = { irradiance: G, cellTemperature: T };
    const model = atConditions(device, start);
    const coefficients = oneModule({
      alpha: number(row, 'alpha_A_K'),
      beta: number(row, 'beta_V_K'),
      rs: number(row, 'Rs1_ohm'),
      kappa: number(row, 'kappa1_ohm_K'),
    });
    const moved = translateByProcedure1(
      wideCurve(model),
      characteristicPoints(model).isc,
      start,
      standardTestConditions,
      coefficients,
    );
    expect(Math.abs(characteristicPoints(device.reference).pmax / number(row, 'true_Pstc') - 1)).toBeLessThan(
      1e-5,
    );
    expect(Math.abs(pointsOfSmoothCurve(moved).pmax / number(row, 'P1_Pmax') - 1)).toBeLessThan(5e-5);
  });

  it.each(cases)('$module from $G W/m2, $T degC: procedure 2 of 2009', ({ module, G, T, row }) => {
    const device = deSotoModule(module);
    const start = { irradiance: G, cellTemperature: T };
    const model = atConditions(device, start);
    const stc = characteristicPoints(device.reference);
    const curve = wideCurve(model);
    const task = {
      voc: characteristicPoints(model).voc,
      from: start,
      to: standardTestConditions,
      alphaRel: number(row, 'alpha_A_K') / stc.isc,
      betaRel: number(row, 'beta_V_K') / stc.voc,
      a: number(row, 'a2'),
      rs: number(row, 'Rs2_ohm'),
      kappa: number(row, 'kappa2_ohm_K'),
    };
    const points = Array.from(curve.voltage, (voltage, k) =>
      translatePointByProcedure2Edition2009({ voltage, current: curve.current[k]! }, task),
    );
    const moved = pointsOfSmoothCurve({
      voltage: Float64Array.from(points, (p) => p.voltage),
      current: Float64Array.from(points, (p) => p.current),
    });
    expect(Math.abs(moved.pmax / number(row, 'P2_Pmax') - 1)).toBeLessThan(2e-4);
  });
});
