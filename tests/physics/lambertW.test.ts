import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { lambertWOfExp } from '../../src/physics/lambertW.js';

describe('W(exp(x))', () => {
  it('is the omega constant 0.5671432904097838730 at x = 0 (OEIS A030178) and 1 at x = 1', () => {
    expect(lambertWOfExp(0)).toBeCloseTo(0.567143290409783873, 15);
    expect(lambertWOfExp(1)).toBeCloseTo(1, 15);
  });

  it('solves w + ln w = x from tiny to astronomical arguments', () => {
    fc.assert(
      fc.property(fc.double({ min: -700, max: 1e6, noNaN: true }), (x) => {
        const w = lambertWOfExp(x);
        expect(Math.abs(w + Math.log(w) - x)).toBeLessThanOrEqual(4e-15 * Math.max(1, Math.abs(x)));
      }),
      { numRuns: 5000 },
    );
  });
});
