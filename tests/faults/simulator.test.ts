/** The simulator against what is published, before anything is judged by it. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readTable } from '../physics/checkData.js';
import { bypassCurrent, diodeAt, schottky } from './simulator/bypassDiode.js';
import { currentAt, junctionAt, terminalVoltage, type Avalanche, type Cell } from './simulator/cell.js';
import { electronVolt } from './simulator/constants.js';
import { curveValues, labelOf, moduleCurve } from './simulator/label.js';
import { asTheType, cellOf, moduleTypes, type ModuleType } from './simulator/moduleTypes.js';
import { soundModule, stringTable } from './simulator/plantString.js';
import { inSeries } from './simulator/series.js';
import { currentOf, tableOf } from './simulator/substring.js';

const none: Avalanche = { share: 0, voltage: -1000, exponent: 3 };
/** Never conducts. */
const noBypass = { saturation: 1e-30, thermal: 1 };
const types: readonly ModuleType[] = Object.values(moduleTypes);

const voltage = (cell: Cell, current: number): number =>
  terminalVoltage(cell, junctionAt(cell, current), current);

it('shares no code with what it judges', () => {
  const folder = new URL('./simulator/', import.meta.url);
  const imported = readdirSync(folder).flatMap((name) =>
    [...readFileSync(new URL(name, folder), 'utf8').matchAll(/from '([^']+)'/g)].map(([, from]) => from!),
  );
  expect(imported.length).toBeGreaterThan(10);
  expect(imported.filter((from) => !/^(\.\/\w+\.js|pure-rand\/.+)$/.test(from))).toEqual([]);
});

describe('a cell', () => {
  // Points that the tests of pvlib-python hold its solution against; see tests/physics/data/README.md.
  it.each(readTable('single-diode-points.csv'))('at $I A of $IL A has $V V ($note)', (row) => {
    const cell: Cell = {
      photocurrent: Number(row.IL),
      saturation: Number(row.I0),
      thermal: Number(row.nNsVth),
      series: Number(row.Rs),
      shunt: row.Rsh === 'inf' ? Infinity : Number(row.Rsh),
      defect: 0,
      avalanche: none,
    };
    expect(voltage(cell, Number(row.I))).toBeCloseTo(Number(row.V), 5);
  });

  // The precise curves of pvlib-python, computed with 40 digits; see tests/physics/data/README.md.
  it.each(['precise-iv-set1.csv', 'precise-iv-set2.csv'])('%s: Isc, Voc and the maximum', (file) => {
    for (const row of readTable(file)) {
      const of = (name: string): number => Number(row[name]);
      const count = of('cells_in_series');
      const cell: Cell = {
        photocurrent: of('photocurrent'),
        saturation: of('saturation_current'),
        thermal: of('n') * electronVolt(of('Temperature') - 273.15),
        series: of('resistance_series') / count,
        shunt: of('resistance_shunt') / count,
        defect: 0,
        avalanche: none,
      };
      expect(count * voltage(cell, 0)).toBeCloseTo(of('v_oc'), 5);
      expect(count * voltage(cell, of('i_sc'))).toBeCloseTo(0, 5);
      expect(count * voltage(cell, of('i_mp'))).toBeCloseTo(of('v_mp'), 5);
      // As the cases are drawn: from tables, summed; they end where no silicon cell has its Voc.
      if (of('v_oc') / count > 0.75) continue;
      const table = tableOf({ kind: 'cells', paths: [[{ cell, count }]], diode: noBypass });
      const highest = 1.1 * cell.photocurrent;
      const values = curveValues(inSeries([table, table], 0, -0.04 * highest, highest));
      expect(Math.abs(values.pmax / (2 * of('p_mp')) - 1)).toBeLessThan(2e-4);
      expect(Math.abs(values.voc / (2 * of('v_oc')) - 1)).toBeLessThan(2e-4);
      expect(Math.abs(values.isc / of('i_sc') - 1)).toBeLessThan(2e-4);
    }
  });

  // tests/test_singlediode.py of pvlib-python, test_pvsyst_breakdown: a = 1e-4, Vbr = -5.5 V, m = 3.28, without recombination.
  it('with the avalanche term: maximum, Isc and Voc of a published case', () => {
    const suns = 0.888;
    const [cells, ideality] = [108, 1.48 + 0.001 * 30];
    const [reference, now] = [electronVolt(25), electronVolt(55)];
    const base = (5000 - 12500 * Math.exp(-3.1)) / (1 - Math.exp(-3.1));
    const cell: Cell = {
      photocurrent: suns * (1.5743233463848496 + 0.00039 * 30),
      saturation: 9.62e-10 * (now / reference) ** 3 * Math.exp((1.5 / ideality) * (1 / reference - 1 / now)),
      thermal: ideality * cells * now,
      series: 4.6,
      shunt: base + (12500 - base) * Math.exp(-3.1 * suns),
      defect: 0,
      avalanche: { share: 1e-4, voltage: -5.5, exponent: 3.28 },
    };
    expect(voltage(cell, 0) / 79.646).toBeCloseTo(1, 3);
    expect(voltage(cell, 1.4071)).toBeCloseTo(0, 0);
    const powers = Array.from({ length: 4000 }, (_, step) => (step * 1.4) / 4000).map(
      (current) => current * voltage(cell, current),
    );
    expect(Math.max(...powers) / 79.723).toBeCloseTo(1, 3);
  });

  // Bishop, Solar Cells 25 (1988) 73-89, worked by hand: halfway to breakdown the shunt carries 1 + a 2^m times its current.
  it('in reverse: the shunt carries 1 + a (1 - u/Vbr)^-m times its current', () => {
    const cell: Cell = {
      photocurrent: 0,
      saturation: 0,
      thermal: 0.026,
      series: 0,
      shunt: 10,
      defect: 0,
      avalanche: { share: 0.1, voltage: -15, exponent: 3 },
    };
    expect(currentAt(cell, -7.5)).toBeCloseTo(0.75 * (1 + 0.1 * 8), 9);
  });
});

