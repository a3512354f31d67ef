/** Which causes the points speak for, and how strongly: the sound string first, the others only where something stands out. */
import type { Steps } from '../text/steps.js';
import type { Expectation } from './expectation.js';
import { healthy, simpleHypotheses } from './hypotheses.js';
import { continued, idleCauses, tryHypothesis, type Hypothesis, type Tried } from './hypothesis.js';
import { canBeJoined, joined } from './together.js';
import { stepHypotheses } from './stepSearch.js';

export interface Weighed {
  readonly code: Hypothesis['code'];
  /** Share of the evidence among all that was tried, the sound string among it; all sum to 1. */
  readonly share: number;
  /** The best of its variants. */
  readonly best: Tried;
}

/**
 * A perfect fit of another cause wins at most half of what the sound string leaves unexplained; below this it cannot win
 * against the prior odds. Own choice.
 */
const standsOut = 4;

/** Seven unknowns that follow their priors strain about as much; own choice. */
const settled = 8;

export function* weigh(expectation: Expectation): Steps<Weighed[]> {
  const sound = tryHypothesis(expectation, healthy, 4);
  const points = expectation.sweep.voltage.length;
  const excess = Math.max(0, sound.misfit - points) + sound.strain;
  if (excess < 2 * standsOut) return [{ code: 'healthy', share: 1, best: sound }];
  const tried = [
    tryHypothesis(expectation, healthy, 10),
    ...(yield* shortlisted(expectation, simpleHypotheses(expectation), points)),
  ];
  // Steps cannot explain better what is explained to the noise; searching for them costs most.
  const explained = tried.some(({ misfit, strain }) => misfit < 0.8 * points && strain < settled);
  if (!explained) tried.push(...(yield* stepHypotheses(expectation)));
  const beenJoined = new Set<Tried>();
  for (let round = 0; round < mostJoined; round++) {
    const active = tried.filter((each) => idleCauses(each, expectation).length === 0);
    const evidence = evidenceAmong(active, points);
    const ranked = active.sort((a, b) => evidence(b) - evidence(a));
    const best = ranked[0]!;
    // Where the best needed a second cause, its rivals get theirs too.
    if (!isPoor(best, points) && !isLaboured(best) && best.hypothesis.also === undefined) break;
    const poor = leaders(ranked).filter(
      (each) => !beenJoined.has(each) && (isPoor(each, points) || (round === 0 && isLaboured(each))),
    );
    for (const each of poor) beenJoined.add(each);
    for (const each of poor) tried.push(...(yield* joined(expectation, each)));
  }
  return shares(
    tried.filter((each) => idleCauses(each, expectation).length === 0),
    points,
  );
}

/** All variants are fitted shortly, the nearest of each cause to the end. */
function* shortlisted(e: Expectation, hypotheses: readonly Hypothesis[], points: number): Steps<Tried[]> {
  const short: Tried[] = [];
  for (const hypothesis of hypotheses) {
    short.push(tryHypothesis(e, hypothesis, 3));
    yield;
  }
  const evidence = evidenceAmong(short, points);
  const taken = new Map<string, number>();
  const fitted: Tried[] = [];
  for (const each of [...short].sort((a, b) => evidence(b) - evidence(a))) {
    const { code } = each.hypothesis;
    const before = taken.get(code) ?? 0;
    taken.set(code, before + 1);
    fitted.push(before < mostShortlisted ? tryHypothesis(e, continued(each.hypothesis, each), 8) : each);
    yield;
  }
  return fitted;
}

/** Variants of each cause. */
const mostShortlisted = 2;

/** Causes joined to one, at most; and how many of the best codes are joined. */
const mostJoined = 3;
const mostLeaders = 3;

/** Unexplained, or only with unknowns far from what was expected of them. */
const isPoor = ({ misfit, strain }: Tried, points: number): boolean => misfit > 1.3 * points || strain > 14;

/** Explained by so many groups of unlike light that something simpler may do it too. */
const isLaboured = ({ own }: Tried): boolean => own.length > 2;

/** The best of each code. */
function leaders(ranked: readonly Tried[]): Tried[] {
  const byCode = new Map<string, Tried>();
  for (const each of ranked) {
    const code = [each.hypothesis.code, ...(each.hypothesis.also ?? [])].join();
    if (canBeJoined(each) && !byCode.has(code)) byCode.set(code, each);
  }
  return [...byCode.values()].slice(0, mostLeaders);
}

/** ln evidence; where no cause reaches the noise, all are held to what the best one leaves over. */
function evidenceAmong(tried: readonly Tried[], points: number): (each: Tried) => number {
  const least = Math.min(...tried.map(({ misfit }) => misfit));
  const unit = Math.max(1, least / points);
  return ({ misfit, strain, rest }) => rest - misfit / (2 * unit) - strain / (2 * Math.sqrt(unit));
}

function shares(tried: readonly Tried[], points: number): Weighed[] {
  const evidence = evidenceAmong(tried, points);
  const most = Math.max(...tried.map(evidence));
  const byCode = new Map<Hypothesis['code'], { sum: number; best: Tried }>();
  for (const each of tried) {
    const { code } = each.hypothesis;
    const weight = Math.exp(evidence(each) - most);
    if (!Number.isFinite(weight)) continue;
    const known = byCode.get(code);
    if (!known) byCode.set(code, { sum: weight, best: each });
    else {
      known.sum += weight;
      if (evidence(each) > evidence(known.best)) known.best = each;
    }
  }
  const total = [...byCode.values()].reduce((sum, each) => sum + each.sum, 0);
  return [...byCode]
    .map(([code, { sum, best }]) => ({ code, share: sum / total, best }))
    .sort((a, b) => b.share - a.share);
}
