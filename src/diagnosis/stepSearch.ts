/** Substrings with less light than the others make steps; where these lie has to be searched for before it can be fitted. */
import type { StringState } from '../physics/faultyString.js';
import type { Steps } from '../text/steps.js';
import type { Expectation } from './expectation.js';
import {
  continued,
  distanceOf,
  tryHypothesis,
  type Hypothesis,
  type OwnUnknown,
  type Tried,
} from './hypothesis.js';
import { priorOdds, type Odds } from './odds.js';

export const shares = [0.08, 0.22, 0.36, 0.5, 0.62, 0.73, 0.82, 0.89, 0.945];

/** Groups of unlike light that are told apart at most, and how many points each needs for it. */
const mostGroups = 5;
const pointsForGroup = 10;

/** The best of each kind: a substring, two, a module, any number, and more groups as long as the points ask for them. */
export function* stepHypotheses(e: Expectation): Steps<Tried[]> {
  const { substrings, modules } = e.entered;
  const all = modules * substrings;
  const fixed = [...new Set([1, 2, substrings])].filter((count) => count < all);
  const found: Tried[] = [];
  for (const count of fixed) {
    const starts = shares.map((share) => fixedGroup(e, count, share));
    found.push(...(yield* searched(e, starts)));
  }
  if (all < 3) return found;
  const counts = new Set([1, substrings + 1, Math.max(4, Math.round(all / 4))]);
  let groups: readonly Weak[] = [];
  const most = Math.min(mostGroups, Math.floor(e.sweep.voltage.length / pointsForGroup));
  for (let size = 1; size <= most; size++) {
    const starts = [...counts].flatMap((count) =>
      count < all ? shares.map((share) => freeGroups(e, [...groups, { count, share }])) : [],
    );
    const [best] = yield* searched(e, starts);
    if (!best) break;
    found.push(best);
    groups = weakOf(best);
    if (best.misfit < 1.2 * e.sweep.voltage.length) break;
  }
  return found;
}

interface Weak {
  readonly count: number;
  readonly share: number;
}

function weakOf({ own }: Tried): Weak[] {
  const groups: Weak[] = [];
  for (let k = 0; k + 1 < own.length; k += 2) groups.push({ share: own[k]!.value, count: own[k + 1]!.value });
  return groups;
}

/** Of so many starts, the nearest to the points, a short fit is made. */
const shortFits = 4;

/** Each start is looked at, the nearest are fitted shortly, and the best of these to the end. */
export function* searched(e: Expectation, starts: readonly Hypothesis[]): Steps<Tried[]> {
  const near = starts
    .map((hypothesis) => ({ hypothesis, distance: distanceOf(e, hypothesis) }))
    .sort((a, b) => a.distance - b.distance)
    .slice(0, shortFits)
    .map(({ hypothesis }) => ({ hypothesis, tried: tryHypothesis(e, hypothesis, 1) }));
  const [best] = near.sort((a, b) => sumOf(a.tried) - sumOf(b.tried));
  yield;
  if (!best) return [];
  return [tryHypothesis(e, continued(best.hypothesis, best.tried), 12)];
}

export const sumOf = ({ misfit, strain }: Tried): number => misfit + strain;

/** Less light than this is as good as out of the current path. */
const darkest = 0.02;

export const shareOf = (index: number, start: number): OwnUnknown => ({
  name: 'share',
  mean: 0.5,
  deviation: 0.35,
  start,
  step: 0.004,
  least: darkest,
  most: 0.995,
  set: (state: StringState, share) => (state.weak[index]!.share = share),
});

const countOf = (index: number, start: number, all: number): OwnUnknown => ({
  name: 'count',
  mean: 0,
  deviation: 0.4 * all,
  start,
  step: 0.02 * Math.max(1, start),
  least: 0.3,
  most: all - 0.3,
  set: (state: StringState, count) => (state.weak[index]!.count = count),
});

/** A whole number, but for modules and diodes that are not exactly those of the nameplate. */
export const nearly = (index: number, count: number): OwnUnknown => ({
  name: 'count',
  mean: count,
  deviation: 0.04 * count,
  start: count,
  step: 0.02 * count,
  set: (state: StringState, near) => (state.weak[index]!.count = near),
});

/** Four kinds of shade are tried: one substring, two, any number, and several groups. */
export const oneKindOfShade: Odds = { 'partial-shade': priorOdds['partial-shade'] - Math.log(4) };

function fixedGroup({ entered }: Expectation, count: number, start: number): Hypothesis {
  const whole = count === entered.substrings && entered.modules > 1;
  const code = whole ? 'module-low-current' : 'partial-shade';
  return {
    code,
    odds: whole ? { [code]: priorOdds[code] } : oneKindOfShade,
    state: () => ({ weak: [{ count, share: start }] }),
    // A damaged module keeps most of its current; what takes more than half of it is a shadow.
    own: [whole ? { ...shareOf(0, start), mean: 0.8, deviation: 0.15 } : shareOf(0, start), nearly(0, count)],
    tag: { count },
  };
}

function freeGroups({ entered }: Expectation, groups: readonly Weak[]): Hypothesis {
  const all = entered.modules * entered.substrings;
  return {
    code: 'partial-shade',
    odds: oneKindOfShade,
    state: () => ({ weak: groups.map((group) => ({ ...group })) }),
    own: groups.flatMap(({ count, share }, index) => [shareOf(index, share), countOf(index, count, all)]),
  };
}
