/**
 * How many connectors a search opens until the weak module is known. The model is the project's own: a module is swept
 * with its two connectors open; a section with two, or with one where it begins or ends the string; the string is closed
 * again after each sweep. The weak modules may be any of the suspects alike, and a module found by elimination is swept
 * once to confirm it.
 */
import { lengthOf, type Run } from './positions.js';

export interface SearchCost {
  /** Connectors, expected. */
  readonly connectors: number;
  /** Sweeps in the worst case, the confirming one included. */
  readonly mostSweeps: number;
}

/** Positions in rising order that may be weak, in a string of `count`. */
export interface Suspects {
  readonly positions: readonly number[];
  readonly count: number;
  /** How many of them are weak, as far as the shape of the curve tells; at least 1. */
  readonly weak: number;
}

const ofModule = 2;
/** More weak modules than this are counted as this many: halving has long lost by then. */
const mostWeak = 8;

export function connectorsOpened(run: Run, count: number): number {
  if (lengthOf(run) === 1) return ofModule;
  return run.first === 1 || run.last === count ? 1 : 2;
}

/** One after another from the first suspect on, until all weak ones are found: k (m + 1) / (k + 1) sweeps of m. */
export function costOneByOne({ positions, weak }: Suspects): SearchCost {
  const suspects = positions.length;
  const sought = Math.min(weak, suspects);
  return { connectors: (ofModule * sought * (suspects + 1)) / (sought + 1), mostSweeps: suspects };
}

/** The halves of the suspects, the one that opens fewer connectors first. Each spans from its first suspect to its last. */
export function halvesOf({
  positions,
  count,
}: Pick<Suspects, 'positions' | 'count'>): readonly [readonly number[], readonly number[]] {
  const middle = Math.ceil(positions.length / 2);
  const [left, right] = [positions.slice(0, middle), positions.slice(middle)];
  const isRightCheaper = connectorsOpened(spanOf(right), count) < connectorsOpened(spanOf(left), count);
  return isRightCheaper ? [right, left] : [left, right];
}

export const spanOf = (positions: readonly number[]): Run => ({
  first: positions[0]!,
  last: positions.at(-1)!,
});

/** By halves of halves. With one weak module the second half follows by elimination; with more it is swept too. */
export function costOfHalves({ positions, count, weak }: Suspects): SearchCost {
  const single = weak === 1;
  const known = new Map<string, SearchCost>();
  const cost = (suspects: readonly number[], within: number, isSwept: boolean): SearchCost => {
    if (suspects.length === 1)
      return isSwept ? { connectors: 0, mostSweeps: 0 } : { connectors: ofModule, mostSweeps: 1 };
    const key = `${suspects[0]} ${suspects.length} ${within}`;
    let found = known.get(key);
    if (!found) known.set(key, (found = anew(suspects, within)));
    return found;
  };
  const anew = (suspects: readonly number[], within: number): SearchCost => {
    const [now, other] = halvesOf({ positions: suspects, count });
    const opened = connectorsOpened(spanOf(now), count);
    const openedOther = single ? 0 : connectorsOpened(spanOf(other), count);
    let connectors = opened;
    let most = 0;
    for (let inNow = Math.max(0, within - other.length); inNow <= Math.min(within, now.length); inNow++) {
      const inOther = within - inNow;
      const parts = [
        ...(inNow > 0 ? [cost(now, inNow, true)] : []),
        ...(inOther > 0 ? [cost(other, inOther, inNow > 0)] : []),
      ];
      const probability = drawn(now.length, other.length, inNow, inOther);
      const spent = parts.reduce((sum, part) => sum + part.connectors, 0);
      connectors += probability * (spent + (inNow > 0 ? openedOther : 0));
      const sweeps = parts.reduce((sum, part) => sum + part.mostSweeps, 0);
      most = Math.max(most, sweeps + (inNow > 0 && !single ? 1 : 0));
    }
    return { connectors, mostSweeps: 1 + most };
  };
  return cost(positions, Math.min(weak, mostWeak, positions.length), false);
}

/** Hypergeometric: `inA` of the weak among `a`, `inB` among `b`. */
function drawn(a: number, b: number, inA: number, inB: number): number {
  return (choose(a, inA) * choose(b, inB)) / choose(a + b, inA + inB);
}

function choose(n: number, k: number): number {
  let result = 1;
  for (let index = 0; index < k; index++) result = (result * (n - index)) / (index + 1);
  return result;
}
