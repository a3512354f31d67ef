import fc from 'fast-check';
import { expect, it } from 'vitest';
import { median, medianAbsolute, WithoutOne } from '../../src/physics/robustStatistics.js';

it('medians without one value are those of the list that lacks it', () => {
  // Few values, so that many are equal.
  const value = fc.integer({ min: -6, max: 6 }).map((n) => n / 3);
  fc.assert(
    fc.property(fc.array(value, { minLength: 2, maxLength: 12 }), fc.nat(), (values, index) => {
      const at = index % values.length;
      const others = values.filter((_, k) => k !== at);
      const without = new WithoutOne(values);
      const centre = without.median(values[at]);
      expect(centre).toBe(median(others));
      expect(without.medianDistance(centre, values[at])).toBe(
        medianAbsolute(others.map((other) => other - centre)),
      );
      expect(without.median()).toBe(median(values));
    }),
  );
  expect(new WithoutOne([]).median()).toBeNaN();
  expect(new WithoutOne([1]).median(1)).toBeNaN();
});

it('values that came and went leave the medians of those that are there', () => {
  const value = fc.integer({ min: -6, max: 6 }).map((n) => n / 3);
  fc.assert(
    fc.property(
      fc.array(value, { minLength: 3, maxLength: 12 }),
      fc.nat(),
      value,
      (values, index, centre) => {
        const others = values.filter((_, k) => k !== index % values.length);
        const kept = new WithoutOne();
        for (const each of values) kept.add(each);
        kept.remove(values[index % values.length]!);
        const fresh = new WithoutOne(others);
        for (const left of [undefined, others[0]!]) {
          expect(kept.median(left)).toBe(fresh.median(left));
          expect(kept.medianDistance(centre, left)).toBe(fresh.medianDistance(centre, left));
        }
      },
    ),
  );
});
