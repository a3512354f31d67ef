/** Substrings with less light than the others make steps; where these lie has to be searched for before it can be fitted. */
import type { StringState } from '../physics/faultyString.js';
import type { Expectation } from './expectation.js';
import { priorOdds } from './hypotheses.js';
import { tryHypothesis, type Hypothesis, type OwnUnknown, type Tried } from './hypothesis.js';

const shares = [0.08, 0.22, 0.36, 0.5, 0.62, 0.73, 0.82, 0.89, 0.945];

/** The best of each kind: a substring, two, a module, any number, two groups. */
export function stepHypotheses(e: Expectation): Tried[] {
  const all = e.entered.modules * e.entered.substrings;
  const { substrings } = e.entered;
  const fixed = [...new Set([1, 2, substrings])].filter((count) => count < all);
  const found = fixed.flatMap((count) =>
    searched(
      e,
      shares.map((share) => fixedGroup(e, count, share)),
    ),
  );
  if (all < 3) return found;
  const counts = [...new Set([substrings + 1, Math.max(4, Math.round(all / 3))])].filter(
    (count) => count < all,
  );
  const free = searched(
    e,
    counts.flatMap((count) => shares.map((share) => freeGroup(e, count, share))),
  );
  const two = free.flatMap((first) =>
    searched(
      e,
      [1, substrings, Math.max(4, Math.round(all / 4))].flatMap((count) =>
        shares.filter((_, k) => k % 2 === 0).map((share) => twoGroups(e, first, count, share)),
      ),
    ),
  );
  return [...found, ...free, ...two];
}

/** A short fit from each start, a long one from the best. */
function searched(e: Expectation, starts: readonly Hypothesis[]): Tried[] {
  let best: { tried: Tried; hypothesis: Hypothesis; sum: number } | undefined;
  for (const hypothesis of starts) {
    const tried = tryHypothesis(e, hypothesis, 1);
    const sum = tried.misfit + tried.strain;
    if (!best || sum < best.sum) best = { tried, hypothesis, sum };
  }
  if (!best) return [];
  const { tried, hypothesis } = best;
  const own = hypothesis.own!.map((each, j) => ({ ...each, start: tried.own[j]!.value }));
  return [tryHypothesis(e, { ...hypothesis, own }, 14)];
}

const shareOf = (index: number, start: number): OwnUnknown => ({
  mean: 0.5,
  deviation: 0.35,
  start,
  step: 0.004,
  least: 0,
  most: 0.995,
  set: (state: StringState, share) => (state.weak[index]!.share = share),
});

const countOf = (index: number, start: number, all: number): OwnUnknown => ({
  mean: 0,
  deviation: 0.4 * all,
  start,
  step: 0.02 * Math.max(1, start),
  least: 0.3,
  most: all - 0.3,
  set: (state: StringState, count) => (state.weak[index]!.count = count),
});

function fixedGroup({ entered }: Expectation, count: number, start: number): Hypothesis {
  const whole = count === entered.substrings && entered.modules > 1;
  const code = whole ? 'module-low-current' : 'partial-shade';
  return {
    code,
    weight: whole ? priorOdds[code] : priorOdds[code] - Math.log(4),
    state: () => ({ weak: [{ count, share: start }] }),
    own: [shareOf(0, start)],
    tag: { count },
  };
}

function freeGroup({ entered }: Expectation, count: number, start: number): Hypothesis {
  return {
    code: 'partial-shade',
    weight: priorOdds['partial-shade'] - Math.log(4),
    state: () => ({ weak: [{ count, share: start }] }),
    own: [shareOf(0, start), countOf(0, count, entered.modules * entered.substrings)],
  };
}

function twoGroups({ entered }: Expectation, first: Tried, count: number, start: number): Hypothesis {
  const [share, wide] = first.own;
  const all = entered.modules * entered.substrings;
  return {
    code: 'partial-shade',
    weight: priorOdds['partial-shade'] - Math.log(4),
    state: () => ({
      weak: [
        { count: wide!.value, share: share!.value },
        { count, share: start },
      ],
    }),
    own: [shareOf(0, share!.value), countOf(0, wide!.value, all), shareOf(1, start), countOf(1, count, all)],
  };
}