describe('the bypass diode', () => {
  const forward = (temperature: number, current: number): number => {
    const { saturation, thermal } = diodeAt(schottky, temperature);
    return thermal * Math.log1p(current / saturation);
  };

  // Data sheet of the bypass type 10SQ050, rev. 1, April 2013: at most 0.55 V at 10 A, at most 0.05 mA and 10 mA at 25 and 100 degC.
  it('drops no more and leaks no more than a data sheet allows', () => {
    expect(forward(25, 10)).toBeLessThan(0.55);
    expect(forward(25, 10)).toBeGreaterThan(0.3);
    expect(forward(100, 10)).toBeLessThan(forward(25, 10));
    expect(-bypassCurrent(diodeAt(schottky, 25), 12)).toBeLessThan(0.05e-3);
    expect(-bypassCurrent(diodeAt(schottky, 100), 12)).toBeLessThan(10e-3);
  });

  // Shin et al., Energies 11 (2018) 2416, abstract: up to 35 times from 25 to 70 degC at 15 V reverse.
  it('leaks some 35 times as much at 70 degC as at 25 degC', () => {
    const ratio = bypassCurrent(diodeAt(schottky, 70), 15) / bypassCurrent(diodeAt(schottky, 25), 15);
    expect(ratio).toBeGreaterThan(28);
    expect(ratio).toBeLessThan(42);
  });
});

/**
 * M. A. Green, Solar Cells 7 (1982) 337-340: FF0 of the ideal curve and FF0 (1 - 1.1 rs) + rs^2/5.4 with series resistance, for
 * normalized Voc above 10 and rs below 0.4; the equation and this range as in Wenham et al., Applied Photovoltaics, equation 3.20.
 */
describe('fill factor with series resistance after Green (1982)', () => {
  const green = (voc: number, rs: number): number => {
    const ideal = (voc - Math.log(voc + 0.72)) / (voc + 1);
    return ideal * (1 - 1.1 * rs) + rs ** 2 / 5.4;
  };
  const fillFactor = (type: ModuleType, count: number, resistance: number) => {
    const cell: Cell = {
      ...cellOf(type, asTheType, 1000, 25),
      shunt: Infinity,
      series: 0,
      avalanche: none,
    };
    const path = [{ cell, count: type.cells / type.substrings }];
    const table = tableOf({ kind: 'cells', paths: type.halfCut ? [path, path] : [path], diode: noBypass });
    const parts = Array.from({ length: count * type.substrings }, () => table);
    const { isc, voc, pmax } = curveValues(inSeries(parts, resistance, -0.5, 1.1 * type.cell.photocurrent));
    const normalized = voc / (count * type.cells * cell.thermal);
    return { found: pmax / (isc * voc), expected: green(normalized, (resistance * isc) / voc) };
  };

  it.each(types)('$name: strings of 8 to 28 with 0, 2 and 5 ohm agree to 1 %', (type) => {
    for (const count of [8, 18, 28])
      for (const resistance of [0, 2, 5]) {
        const { found, expected } = fillFactor(type, count, resistance);
        expect(Math.abs(found / expected - 1), `${count} modules, ${resistance} ohm`).toBeLessThan(0.01);
      }
  });

  it('the resistance of the cells acts as one in series', () => {
    const type = moduleTypes.KF72M;
    const piece = { ...asTheType, series: 3 };
    const own = curveValues(stringTable({ type, modules: [soundModule(piece)], resistance: 0 }, 1000, 25));
    const added = 2 * type.cell.series * type.cells;
    const outside = curveValues(
      stringTable({ type, modules: [soundModule(asTheType)], resistance: added }, 1000, 25),
    );
    expect(own.pmax / outside.pmax).toBeCloseTo(1, 3);
  });
});

