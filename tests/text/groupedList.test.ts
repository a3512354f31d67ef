import fc from 'fast-check';
import { expect, it } from 'vitest';
import { FlattenedList } from '../../src/text/flattenedList.js';
import { GroupedList } from '../../src/text/groupedList.js';
import { groupBy } from '../../src/text/groups.js';

const edits = fc.array(fc.array(fc.integer({ min: 0, max: 9 }), { maxLength: 10 }), { maxLength: 6 });

it('groups as a fresh pass would, whatever came, went or was exchanged', () => {
  fc.assert(
    fc.property(edits, (lists) => {
      const grouped = new GroupedList((item: number) => (item === 9 ? undefined : item % 3));
      for (const items of lists) {
        const fresh = groupBy(
          items.filter((item) => item !== 9),
          (item) => item % 3,
        );
        const groups = grouped.of(items);
        expect(new Map(groups.keys.map((key, at) => [key, groups.lists[at]]))).toEqual(fresh);
        for (const key of [0, 1, 2]) expect(groups.get(key)).toEqual(fresh.get(key) ?? []);
        items.forEach((item, at) => {
          const [group, place] = [groups.groupAt[at]!, groups.placeAt[at]!];
          expect(group < 0 ? 9 : groups.lists[group]![place]).toBe(item);
        });
      }
    }),
  );
});

it('asks for the key only of what changed, and leaves the other groups the very same lists', () => {
  const asked: number[] = [];
  const grouped = new GroupedList((item: number) => {
    asked.push(item);
    return item % 2;
  });
  const first = grouped.of([1, 2, 3, 4]);
  expect(asked.splice(0)).toEqual([1, 2, 3, 4]);
  expect(grouped.of([1, 2, 3, 4])).toBe(first);
  const second = grouped.of([1, 2, 5, 4]);
  expect(asked.splice(0)).toEqual([5]);
  expect(second.get(0)).toBe(first.get(0));
  const third = grouped.of([1, 7, 2, 5, 4]);
  expect(asked.splice(0)).toEqual([7]);
  expect(third.get(0)).toBe(first.get(0));
  expect(third.get(1)).toEqual([1, 7, 5]);
});

it('strings lists together as a fresh pass would', () => {
  const lists = fc.array(
    fc.array(fc.constantFrom<readonly number[]>(...[[], [], [1], [2], [3, 4], [5, 6], [7, 8, 9]]), {
      maxLength: 8,
    }),
    { maxLength: 6 },
  );
  fc.assert(
    fc.property(lists, (all) => {
      const flattened = new FlattenedList<number>();
      for (const each of all) {
        const items = flattened.of(each);
        expect(items).toEqual(each.flat());
        expect(flattened.of([...each])).toBe(items);
      }
    }),
  );
});
