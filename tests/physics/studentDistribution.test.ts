import { describe, expect, it } from 'vitest';
import { expand } from '../../src/physics/effectiveFreedom.js';
import { normalCdf } from '../../src/physics/normalDistribution.js';
import { coverageFactor, coverageOfTwo, studentCdf } from '../../src/physics/studentDistribution.js';

import { gaussian, seeded } from './noise.js';

/**
 * JCGM 100:2008 (GUM), table G.2: t_p(nu) for p = 95 %, 95.45 % and 99 %. Typed from memory of the table, whose 95 % and 99 %
 * columns stand in every handbook of statistics.
 */
const tableG2: readonly (readonly [number, number, number, number])[] = [
  [1, 12.71, 13.97, 63.66],
  [2, 4.3, 4.53, 9.92],
  [3, 3.18, 3.31, 5.84],
  [4, 2.78, 2.87, 4.6],
  [5, 2.57, 2.65, 4.03],
  [6, 2.45, 2.52, 3.71],
  [7, 2.36, 2.43, 3.5],
  [8, 2.31, 2.37, 3.36],
  [9, 2.26, 2.32, 3.25],
  [10, 2.23, 2.28, 3.17],
  [14, 2.14, 2.2, 2.98],
  [20, 2.09, 2.13, 2.85],
  [50, 2.01, 2.05, 2.68],
];

describe("Student's distribution", () => {
  it.each(tableG2)('has the factors of GUM table G.2 at nu = %i', (nu, p95, p9545, p99) => {
    expect(Number(coverageFactor(nu, 0.95).toFixed(2))).toBe(p95);
    expect(Number(coverageFactor(nu).toFixed(2))).toBe(p9545);
    expect(Number(coverageFactor(nu, 0.99).toFixed(2))).toBe(p99);
  });

  it('is the normal distribution at infinity, where k is 2', () => {
    expect(coverageFactor(Infinity)).toBeCloseTo(2, 10);
    expect(coverageFactor(1e6)).toBeCloseTo(2, 4);
    expect(coverageOfTwo).toBeCloseTo(0.9544997361, 10);
    for (const t of [-4, -1, 0, 0.3, 2.5]) expect(studentCdf(t, 1e6)).toBeCloseTo(normalCdf(t), 5);
  });

  it('has closed forms at one and two degrees of freedom', () => {
    for (const t of [-30, -2, -0.1, 0, 0.7, 5]) {
      expect(studentCdf(t, 1)).toBeCloseTo(0.5 + Math.atan(t) / Math.PI, 12);
      expect(studentCdf(t, 2)).toBeCloseTo(0.5 + t / (2 * Math.sqrt(2 + t * t)), 12);
    }
  });

  it('answers NaN for what has no answer', () => {
    expect([coverageFactor(0), coverageFactor(-1), coverageFactor(3, 1), studentCdf(NaN, 3)]).toEqual([
      NaN,
      NaN,
      NaN,
      NaN,
    ]);
  });
});

describe('effective degrees of freedom', () => {
  // JCGM 100:2008, H.1.6 (end gauge calibration; typed from memory): nu_eff = 16.7 for u_c = 32 nm; t_99(16) = 2.92.
  it('are those of the worked example of GUM H.1', () => {
    const { combined, degreesOfFreedom } = expand([
      { standard: 25, degreesOfFreedom: 18 },
      { standard: 9.7, degreesOfFreedom: 25.6 },
      { standard: 2.9, degreesOfFreedom: 50 },
      { standard: 16.6, degreesOfFreedom: 2 },
    ]);
    expect(combined).toBeCloseTo(31.7, 1);
    // The example states its components rounded, as here, and computes with them unrounded.
    expect(Math.abs(degreesOfFreedom - 16.7)).toBeLessThan(0.1);
    expect(coverageFactor(16, 0.99)).toBeCloseTo(2.92, 2);
  });

  // JCGM 101: 10 000 trials tell a coverage of 95 % to 0.4 % (k = 2); the formula is an approximation, which with three repeats
  // covers up to 3 % less than it promises; k = 2 would cover down to 82 %.
  it.each([
    [3, 0],
    [3, 0.5],
    [3, 1],
    [5, 0.5],
  ])('let U cover what it promises, with %i repeats beside a type B part of %f', (repeats, typeB) => {
    const normal = gaussian(seeded(20260514));
    const trials = 10_000;
    let covered = 0;
    let coveredByTwo = 0;
    for (let trial = 0; trial < trials; trial++) {
      const values = Array.from({ length: repeats }, normal);
      const mean = values.reduce((sum, value) => sum + value, 0) / repeats;
      const s = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (repeats - 1));
      const error = normal() + typeB * normal();
      const { combined, factor } = expand([
        { standard: s, degreesOfFreedom: repeats - 1 },
        { standard: typeB, degreesOfFreedom: Infinity },
      ]);
      if (Math.abs(error) <= factor * combined) covered++;
      if (Math.abs(error) <= 2 * combined) coveredByTwo++;
    }
    expect(Math.abs(covered / trials - 0.9545)).toBeLessThan(0.03);
    expect(coveredByTwo).toBeLessThan(covered);
    if (typeB < 0.75) expect(coveredByTwo / trials).toBeLessThan(0.92);
  });

  it('are infinite, with k = 2, where nothing rests on few observations', () => {
    expect(expand([{ standard: 3, degreesOfFreedom: Infinity }])).toEqual({
      combined: 3,
      degreesOfFreedom: Infinity,
      factor: 2,
    });
    expect(expand([]).factor).toBe(2);
    expect(expand([{ standard: 0, degreesOfFreedom: 2 }]).factor).toBe(2);
  });

  it('are those of the only contribution, and grow with what else there is', () => {
    expect(expand([{ standard: -3, degreesOfFreedom: 2 }])).toMatchObject({
      combined: 3,
      degreesOfFreedom: 2,
    });
    const mixed = expand([
      { standard: 1, degreesOfFreedom: 2 },
      { standard: 1, degreesOfFreedom: Infinity },
    ]);
    expect(mixed.degreesOfFreedom).toBeCloseTo(8, 12);
    expect(mixed.factor).toBeCloseTo(2.37, 2);
  });
});
