import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  atConditions,
  fiveParametersFromNameplate,
  openCircuitCoefficient,
  type DiodeReference,
} from '../../src/physics/nameplateModel.js';
import { bandGapOf } from '../../src/physics/semiconductors.js';
import { characteristicPoints, inSeriesParallel } from '../../src/physics/singleDiode.js';
import { readJson, readTable, relative } from './checkData.js';

/** The invented module of the demo. */
const demo = {
  isc: 13.9,
  voc: 37.2,
  imp: 13.09,
  vmp: 31.2,
  alpha: 0.00045 * 13.9,
  beta: -0.0027 * 37.2,
  cells: 54,
};

describe('five parameters', () => {
  // In the CEC table the five equations hold for alpha (1 - Adjust/100) and beta (1 + Adjust/100), with the band gap of
  // silicon for every technology (A. Dobos, J. Sol. Energy Eng. 134 (2012) 021011; from memory, not confirmed, but the
  // agreement below would not come by chance).
  for (const row of readTable('cec-modules-2017-06-05.csv').slice(1)) {
    it(`of CEC ${row.Name} (${row.Technology}) are those of the table`, () => {
      const adjust = Number(row.Adjust) / 100;
      const { reference, compromise } = fiveParametersFromNameplate({
        isc: Number(row.I_sc_ref),
        voc: Number(row.V_oc_ref),
        imp: Number(row.I_mp_ref),
        vmp: Number(row.V_mp_ref),
        alpha: Number(row.alpha_sc) * (1 - adjust),
        beta: Number(row.beta_oc) * (1 + adjust),
        technology: 'mono-Si',
      });
      const model = reference!.model;
      expect(compromise).toBe(false);
      // The table gives three to five digits; I0 moves with exp(Voc/a).
      expect(relative(model.photocurrent, Number(row.I_L_ref))).toBeLessThan(3e-4);
      expect(relative(model.thermalVoltage, Number(row.a_ref))).toBeLessThan(1e-3);
      expect(relative(model.seriesResistance, Number(row.R_s))).toBeLessThan(2e-3);
      expect(relative(model.shuntResistance, Number(row.R_sh_ref))).toBeLessThan(4e-3);
      expect(relative(model.saturationCurrent, Number(row.I_o_ref))).toBeLessThan(3e-2);
    });
  }

  it('of the demo module reproduce its nameplate and beta, with an ideality factor near one', () => {
    const { reference, ideality, estimated } = fiveParametersFromNameplate(demo);
    const points = characteristicPoints(reference!.model);
    expect(relative(points.isc, 13.9)).toBeLessThan(1e-9);
    expect(relative(points.voc, 37.2)).toBeLessThan(1e-9);
    expect(relative(points.imp, 13.09)).toBeLessThan(1e-7);
    expect(relative(points.vmp, 31.2)).toBeLessThan(1e-7);
    expect(relative(openCircuitCoefficient(reference!), demo.beta)).toBeLessThan(1e-9);
    expect(ideality).toBeGreaterThan(0.9);
    expect(ideality).toBeLessThan(1.1);
    expect(estimated).toEqual([]);
  });

  it('exist for any plausible nameplate, pass through its points, and meet beta or say that they do not', () => {
    const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const plates = fc.record({
      isc: between(0.5, 25),
      voc: between(10, 250),
      // Together fill factors of 0.52 to 0.86.
      imp: between(0.84, 0.965),
      vmp: between(0.68, 0.88),
      alpha: between(-0.0002, 0.0012),
      beta: between(-0.0045, -0.0018),
      technology: fc.constantFrom(
        'mono-Si',
        'multi-Si',
        'HJT',
        'a-Si',
        'CdTe',
        'CIGS',
        'CIS',
        'GaAs',
        'perovskite',
      ),
    });
    let compromises = 0;
    fc.assert(
      fc.property(plates, (plate) => {
        const nameplate = {
          ...plate,
          imp: plate.imp * plate.isc,
          vmp: plate.vmp * plate.voc,
          alpha: plate.alpha * plate.isc,
          beta: plate.beta * plate.voc,
        } as const;
        const { reference, compromise, betaResidual, failure } = fiveParametersFromNameplate(nameplate);
        expect(failure).toBeUndefined();
        const { model } = reference!;
        expect(model.seriesResistance).toBeGreaterThanOrEqual(0);
        expect(model.shuntResistance).toBeGreaterThan(0);
        const points = characteristicPoints(model);
        expect(relative(points.isc, nameplate.isc)).toBeLessThan(1e-8);
        expect(relative(points.voc, nameplate.voc)).toBeLessThan(1e-8);
        expect(relative(points.pmax, nameplate.imp * nameplate.vmp)).toBeLessThan(1e-8);
        expect(relative(points.vmp, nameplate.vmp)).toBeLessThan(1e-5);
        if (compromise) compromises++;
        else expect(Math.abs(betaResidual! / nameplate.beta)).toBeLessThan(1e-6);
      }),
      { numRuns: 500 },
    );
    expect(compromises).toBeLessThan(400);
  });

  it('take the median of the technology where a coefficient is missing, and say so', () => {
    const { reference, estimated } = fiveParametersFromNameplate({
      ...demo,
      alpha: undefined,
      beta: undefined,
      technology: 'HJT',
    });
    expect(estimated).toEqual(['alpha', 'beta']);
    expect(relative(openCircuitCoefficient(reference!), -0.0024 * 37.2)).toBeLessThan(1e-6);
    expect(fiveParametersFromNameplate({ ...demo, beta: 0.1 }).estimated).toEqual(['beta']);
  });

  it('of a half-cut module follow from the values between its terminals', () => {
    const half = fiveParametersFromNameplate({
      ...demo,
      isc: demo.isc / 2,
      imp: demo.imp / 2,
      alpha: demo.alpha / 2,
    });
    const whole = fiveParametersFromNameplate(demo);
    const joined = inSeriesParallel(half.reference!.model, 1, 2);
    expect(relative(joined.seriesResistance, whole.reference!.model.seriesResistance)).toBeLessThan(1e-9);
    expect(half.ideality).toBeCloseTo(whole.ideality!, 9);
  });

  it('name the reason where there are none', () => {
    const failureOf = (change: object) => fiveParametersFromNameplate({ ...demo, ...change }).failure;
    expect(failureOf({ isc: 0 })).toBe('not-positive');
    expect(failureOf({ voc: NaN })).toBe('not-positive');
    expect(failureOf({ imp: 14 })).toBe('imp-not-below-isc');
    expect(failureOf({ vmp: 37.2 })).toBe('vmp-not-below-voc');
    expect(failureOf({ vmp: 18 })).toBe('maximum-below-half');
    expect(failureOf({ imp: 13.8999, vmp: 37.199 })).toBe('fill-factor-too-high');
  });
});

