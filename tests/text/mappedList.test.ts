import fc from 'fast-check';
import { expect, it } from 'vitest';
import { MappedList } from '../../src/text/mappedList.js';
import { knownNumbers, MappedNumbers } from '../../src/text/mappedNumbers.js';

it('answers as a fresh map would, whatever came, went or was exchanged', () => {
  const lists = fc.array(fc.array(fc.integer({ min: 0, max: 5 }), { maxLength: 8 }), { maxLength: 6 });
  fc.assert(
    fc.property(lists, (edits) => {
      const mapped = new MappedList((item: number) => `${item}`);
      for (const items of edits) expect(mapped.of(items)).toEqual(items.map(String));
    }),
  );
});

it('asks again only for what changed', () => {
  const asked: number[] = [];
  const mapped = new MappedList((item: number) => {
    asked.push(item);
    return -item;
  });
  const first = mapped.of([1, 2, 3, 4]);
  expect(mapped.of([1, 2, 3, 4])).toBe(first);
  expect(asked.splice(0)).toEqual([1, 2, 3, 4]);
  mapped.of([1, 5, 3, 6]);
  expect(asked.splice(0)).toEqual([5, 6]);
  mapped.of([1, 7, 5, 3, 6]);
  expect(asked.splice(0)).toEqual([7]);
  mapped.of([5, 3, 6]);
  expect(asked).toEqual([]);
});

it('gives the numbers that a fresh map would', () => {
  const lists = fc.array(fc.array(fc.integer({ min: 0, max: 5 }), { maxLength: 8 }), { maxLength: 6 });
  fc.assert(
    fc.property(lists, (edits) => {
      const mapped = new MappedNumbers((item: number) => (item === 5 ? undefined : item / 2));
      for (const items of edits) {
        const numbers = mapped.of(items);
        expect([...numbers]).toEqual(items.map((item) => (item === 5 ? NaN : item / 2)));
        expect([...knownNumbers(numbers)]).toEqual(
          items.filter((item) => item !== 5).map((item) => item / 2),
        );
        expect(mapped.of([...items])).toBe(numbers);
      }
    }),
  );
});
