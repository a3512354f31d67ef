import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  characteristicPoints,
  currentAtVoltage,
  inSeriesParallel,
  sampleCurve,
  voltageAtCurrent,
  type SingleDiode,
} from '../../src/physics/singleDiode.js';
import { junctionThermalVoltage } from '../../src/physics/constants.js';
import { readJson, readTable, relative } from './checkData.js';
import { plausibleDiode } from './plausibleDiode.js';

const residual = (model: SingleDiode, voltage: number, current: number): number => {
  const diode = voltage + current * model.seriesResistance;
  return (
    model.photocurrent -
    model.saturationCurrent * Math.expm1(diode / model.thermalVoltage) -
    diode / model.shuntResistance -
    current
  );
};

describe('published single points (pvlib tests/test_pvsystem.py, 1e-11)', () => {
  for (const row of readTable('single-diode-points.csv')) {
    it(`V ${row.V}, I ${row.I}: ${row.note}`, () => {
      const model = {
        photocurrent: Number(row.IL),
        saturationCurrent: Number(row.I0),
        seriesResistance: Number(row.Rs),
        shuntResistance: row.Rsh === 'inf' ? Infinity : Number(row.Rsh),
        thermalVoltage: Number(row.nNsVth),
      };
      expect(Math.abs(currentAtVoltage(model, Number(row.V)) - Number(row.I))).toBeLessThan(1e-11);
      expect(Math.abs(voltageAtCurrent(model, Number(row.I)) - Number(row.V))).toBeLessThan(1e-11);
    });
  }
});

describe('64 high-precision curves (pvlib tests/data/precise_iv_curves)', () => {
  for (const file of ['precise-iv-set1.csv', 'precise-iv-set2.csv']) {
    it(`${file}: characteristic points to 1e-11 relative`, () => {
      for (const row of readTable(file)) {
        const found = characteristicPoints(preciseModel(row));
        expect(relative(found.isc, Number(row.i_sc))).toBeLessThan(1e-11);
        expect(relative(found.voc, Number(row.v_oc))).toBeLessThan(1e-11);
        expect(relative(found.vmp, Number(row.v_mp))).toBeLessThan(1e-11);
        expect(relative(found.imp, Number(row.i_mp))).toBeLessThan(1e-11);
        expect(relative(found.pmax, Number(row.p_mp))).toBeLessThan(1e-11);
      }
    });
  }
});

describe('published modules', () => {
  it('CEC table rows reproduce their own nameplate to 0.05 %', () => {
    for (const row of readTable('cec-modules-2017-06-05.csv').slice(1)) {
      const found = characteristicPoints(cecModel(row));
      expect(relative(found.isc, Number(row.I_sc_ref))).toBeLessThan(5e-4);
      expect(relative(found.voc, Number(row.V_oc_ref))).toBeLessThan(5e-4);
      expect(relative(found.imp, Number(row.I_mp_ref))).toBeLessThan(5e-4);
      expect(relative(found.vmp, Number(row.V_mp_ref))).toBeLessThan(5e-4);
      expect(relative(found.pmax, Number(row.calc_Pmp))).toBeLessThan(1e-5);
    }
  });

  // Villalva, Gazoli, Ruppert, IEEE Trans. Power Electron. 24(5) (2009) 1198-1208, the 54-cell example; parameters and
  // nameplate as two public models cite them, the paper itself was not read.
  it('the 54-cell example of Villalva et al. gives its maximum power to 0.01 % and its voltages to 0.2 %', () => {
    const model = {
      photocurrent: 8.214,
      saturationCurrent: 9.825e-8,
      seriesResistance: 0.221,
      shuntResistance: 415.405,
      thermalVoltage: 1.3 * 54 * junctionThermalVoltage(25),
    };
    const found = characteristicPoints(model);
    expect(relative(found.pmax, 7.61 * 26.3)).toBeLessThan(1e-4);
    expect(relative(found.isc, 8.21)).toBeLessThan(1e-4);
    expect(relative(found.voc, 32.9)).toBeLessThan(6e-4);
    expect(relative(found.vmp, 26.3)).toBeLessThan(2e-3);
  });

  it('the example module of De Soto et al. as recomputed with an independent solver, to 1e-9', () => {
    const data = readJson<DeSotoExample>('desoto-example.json');
    const found = characteristicPoints({
      photocurrent: data.module.I_L_ref,
      saturationCurrent: data.module.I_o_ref,
      seriesResistance: data.module.R_s,
      shuntResistance: data.module.R_sh_ref,
      thermalVoltage: data.module.a_ref,
    });
    const expected = data.recomputed_here['1000W_25C']!;
    expect(relative(found.isc, expected.i_sc!)).toBeLessThan(1e-9);
    expect(relative(found.voc, expected.v_oc!)).toBeLessThan(1e-9);
    expect(relative(found.pmax, expected.p_mp!)).toBeLessThan(1e-9);
  });
});

