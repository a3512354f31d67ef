/**
 * Two or three causes at the same time: a damaged module often has lost a substring, and another is weak. Tried where none alone
 * explains the curve; the causes that explain most on their own are each joined by every other that can go with them.
 */
import type { Steps } from '../text/steps.js';
import type { CauseCode } from './diagnosis.js';
import type { Expectation } from './expectation.js';
import { above, below } from './hypotheses.js';
import { continued, idleCauses, tryHypothesis, without, type Hypothesis, type Tried } from './hypothesis.js';
import { priorOdds } from './odds.js';
import { nearly, oneKindOfShade, searched, shareOf, shares, sumOf } from './stepSearch.js';

/**
 * Which of several leads: what was measured or entered wrongly, then what lost a voltage; else the one that explains more alone,
 * which is the one that was joined.
 */
function rankOf(code: CauseCode): number {
  switch (code) {
    case 'soiling':
    case 'shunt':
    case 'series-resistance':
    case 'partial-shade':
    case 'module-low-current':
    case 'degraded':
      return 2;
    case 'substring-out':
      return 1;
    default:
      return 0;
  }
}

const mostOwn = 4;

/** What has many groups of unlike light has freedom enough. */
export const canBeJoined = ({ hypothesis, own }: Tried): boolean =>
  hypothesis.code !== 'healthy' && hypothesis.code !== 'degraded' && own.length <= mostOwn;

/** Every cause that can join what was tried, as fits; those that turn out to be none are left out again. */
export function* joined(e: Expectation, tried: Tried): Steps<Tried[]> {
  const { hypothesis } = tried;
  const present = new Set<CauseCode>([hypothesis.code as CauseCode, ...(hypothesis.also ?? [])]);
  const base = continued(hypothesis, tried);
  const joins = simpleJoins(e, base).filter(({ code }) => !present.has(code));
  const steps = present.has('partial-shade') || present.has('module-low-current') ? [] : weakJoins(e, base);
  const simple = joins.map(({ hypothesis: each }) => each);
  const found = [...(yield* bestOf(e, simple)), ...(steps.length > 0 ? yield* searched(e, steps) : [])];
  return found.flatMap((each) => [each, ...lessIdle(e, each)]);
}

function lessIdle(e: Expectation, tried: Tried): Tried[] {
  const [idle] = idleCauses(tried, e);
  if (idle === undefined || idle === 'healthy') return [];
  const hypothesis = without(tried, idle);
  return hypothesis ? [tryHypothesis(e, hypothesis, 10)] : [];
}

/** All are fitted shortly, the nearest to the end. */
function* bestOf(e: Expectation, hypotheses: readonly Hypothesis[]): Steps<Tried[]> {
  const short: { readonly hypothesis: Hypothesis; readonly tried: Tried }[] = [];
  for (const hypothesis of hypotheses) {
    short.push({ hypothesis, tried: tryHypothesis(e, hypothesis, 2) });
    yield;
  }
  return short
    .sort((a, b) => sumOf(a.tried) - sumOf(b.tried))
    .slice(0, mostFitted)
    .map(({ hypothesis, tried }) => tryHypothesis(e, continued(hypothesis, tried), 10));
}

const mostFitted = 3;

function joinedTo(base: Hypothesis, code: CauseCode, more: Partial<Hypothesis>): Hypothesis {
  const codes = [base.code as CauseCode, ...(base.also ?? []), code].sort((a, b) => rankOf(a) - rankOf(b));
  return {
    ...base,
    ...more,
    code: codes[0]!,
    also: codes.slice(1),
    odds: { ...base.odds, ...(more.odds ?? { [code]: priorOdds[code] }) },
    priors: { ...base.priors, ...more.priors },
    tag: { ...base.tag, ...more.tag },
  };
}

function simpleJoins(
  e: Expectation,
  base: Hypothesis,
): { readonly code: CauseCode; readonly hypothesis: Hypothesis }[] {
  const { priors, ohm, entered } = e;
  const all = entered.modules * entered.substrings;
  const { starts } = base;
  // As many as the voltage was bent for.
  const missing = Math.round(-(starts?.voltage ?? 0) * all);
  const join = (code: CauseCode, more: Partial<Hypothesis>) => ({
    code,
    hypothesis: joinedTo(base, code, more),
  });
  const isCurrent = base.code === 'irradiance-wrong' || base.code === 'sensor-soiled';
  return [
    join('series-resistance', { priors: { resistance: above(priors.resistance, 0.1 * ohm) } }),
    ...(isCurrent ? [] : [join('soiling', { priors: { current: below(priors.current, 0.1) } })]),
    join('shunt', { priors: { conductance: above(priors.conductance, 0.15 / ohm) }, tag: {} }),
    ...[...new Set([1, 2, missing])]
      .filter((out) => out > 0 && out < all)
      .map((out) =>
        join('substring-out', {
          state: () => ({ ...base.state?.(), out, outVoltage: 0 }),
          starts: starts && { ...starts, voltage: starts.voltage + out / all },
          tag: { out, outVoltage: 0 },
        }),
      ),
  ];
}

/** One substring short of light beside the rest. */
function weakJoins(e: Expectation, base: Hypothesis): Hypothesis[] {
  if (e.entered.modules * e.entered.substrings < 3) return [];
  return shares.map((share) =>
    joinedTo(base, 'partial-shade', {
      state: () => ({ ...base.state?.(), weak: [{ count: 1, share }] }),
      own: [...(base.own ?? []), shareOf(0, share), nearly(0, 1)],
      odds: oneKindOfShade,
    }),
  );
}
