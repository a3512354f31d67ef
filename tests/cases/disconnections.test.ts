/** Expected counts of connectors against every case played through. */
import { describe, expect, it } from 'vitest';
import {
  connectorsOpened,
  costOfHalves,
  costOneByOne,
  halvesOf,
  spanOf,
} from '../../src/cases/disconnections.js';
import { positionsOf } from '../../src/cases/positions.js';

/** Connectors that halving opens until the weak one is known, counted step by step. */
function played(positions: readonly number[], count: number, weak: number): number {
  let suspects = positions;
  let opened = 0;
  let isSwept = false;
  while (suspects.length > 1) {
    const [now, other] = halvesOf({ positions: suspects, count });
    opened += connectorsOpened(spanOf(now), count);
    isSwept = now.includes(weak);
    suspects = isSwept ? now : other;
  }
  return opened + (isSwept ? 0 : 2);
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

describe('one weak module', () => {
  it.each([
    [1, 18, 18],
    [1, 7, 18],
    [5, 18, 18],
    [4, 12, 20],
    [2, 3, 3],
  ])('among %i to %i of %i', (first, last, count) => {
    const positions = positionsOf({ first, last });
    const suspects = { positions, count, weak: 1 };
    const halves = mean(positions.map((weak) => played(positions, count, weak)));
    expect(costOfHalves(suspects).connectors).toBeCloseTo(halves, 9);
    // The i-th module is found by its own sweep; the last one by elimination, and then confirmed.
    const oneByOne = mean(positions.map((_, index) => 2 * (index + 1)));
    expect(costOneByOne(suspects).connectors).toBeCloseTo(oneByOne, 9);
  });
});

it('halving never takes fewer sweeps than the bits that tell one of so many', () => {
  for (let count = 2; count <= 40; count++) {
    const positions = positionsOf({ first: 1, last: count });
    expect(costOfHalves({ positions, count, weak: 1 }).mostSweeps).toBeGreaterThanOrEqual(Math.log2(count));
  }
});

it('two weak modules, halving: every pair played through', () => {
  const count = 6;
  const search = (positions: readonly number[], weak: readonly number[], isSwept: boolean): number => {
    if (positions.length === 1) return isSwept ? 0 : 2;
    const [now, other] = halvesOf({ positions, count });
    const inside = (part: readonly number[]) => weak.filter((position) => part.includes(position));
    const first = connectorsOpened(spanOf(now), count);
    if (inside(now).length === 0) return first + search(other, weak, false);
    const second = connectorsOpened(spanOf(other), count);
    const rest = inside(other).length > 0 ? search(other, inside(other), true) : 0;
    return first + second + search(now, inside(now), true) + rest;
  };
  const positions = positionsOf({ first: 1, last: count });
  const pairs = positions.flatMap((a) => positions.filter((b) => b > a).map((b) => [a, b]));
  const expected = mean(pairs.map((weak) => search(positions, weak, false)));
  expect(costOfHalves({ positions, count, weak: 2 }).connectors).toBeCloseTo(expected, 9);
});

it('a section at an end of the string opens one connector, another one two, a module two', () => {
  expect(connectorsOpened({ first: 1, last: 9 }, 18)).toBe(1);
  expect(connectorsOpened({ first: 10, last: 18 }, 18)).toBe(1);
  expect(connectorsOpened({ first: 5, last: 9 }, 18)).toBe(2);
  expect(connectorsOpened({ first: 1, last: 1 }, 18)).toBe(2);
});
