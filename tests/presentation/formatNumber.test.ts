import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  formatDeviation,
  formatDeviationUncertainty,
  formatPercent,
  formatToUncertainty,
  formatValue,
  formatWithAbsolute,
  formatWithUncertainty,
  roundSignificant,
  significant,
} from '../../src/presentation/formatNumber.js';

describe('a value with its uncertainty', () => {
  // JCGM 100:2008, 7.2.2 and 7.2.6 (from memory, not confirmed): a 100 g standard of 100.021 47 g with u = 0.35 mg is
  // quoted (100.021 47 +- 0.000 79) g; 10.057 62 ohm with u = 27 mOhm is rounded to 10.058 ohm.
  it('has two digits of uncertainty and the value to the same place', () => {
    expect(formatWithAbsolute(100.02147, 0.00079, 'g')).toBe('(100.02147 ± 0.00079) g');
    expect(formatWithAbsolute(10.05762, 0.027, 'ohm')).toBe('(10.058 ± 0.027) ohm');
  });

  it('rounds tens and hundreds away where the uncertainty is that large', () => {
    expect(formatWithUncertainty(7351.2, 0.0218, 'W')).toBe('(7350 ± 160) W');
    expect(formatWithAbsolute(7351.2, 1234, 'W')).toBe('(7400 ± 1200) W');
  });

  it('notices that rounding moves the first digit', () => {
    expect(formatWithAbsolute(5, 0.0999, 'V')).toBe('(5.00 ± 0.10) V');
    expect(formatWithAbsolute(50, 9.99, 'V')).toBe('(50 ± 10) V');
  });

  it('stands alone without one', () => {
    expect(formatWithUncertainty(13.9, undefined, 'A')).toBe('13.90 A');
    expect(formatWithAbsolute(13.9, 0, 'A')).toBe('13.90 A');
    expect(formatWithUncertainty(undefined, 0.02, 'A')).toBe('-');
    expect(formatWithUncertainty(Number.NaN, 0.02, 'A')).toBe('-');
  });

  it('keeps four digits in columns, and more where the uncertainty is small', () => {
    expect(formatToUncertainty(7351.2, 0.02, 'W')).toBe('7351 W');
    expect(formatToUncertainty(37.2, 0.006, 'V')).toBe('37.20 V');
    expect(formatToUncertainty(37.2, 0.00006, 'V')).toBe('37.2000 V');
  });
});

describe('plain numbers', () => {
  it('have four significant digits unless told', () => {
    expect(significant(0.78366)).toBe('0.7837');
    expect(significant(12345.6)).toBe('12350');
    expect(significant(99999)).toBe('100000');
    expect(significant(0)).toBe('0');
    expect(significant(-0.00012346)).toBe('-0.0001235');
    expect(formatValue(0.7, '')).toBe('0.7000');
    expect(formatValue(undefined, 'A')).toBe('-');
  });

  it('round-trip within their digits, whatever the number', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e14, max: 1e14 }), (value) => {
        const read = Number(significant(value));
        return Math.abs(read - value) <= Math.abs(value) * 5.001e-4 + 1e-300;
      }),
    );
  });
});

it('writes deviations as signed percentages in ASCII', () => {
  expect(formatDeviation(-0.0582)).toBe('-5.8 %');
  expect(formatDeviation(0.0041)).toBe('+0.4 %');
  expect(formatDeviation(-0.0001)).toBe('0.0 %');
  expect(formatDeviation(undefined)).toBe('-');
  expect(formatPercent(0.0231)).toBe('2.3 %');
  expect(formatPercent(0.0045)).toBe('0.45 %');
});

it('rounds numbers for files, and knows missing from zero', () => {
  expect(roundSignificant(1234.56789)).toBe(1234.568);
  expect(Object.is(roundSignificant(-0), 0)).toBe(true);
  expect(roundSignificant(undefined)).toBeNull();
  expect(roundSignificant(Infinity)).toBeNull();
});

it('writes the uncertainty of a deviation to the place of the deviation', () => {
  expect(formatDeviationUncertainty(0.0199)).toBe('± 2.0 %');
  expect(formatDeviationUncertainty(0.0086)).toBe('± 0.9 %');
  expect(formatDeviationUncertainty(0.00023)).toBe('± 0.023 %');
  expect(formatDeviationUncertainty(undefined)).toBe('-');
});
