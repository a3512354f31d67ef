import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { conformityProbability, decide, type Outcome } from '../../src/physics/conformity.js';
import { normalCdf } from '../../src/physics/normalDistribution.js';
import { readTable } from './checkData.js';

describe('normal distribution', () => {
  it.each(readTable('guard-band-risk.csv'))(
    'risk at the acceptance limit, $guard_band_w_over_U U inside',
    (row) => {
      const [w, risk] = Object.values(row).map(Number) as [number, number];
      expect(Math.abs(normalCdf(-2 * w) / risk - 1)).toBeLessThan(1e-10);
      // A value w inside an upper limit, U = 2u.
      expect(Math.abs(1 - conformityProbability(-w, 0.5, undefined, 0) - risk)).toBeLessThan(1e-7);
    },
  );

  it('is a distribution function: symmetric, rising, and continuous where its two forms meet', () => {
    fc.assert(
      fc.property(fc.double({ min: -40, max: 40, noNaN: true }), (x) => {
        expect(normalCdf(x) + normalCdf(-x)).toBeCloseTo(1, 14);
        expect(normalCdf(x + 0.01)).toBeGreaterThanOrEqual(normalCdf(x));
      }),
    );
    expect(normalCdf(-3.0000000001) / normalCdf(-3)).toBeCloseTo(1, 8);
    expect([normalCdf(-Infinity), normalCdf(Infinity), normalCdf(NaN)]).toEqual([0, 1, NaN]);
  });
});

describe('decision rules of ILAC-G8:09/2019, 4.2', () => {
  // Lower limit -5, U = 2: acceptance limit at -3, rejection limit at -7.
  const cases: [number, Outcome, Outcome][] = [
    [0, 'pass', 'pass'],
    [-3, 'pass', 'pass'],
    [-3.01, 'pass', 'conditional pass'],
    [-5, 'pass', 'conditional pass'],
    [-5.01, 'fail', 'conditional fail'],
    [-7, 'fail', 'conditional fail'],
    [-7.01, 'fail', 'fail'],
  ];

  it.each(cases)('a lower limit of -5 with U = 2 and %d: simple %s, guarded %s', (value, simple, guarded) => {
    const input = { value, least: -5, expandedUncertainty: 2 };
    expect(decide({ ...input, rule: 'simple' }).outcome).toBe(simple);
    expect(decide({ ...input, rule: 'guarded' }).outcome).toBe(guarded);
    // The upper limit is its mirror image.
    const mirrored = { value: -value, most: 5, expandedUncertainty: 2 };
    expect(decide({ ...mirrored, rule: 'guarded' }).outcome).toBe(guarded);
  });

  it('with two limits the worse counts; between limits closer than 2 U nothing passes outright', () => {
    const between = { least: -3, most: 3, expandedUncertainty: 2, rule: 'guarded' } as const;
    expect(decide({ ...between, value: 0 }).outcome).toBe('pass');
    expect(decide({ ...between, value: 2 }).outcome).toBe('conditional pass');
    expect(decide({ ...between, value: -4 }).outcome).toBe('conditional fail');
    expect(decide({ ...between, value: 6 }).outcome).toBe('fail');
    expect(decide({ ...between, expandedUncertainty: 4, value: 0 }).outcome).toBe('conditional pass');
  });

  it('states a probability only where the uncertainty is known, and refuses to guard without it', () => {
    expect(decide({ value: 1, least: 0, rule: 'simple' })).toEqual({ outcome: 'pass' });
    expect(() => decide({ value: 1, least: 0, rule: 'guarded' })).toThrow(RangeError);
    expect(decide({ value: 1, least: 0, expandedUncertainty: 0, rule: 'guarded' })).toEqual({
      outcome: 'pass',
      conformityProbability: 1,
    });
  });

  it('a guarded pass leaves a risk below 2.5 %, whatever the numbers', () => {
    const number = fc.double({ min: -100, max: 100, noNaN: true });
    fc.assert(
      fc.property(number, number, fc.double({ min: 1e-3, max: 50, noNaN: true }), (value, least, U) => {
        const { outcome, conformityProbability: p } = decide({
          value,
          least,
          expandedUncertainty: U,
          rule: 'guarded',
        });
        if (outcome === 'pass') expect(p!).toBeGreaterThan(0.975);
        else if (outcome === 'conditional pass') expect(p!).toBeGreaterThanOrEqual(0.5);
        else if (outcome === 'conditional fail') expect(p!).toBeLessThanOrEqual(0.5);
        else expect(p!).toBeLessThan(0.025);
      }),
    );
  });

  it('two-sided probabilities are the share of the normal distribution between the limits', () => {
    expect(conformityProbability(0, 1, -1, 1)).toBeCloseTo(0.6826894921, 9);
    expect(conformityProbability(0, 1, -1.959963985, 1.959963985)).toBeCloseTo(0.95, 9);
    expect(conformityProbability(-10, 1, 0, 1)).toBeGreaterThan(0);
  });
});
