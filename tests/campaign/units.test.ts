/**
 * Units against the SI Brochure (BIPM, 9th edition, 2019): prefixes, table 7; derived units, table 4; units outside the SI
 * accepted for use with it (min, h, degree of arc), table 8; degree Celsius as a difference equal to the kelvin, section
 * 2.3.4; percent, section 5.4.7. Values from memory of the brochure.
 */
import { describe, expect, test } from 'vitest';
import type { Dimension } from '../../src/campaign/quantity.js';
import { convertTo, findUnit, otherUnits, units, unitsOf } from '../../src/campaign/units.js';

const prefixes: Record<string, number> = { G: 1e9, M: 1e6, k: 1e3, '': 1, c: 1e-2, m: 1e-3 };

const plain: readonly (readonly [string, Dimension, readonly string[]])[] = [
  ['V', 'voltage', ['', 'm', 'k']],
  ['A', 'current', ['', 'm']],
  ['W', 'power', ['', 'm', 'k', 'M']],
  ['ohm', 'resistance', ['', 'm', 'k', 'M', 'G']],
  ['Ω', 'resistance', ['', 'm', 'k', 'M', 'G']],
  ['m', 'length', ['', 'k', 'c', 'm']],
  ['s', 'duration', ['', 'm']],
  ['V/K', 'voltagePerKelvin', ['', 'm']],
  ['A/K', 'currentPerKelvin', ['', 'm']],
  ['W/K', 'powerPerKelvin', ['', 'm']],
  ['ohm/K', 'resistancePerKelvin', ['', 'm']],
];

describe.each(plain)('%s', (symbol, dimension, allowed) => {
  test.each(allowed)('with the prefix "%s"', (prefix) => {
    expect(findUnit(prefix + symbol, [dimension])?.factor).toBe(prefixes[prefix]);
  });
});

test.each([
  ['mm2', 'area', 1e-3 ** 2],
  ['cm²', 'area', 1e-2 ** 2],
  ['kW/m2', 'irradiance', 1e3],
  ['mW/cm2', 'irradiance', 1e-3 / 1e-2 ** 2],
  ['min', 'duration', 60],
  ['h', 'duration', 3600],
  ['%', 'fraction', 0.01],
  ['%/K', 'fractionPerKelvin', 0.01],
  ['ppm/K', 'fractionPerKelvin', 1e-6],
  ['%/a', 'fractionPerYear', 0.01],
  ['degC', 'temperatureDifference', 1],
  ['K', 'temperatureDifference', 1],
] as const)('%s', (form, dimension, factor) => {
  expect(findUnit(form, [dimension])!.factor).toBeCloseTo(factor, 15);
});

test('1 deg is pi/180 rad', () => {
  expect(convertTo({ value: 180, dimension: 'angle' }, 'rad')).toBeCloseTo(Math.PI, 15);
});

test('degree Celsius and kelvin are the same step: %/°C is %/K, mV/°C is mV/K', () => {
  for (const [celsius, kelvin, dimension] of [
    ['%/°C', '%/K', 'fractionPerKelvin'],
    ['mV/degC', 'mV/K', 'voltagePerKelvin'],
  ] as const)
    expect(findUnit(celsius, [dimension])).toBe(findUnit(kelvin, [dimension]));
});

test('a form means one unit of a dimension', () => {
  const seen = new Set<string>();
  for (const { forms, dimension } of units)
    for (const form of forms) {
      expect(seen.has(`${dimension} ${form}`), form).toBe(false);
      seen.add(`${dimension} ${form}`);
    }
});

test('the first unit listed of a dimension is the canonical one, save area and the fractions people write in percent', () => {
  const first = (dimension: Dimension) => findUnit(unitsOf(dimension)[0]!, [dimension])!.factor;
  const notFirst: readonly Dimension[] = ['area', 'fraction', 'fractionPerKelvin', 'fractionPerYear'];
  for (const { dimension } of units)
    expect(first(dimension) === 1, dimension).toBe(!notFirst.includes(dimension));
});

test('a hover lists the value in the other units', () => {
  const range = { start: { line: 0, character: 0 }, end: { line: 0, character: 1 } };
  const quantity = { value: 0.812, dimension: 'voltage', unit: 'mV', writtenValue: 812, range } as const;
  expect(otherUnits(quantity)).toEqual([
    { value: 0.812, unit: 'V' },
    { value: 0.812 / 1000, unit: 'kV' },
  ]);
  expect(convertTo(quantity, 'A')).toBeUndefined();
});
