import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Dimension, Quantity } from '../../src/campaign/quantity.js';
import { standardUncertainty } from '../../src/campaign/quantity.js';
import { readLimits, readQuantity } from '../../src/campaign/readQuantity.js';
import { units } from '../../src/campaign/units.js';
import { ValueReader } from '../../src/campaign/valueReader.js';
import { lexLine } from '../../src/syntax/lexLine.js';
import type { Problem } from '../../src/text/problem.js';

function read(text: string, ...dimensions: Dimension[]) {
  const problems: Problem[] = [];
  const reader = new ValueReader(lexLine(text, 0), problems);
  const quantity = readQuantity(reader, dimensions);
  reader.finish('');
  return { quantity, problems, ids: problems.map(({ id }) => id) };
}

describe('a quantity', () => {
  test.each<[string, Dimension, number]>([
    ['13.90 A', 'current', 13.9],
    ['13.90A', 'current', 13.9],
    ['812W/m2', 'irradiance', 812],
    ['812 W/m²', 'irradiance', 812],
    ['0.8 kW/m2', 'irradiance', 800],
    ['-5%', 'fraction', -0.05],
    ['\u22120.27 %/K', 'fractionPerKelvin', -0.0027],
    ['-123 mV/K', 'voltagePerKelvin', -0.123],
    ['44.1 °C', 'temperature', 44.1],
    ['44.1degC', 'temperature', 44.1],
    ['1.2e-3 ohm/K', 'resistancePerKelvin', 0.0012],
    ['.5 V', 'voltage', 0.5],
    ['+5 V', 'voltage', 5],
    ['200 Mohm', 'resistance', 2e8],
    ['12°', 'angle', 12],
  ])('%s', (text, dimension, value) => {
    const { quantity, problems } = read(text, dimension);
    expect(problems).toEqual([]);
    expect(quantity!.value).toBeCloseTo(value, 12);
    expect(quantity!.range.end.character).toBe(text.length);
  });

  test('means the same whether its unit is attached or not', () => {
    const number = fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e9, max: 1e9 });
    fc.assert(
      fc.property(number, fc.constantFrom(...units), fc.nat(), (value, unit, index) => {
        const form = unit.forms[index % unit.forms.length]!;
        const apart = read(`${value} ${form}`, unit.dimension);
        expect(apart.problems).toEqual([]);
        // `1/K` behind a number would read as another number.
        if (form.startsWith('1')) return;
        expect(read(`${value}${form}`, unit.dimension).quantity!.value + 0).toBe(apart.quantity!.value + 0);
        // + 0: a zero has no sign that matters.
        expect(apart.quantity!.value + 0).toBe(value * unit.factor + 0);
      }),
    );
  });

  test('a dimension error names both', () => {
    const [problem] = read('13.9 A', 'voltage').problems;
    expect(problem!.message).toBe('`A` is the unit of a current; here stands a voltage, in V, mV or kV.');
  });

  test.each<[string, string, string]>([
    ['13.9 Volts', 'unit/unknown', 'V'],
    ['13.9 v', 'unit/unknown', 'V'],
    ['13.9 kv', 'unit/unknown', 'kV'],
  ])('%s offers the nearest unit', (text, id, offered) => {
    const { problems } = read(text, 'voltage');
    expect(problems.map((problem) => problem.id)).toEqual([id]);
    expect(problems[0]!.mends?.[0]?.text).toBe(offered);
  });

  test.each([
    ['1e999 V', 'value/not-finite'],
    ['NaN V', 'value/not-finite'],
    ['-Infinity V', 'value/not-finite'],
    ['8,5 V', 'value/decimal-comma'],
    ['1.234,5 V', 'value/surplus'],
    ['13.9', 'unit/missing'],
    ['', 'value/missing'],
    ['V', 'value/not-a-number'],
    ['13.9 V V', 'value/surplus'],
  ])('%s is one problem: %s', (text, id) => {
    expect(read(text, 'voltage').ids.length).toBe(1);
    if (id !== 'value/surplus') expect(read(text, 'voltage').ids).toEqual([id]);
  });
});

describe('an uncertainty', () => {
  const uncertain = (text: string, dimension: Dimension) => {
    const { quantity, problems } = read(text, dimension);
    expect(problems).toEqual([]);
    return quantity as Quantity;
  };

  // JCGM 100:2008, 6.2 and 7.2: expanded uncertainty U = k u; a percentage is U relative to the value.
  test.each<[string, Dimension, number]>([
    ['812 W/m2 ± 2 %', 'irradiance', (812 * 0.02) / 2],
    ['812 W/m2 ±2%', 'irradiance', (812 * 0.02) / 2],
    ['812 W/m2 +- 5 W/m2', 'irradiance', 5 / 2],
    ['812 W/m2 ± 5 W/m2 k=1', 'irradiance', 5],
    ['812 W/m2 ± 6 W/m2 k = 3', 'irradiance', 2],
    ['44 degC ± 1 K', 'temperature', 0.5],
    ['44 degC ± 1 °C', 'temperature', 0.5],
    ['-0.27 %/K ± 10 %', 'fractionPerKelvin', (0.0027 * 0.1) / 2],
    ['70 % ± 5 %', 'fraction', 0.05 / 2],
  ])('%s', (text, dimension, standard) => {
    expect(standardUncertainty(uncertain(text, dimension))).toBeCloseTo(standard, 12);
  });
});

describe('a range', () => {
  const limits = (text: string, dimension: Dimension) => {
    const problems: Problem[] = [];
    const found = readLimits(new ValueReader(lexLine(text, 0), problems), dimension);
    return { least: found?.least?.value, most: found?.most?.value, ids: problems.map(({ id }) => id) };
  };

  test.each<[string, Dimension, number | undefined, number | undefined]>([
    ['-5 % ..', 'fraction', -0.05, undefined],
    ['.. 45 deg', 'angle', undefined, 45],
    ['-3%..3%', 'fraction', -0.03, 0.03],
    ['700 W/m2 .. 1.2 kW/m2', 'irradiance', 700, 1200],
    ['5 % .. 5 %', 'fraction', 0.05, 0.05],
  ])('%s', (text, dimension, least, most) => {
    expect(limits(text, dimension)).toEqual({ least, most, ids: [] });
  });
});
