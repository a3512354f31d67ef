import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitRobustly, polynomialAt, polynomialDesign } from '../../src/physics/leastSquares.js';
import { median, runningMedian, select } from '../../src/physics/robustStatistics.js';
import { gaussian, seeded } from './noise.js';

const grid = Float64Array.from({ length: 40 }, (_, k) => -1 + k / 20);

describe('robust polynomial fit', () => {
  it('finds the coefficients of an exact polynomial up to order 4', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -5, max: 5, noNaN: true }), { minLength: 1, maxLength: 5 }),
        (wanted) => {
          const values = grid.map((x) => polynomialAt(wanted, x)[0]);
          const fit = fitRobustly(polynomialDesign(grid, wanted.length - 1), wanted.length, values)!;
          wanted.forEach((coefficient, j) => expect(fit.coefficients[j]).toBeCloseTo(coefficient, 9));
        },
      ),
    );
  });

  it('is not moved by a fifth of wild points', () => {
    const values = grid.map((x, k) => 3 + 2 * x + (k % 5 === 0 ? 100 : 0.001 * (k % 2 === 0 ? 1 : -1)));
    const fit = fitRobustly(polynomialDesign(grid, 1), 2, values)!;
    expect(fit.coefficients[0]).toBeCloseTo(3, 2);
    expect(fit.coefficients[1]).toBeCloseTo(2, 2);
  });

  // Closed form of the straight-line fit, any textbook on statistics: var = s^2/n at the mean abscissa.
  it('gives standard errors that agree with the scatter of repeated fits', () => {
    const normal = gaussian(seeded(5));
    const intercepts: number[] = [];
    const stated: number[] = [];
    for (let repeat = 0; repeat < 400; repeat++) {
      const fit = fitRobustly(
        polynomialDesign(grid, 1),
        2,
        grid.map((x) => 1 + x + 0.1 * normal()),
      )!;
      intercepts.push(fit.coefficients[0]!);
      stated.push(fit.standardErrorAt([1, 0]));
    }
    const scatter = Math.sqrt(
      intercepts.reduce((sum, value) => sum + (value - 1) ** 2, 0) / intercepts.length,
    );
    const mean = stated.reduce((sum, value) => sum + value, 0) / stated.length;
    expect(mean / scatter).toBeGreaterThan(0.85);
    expect(mean / scatter).toBeLessThan(1.15);
  });

  it('refuses fewer points than unknowns and dependent columns', () => {
    expect(fitRobustly(polynomialDesign(Float64Array.of(1), 1), 2, Float64Array.of(1))).toBeUndefined();
    const equal = Float64Array.of(2, 2, 2);
    expect(fitRobustly(polynomialDesign(equal, 1), 2, Float64Array.of(1, 2, 3))).toBeUndefined();
  });
});

describe('order statistics', () => {
  it('select gives what sorting gives', () => {
    fc.assert(
      fc.property(fc.array(fc.integer(), { minLength: 1 }), fc.nat(), (values, at) => {
        const rank = at % values.length;
        const sorted = Float64Array.from(values).sort();
        expect(select(Float64Array.from(values), rank)).toBe(sorted[rank]);
        expect(median(values)).toBe(sorted[values.length >> 1]);
      }),
    );
  });

  it('the running median leaves a falling row as it is and removes a spike', () => {
    const falling = Float64Array.of(9, 8, 8, 7, 3, 1, 0);
    expect(runningMedian(falling, 5)).toEqual(falling);
    expect(runningMedian(Float64Array.of(9, 8, 8, 50, 7, 7, 6), 5)[3]).toBe(8);
  });
});