describe('any plausible device', () => {
  it('current and voltage satisfy the model equation and undo each other, from 1 to 1500 W/m2, as 40 x 40 modules', () => {
    fc.assert(
      fc.property(
        plausibleDiode(),
        fc.integer({ min: 1, max: 40 }),
        fc.integer({ min: 1, max: 40 }),
        fc.double({ min: -0.3, max: 1.1, noNaN: true }),
        (module, series, parallel, share) => {
          const model = inSeriesParallel(module, series, parallel);
          const { voc, isc } = characteristicPoints(model);
          const voltage = share * voc;
          const current = currentAtVoltage(model, voltage);
          const steepness = 1 + Math.abs(current) / isc;
          expect(Math.abs(residual(model, voltage, current))).toBeLessThan(1e-9 * isc * steepness ** 2);
          // From current back to voltage is well conditioned only where the curve is not flat.
          if (share > 0.9) expect(relative(voltageAtCurrent(model, current), voltage)).toBeLessThan(1e-9);
        },
      ),
      { numRuns: 1000 },
    );
  });

  it('no point of the curve exceeds the maximum power', () => {
    fc.assert(
      fc.property(plausibleDiode(), fc.double({ min: 0, max: 1, noNaN: true }), (model, share) => {
        const { voc, pmax } = characteristicPoints(model);
        const voltage = share * voc;
        expect(voltage * currentAtVoltage(model, voltage)).toBeLessThanOrEqual(pmax * (1 + 1e-12));
      }),
    );
  });

  it('in series and in parallel, voltage and current multiply', () => {
    fc.assert(
      fc.property(
        plausibleDiode(),
        fc.integer({ min: 1, max: 40 }),
        fc.integer({ min: 1, max: 4 }),
        (one, s, p) => {
          const single = characteristicPoints(one);
          const many = characteristicPoints(inSeriesParallel(one, s, p));
          expect(relative(many.voc, single.voc * s)).toBeLessThan(1e-11);
          expect(relative(many.isc, single.isc * p)).toBeLessThan(1e-11);
          expect(relative(many.pmax, single.pmax * s * p)).toBeLessThan(1e-11);
        },
      ),
    );
  });

  it('a dark device gives zeros', () => {
    const dark = {
      photocurrent: 0,
      saturationCurrent: 1e-9,
      seriesResistance: 0.2,
      shuntResistance: 500,
      thermalVoltage: 1.4,
    };
    expect(characteristicPoints(dark)).toEqual({ isc: 0, voc: 0, imp: 0, vmp: 0, pmax: 0, ff: 0 });
  });
});

describe('sampling', () => {
  it('starts at short circuit, ends at open circuit, rises in voltage, and lies on the curve', () => {
    fc.assert(
      fc.property(plausibleDiode(), fc.integer({ min: 3, max: 200 }), (model, points) => {
        const { voltage, current } = sampleCurve(model, points);
        const { isc, voc } = characteristicPoints(model);
        expect([voltage[0], current[points - 1]]).toEqual([0, -0]);
        expect(relative(current[0]!, isc)).toBeLessThan(1e-12);
        expect(relative(voltage[points - 1]!, voc)).toBeLessThan(1e-12);
        for (let index = 1; index < points; index++) {
          expect(voltage[index]!).toBeGreaterThan(voltage[index - 1]!);
          expect(Math.abs(residual(model, voltage[index]!, current[index]!))).toBeLessThan(1e-9 * isc);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('runs on to the negative current asked for', () => {
    const model = {
      photocurrent: 9,
      saturationCurrent: 1e-9,
      seriesResistance: 0.2,
      shuntResistance: 500,
      thermalVoltage: 1.4,
    };
    const { current, voltage } = sampleCurve(model, 50, { toNegativeCurrent: 2 });
    expect(current[49]).toBe(-2);
    expect(voltage[49]).toBeCloseTo(voltageAtCurrent(model, -2), 9);
  });
});

interface DeSotoExample {
  module: { I_L_ref: number; I_o_ref: number; R_s: number; R_sh_ref: number; a_ref: number };
  recomputed_here: Record<string, Record<string, number>>;
}

function preciseModel(row: Record<string, string>): SingleDiode {
  return {
    photocurrent: Number(row.photocurrent),
    saturationCurrent: Number(row.saturation_current),
    seriesResistance: Number(row.resistance_series),
    shuntResistance: Number(row.resistance_shunt),
    thermalVoltage:
      Number(row.n) * Number(row.cells_in_series) * junctionThermalVoltage(Number(row.Temperature) - 273.15),
  };
}

function cecModel(row: Record<string, string>): SingleDiode {
  return {
    photocurrent: Number(row.I_L_ref),
    saturationCurrent: Number(row.I_o_ref),
    seriesResistance: Number(row.R_s),
    shuntResistance: Number(row.R_sh_ref),
    thermalVoltage: Number(row.a_ref),
  };
}