describe('a shaded cell', () => {
  const whole = types.filter(({ halfCut }) => !halfCut);

  // Nothing but the other cells of its substring, and the current of the diode, can heat it.
  it.each(whole)('$name: takes up no more than the rest of its substring gives', (type) => {
    const count = type.cells / type.substrings;
    const lit = cellOf(type, asTheType, 1000, 50);
    const best = curveValues(moduleCurve(type, 1000, 50)).pmax / type.cells;
    for (const light of [0, 0.1, 0.2, 0.4]) {
      const shaded = { ...lit, photocurrent: lit.photocurrent * light };
      let most = 0;
      for (let current = 0.05; current < lit.photocurrent; current += 0.05) {
        const own = voltage(shaded, current);
        const rest = (count - 1) * voltage(lit, current);
        // Beyond this the diode is on and takes over what the string carries.
        if (own + rest < -0.5) break;
        most = Math.max(most, -own * current);
      }
      expect(most).toBeGreaterThan(light === 0 ? 0 : best);
      expect(most).toBeLessThan((count - 1) * best * 1.02 + 0.5 * lit.photocurrent);
    }
  });

  it.each(types)('$name: the diode keeps the substring from going further than its own drop', (type) => {
    const shade = { substring: 0, path: 0, cells: 1, light: 0.2 };
    const module = { ...soundModule(asTheType), shades: [shade, { ...shade, path: 1 }] };
    const values = (state: typeof module): number =>
      currentVoltage(
        stringTable({ type, modules: [state], resistance: 0 }, 1000, 50),
        0.9 * type.cell.photocurrent,
      );
    const lost = values({ ...module, shades: [] }) - values(module);
    const substring = values({ ...module, shades: [] }) / type.substrings;
    expect(lost - substring).toBeGreaterThan(0.2);
    expect(lost - substring).toBeLessThan(0.55);
  });

  it('in a half-cut module, dark, leaves its substring half the current', () => {
    const type = moduleTypes.KF108H;
    const dark = { ...soundModule(asTheType), shades: [{ substring: 0, path: 0, cells: 1, light: 0 }] };
    const table = stringTable({ type, modules: [dark], resistance: 0 }, 1000, 25);
    const { voc } = labelOf(type);
    expect(currentOf(table, 0.85 * voc) / type.cell.photocurrent).toBeCloseTo(0.5, 1);
    expect(currentOf(table, 0.5 * voc) / type.cell.photocurrent).toBeGreaterThan(0.95);
  });
});

describe('a string', () => {
  it.each(types)('$name: one shorted diode of 18 modules takes one 54th of Voc', (type) => {
    const modules = Array.from({ length: 18 }, () => soundModule(asTheType));
    const short = { ...soundModule(asTheType), shorted: new Map([[1, 0.01]]) };
    const at = (states: typeof modules): number =>
      curveValues(stringTable({ type, modules: states, resistance: 0.4 }, 800, 45)).voc;
    expect(at([short, ...modules.slice(1)]) / at(modules)).toBeCloseTo(53 / 54, 6);
  });

  it('of equal modules is the module, so many times', () => {
    const type = moduleTypes.KF132H;
    const one = curveValues(moduleCurve(type, 1000, 25));
    const modules = Array.from({ length: 28 }, () => soundModule(asTheType));
    const string = curveValues(stringTable({ type, modules, resistance: 0 }, 1000, 25));
    expect(string.pmax / one.pmax / 28).toBeCloseTo(1, 4);
    expect(string.isc / one.isc).toBeCloseTo(1, 5);
  });
});

function currentVoltage(table: { current: Float64Array; voltage: Float64Array }, current: number): number {
  const row = table.current.findIndex((value) => value >= current);
  return table.voltage[row]!;
}
