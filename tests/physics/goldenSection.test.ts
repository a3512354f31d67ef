import fc from 'fast-check';
import { expect, it } from 'vitest';
import { leastArgument } from '../../src/physics/goldenSection.js';

it('finds the lowest point to the share of the interval that its rounds leave, at an end too', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -1, max: 4, noNaN: true }),
      fc.integer({ min: 5, max: 30 }),
      (lowest, rounds) => {
        const found = leastArgument((x) => Math.abs(x - lowest), 0, 3, rounds);
        const nearest = Math.min(3, Math.max(0, lowest));
        expect(Math.abs(found - nearest)).toBeLessThanOrEqual(3 * 0.6181 ** rounds);
      },
    ),
  );
});