describe('other conditions', () => {
  const data = readJson<Example>('desoto-example.json');
  const reference: DiodeReference = {
    model: {
      photocurrent: data.module.I_L_ref,
      saturationCurrent: data.module.I_o_ref,
      seriesResistance: data.module.R_s,
      shuntResistance: data.module.R_sh_ref,
      thermalVoltage: data.module.a_ref,
    },
    alpha: data.module.alpha_sc,
    bandGap: bandGapOf('mono-Si'),
  };

  it('give IL, a and Rsh of the worked example (pvlib tests/test_pvsystem.py, calcparams_desoto)', () => {
    const model = atConditions(reference, { irradiance: 800, cellTemperature: 50 });
    expect(model.photocurrent).toBeCloseTo(6.096, 6);
    expect(model.thermalVoltage).toBeCloseTo(0.5127, 4);
    expect(model.shuntResistance).toBeCloseTo(19.65, 6);
    expect(model.seriesResistance).toBe(0.094);
  });

  for (const [name, expected] of Object.entries(data.recomputed_here)) {
    it(`${name}: parameters and points as recomputed with an independent implementation`, () => {
      const [irradiance, cellTemperature] = name.match(/\d+/g)!.map(Number) as [number, number];
      const model = atConditions(reference, { irradiance, cellTemperature });
      // That implementation's Boltzmann constant has nine digits, which reach I0 through an exponent of 44.
      expect(relative(model.saturationCurrent, expected.I0!)).toBeLessThan(1e-7);
      const found = characteristicPoints(model);
      expect(relative(found.voc, expected.v_oc!)).toBeLessThan(1e-8);
      expect(relative(found.isc, expected.i_sc!)).toBeLessThan(1e-9);
      expect(relative(found.pmax, expected.p_mp!)).toBeLessThan(1e-8);
    });
  }
});

interface Example {
  module: {
    alpha_sc: number;
    I_L_ref: number;
    I_o_ref: number;
    R_s: number;
    R_sh_ref: number;
    a_ref: number;
  };
  recomputed_here: Record<string, Record<string, number>>;
}
