/** Which things are the same where very many were renamed at once. The campaigns are invented. */
import { expect, it } from 'vitest';
import { pairUnits } from '../../src/difference/pairUnits.js';
import { unitsOf, type Unit } from '../../src/difference/units.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { inMemory, MemoryFiles } from '../evaluation/memoryFiles.js';

const count = 1200;

/** Strings with a sweep each, ten at the same time. */
async function units(nameOf: (index: number) => string): Promise<Unit[]> {
  const time = (index: number): string => {
    const minutes = Math.floor(index / 10);
    const two = (number: number): string => String(number).padStart(2, '0');
    return `2026-05-14 ${two(9 + Math.floor(minutes / 60))}:${two(minutes % 60)}`;
  };
  const blocks = Array.from(
    { length: count },
    (_, index) =>
      `string ${nameOf(index)}\n  modules 18 x M\n\nsweep ${nameOf(index)} at ${time(index)}\n  data "${index}.csv"\n`,
  );
  const files = new MemoryFiles({ 'c.sweepbook': blocks.join('\n') });
  return unitsOf((await new Workbook(files).sourcesOf(inMemory('c.sweepbook')))!);
}

it('each of very many renamed strings is found by its sweep, in reasonable time', async () => {
  const former = (index: number): string => `A.${index}`;
  const later = (index: number): string => `B.${count - index}`;
  const [before, after] = [await units(former), await units(later)];
  const start = performance.now();
  const { pairs, names } = pairUnits({ before, after, tableOf: (_, name) => name, inTables: new Set() });
  expect(performance.now() - start).toBeLessThan(5000);
  expect(pairs.filter((pair) => !pair.before || !pair.after)).toEqual([]);
  for (let index = 0; index < count; index++) expect(names.get('string', former(index))).toBe(later(index));
});
