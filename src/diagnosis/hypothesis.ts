/** One possible cause as a model with its own unknowns, and how well the points speak for it. */
import { asEntered, type FaultyString, type StringState } from '../physics/faultyString.js';
import { fitWithPriors, type Unknown } from '../physics/priorFit.js';
import type { CauseCode } from './diagnosis.js';
import { commonUnknowns, type Basis, type CommonUnknown, type Prior } from './expectation.js';
import { weightOf, type Odds } from './odds.js';

/** A prior that may be one-sided, and where the fit begins when not at its mean. */
export interface Bounded extends Prior {
  readonly least?: number;
  readonly most?: number;
  readonly start?: number;
}

/** An unknown that only this hypothesis has. Share and count of a group of weak substrings; shunted modules and their shunt. */
export interface OwnUnknown extends Bounded {
  readonly name: 'share' | 'count' | 'shunt' | 'shunted modules';
  readonly step: number;
  readonly set: (state: StringState, value: number) => void;
}

export interface Hypothesis {
  readonly code: CauseCode | 'healthy';
  /** Further causes at the same time. */
  readonly also?: readonly CauseCode[];
  readonly odds: Odds;
  /** Where the count of modules or the type is another. */
  readonly string?: FaultyString;
  readonly base?: Readonly<Record<CommonUnknown, Prior>>;
  readonly priors?: Readonly<Partial<Record<CommonUnknown, Bounded>>>;
  readonly own?: readonly OwnUnknown[];
  /** Where the fit begins, when not at the priors. */
  readonly starts?: Readonly<Record<CommonUnknown, number>>;
  /** What is fixed in it. */
  readonly state?: () => Partial<StringState>;
  /** Whatever the words about it need. */
  readonly tag?: Readonly<Record<string, number | string>>;
}

export interface OwnValue {
  readonly name: OwnUnknown['name'];
  readonly value: number;
  readonly error: number;
}

export interface Tried {
  readonly hypothesis: Hypothesis;
  readonly values: Readonly<Record<CommonUnknown, number>>;
  /** k = 1. */
  readonly errors: Readonly<Record<CommonUnknown, number>>;
  readonly own: readonly OwnValue[];
  readonly misfit: number;
  readonly strain: number;
  /** ln evidence without misfit and strain. */
  readonly rest: number;
}

/** Points and priors: all that a fit needs. */
export type Fitted = Pick<Basis, 'sweep' | 'string' | 'ohm'> & {
  readonly priors: Readonly<Record<CommonUnknown, Prior>>;
};

export function tryHypothesis(expectation: Fitted, hypothesis: Hypothesis, rounds = 8): Tried {
  const { sweep } = expectation;
  const string = hypothesis.string ?? expectation.string;
  const base = hypothesis.base ?? expectation.priors;
  const own = hypothesis.own ?? [];
  const steps = stepsOf(expectation);
  const unknowns = [
    ...commonUnknowns.map((name) =>
      unknownOf(
        { ...possible[name], ...base[name], ...hypothesis.priors?.[name] },
        steps[name],
        hypothesis.starts?.[name],
      ),
    ),
    ...own.map((each) => unknownOf(each, each.step)),
  ];
  const state: StringState = { ...asEntered(), ...hypothesis.state?.() };
  const fit = fitWithPriors(
    {
      unknowns,
      observed: sweep.current,
      deviation: sweep.deviation,
      model: (values, result) => {
        commonUnknowns.forEach((name, j) => (state[name] = values[j]!));
        own.forEach(({ set }, j) => set(state, values[commonUnknowns.length + j]!));
        string.currents(state, sweep, result);
      },
    },
    rounds,
  );
  // A one-sided prior is twice as dense on its side.
  const sides = unknowns.filter(({ least, most, mean }) => least === mean || most === mean).length;
  const record = (numbers: Float64Array) =>
    Object.fromEntries(commonUnknowns.map((name, j) => [name, numbers[j]!])) as Record<CommonUnknown, number>;
  return {
    hypothesis,
    values: record(fit.values),
    errors: record(fit.errors),
    own: own.map(({ name }, j) => ({
      name,
      value: fit.values[commonUnknowns.length + j]!,
      error: fit.errors[commonUnknowns.length + j]!,
    })),
    misfit: fit.misfit,
    strain: fit.strain,
    rest: weightOf(hypothesis.odds) + fit.occam + sides * Math.LN2,
  };
}

/**
 * How far the points lie from the hypothesis as it starts, nothing fitted: the sum of distances in units of their deviation, which
 * a few points on a steep leg do not rule.
 */
export function distanceOf({ sweep, string, priors }: Fitted, hypothesis: Hypothesis): number {
  const state: StringState = { ...asEntered(), ...hypothesis.state?.() };
  for (const name of commonUnknowns) state[name] = hypothesis.starts?.[name] ?? priors[name].mean;
  for (const { set, start, mean } of hypothesis.own ?? []) set(state, start ?? mean);
  const modelled = new Float64Array(sweep.current.length);
  string.currents(state, sweep, modelled);
  return modelled.reduce(
    (sum, value, k) => sum + Math.abs(value - sweep.current[k]!) / sweep.deviation[k]!,
    0,
  );
}

/** Beyond these no model is worth computing. */
const possible: Readonly<Record<CommonUnknown, { readonly least?: number; readonly most?: number }>> = {
  current: { least: -2, most: 1 },
  temperature: { least: -80, most: 80 },
  voltage: { least: -0.9, most: 1 },
  resistance: {},
  conductance: {},
  rounding: { least: -0.6, most: 2 },
  drift: { least: -0.8, most: 0.8 },
};

function unknownOf(prior: Bounded, step: number, start = prior.start ?? prior.mean): Unknown {
  const { mean, deviation, least = -Infinity, most = Infinity } = prior;
  return { mean, deviation, start: Math.min(most, Math.max(least, start)), step, least, most };
}

/** The same hypothesis, to be fitted on from where a fit of it, or of one with fewer unknowns, ended. */
export function continued(hypothesis: Hypothesis, { values, own }: Tried): Hypothesis {
  return {
    ...hypothesis,
    starts: values,
    own: hypothesis.own?.map((each, j) => (own[j] ? { ...each, start: own[j].value } : each)),
  };
}

/** Which of the common unknowns a cause sets free. */
const freed: Readonly<Partial<Record<Hypothesis['code'], CommonUnknown>>> = {
  drift: 'drift',
  'temperature-wrong': 'temperature',
  'irradiance-wrong': 'current',
  'sensor-soiled': 'current',
  soiling: 'current',
  'series-resistance': 'resistance',
  shunt: 'conductance',
};

/** A shunt of some modules has an unknown of its own. */
const freedBy = ({ own = [] }: Hypothesis, code: Hypothesis['code']): CommonUnknown | undefined =>
  code === 'shunt' && own.some(({ name }) => name === 'shunt') ? undefined : freed[code];

/** How far, in standard deviations of a sound string. Own choice. */
const idleWithin = 2;

/** Causes that set an unknown free and leave it where a sound string may have it: they are none. */
export function idleCauses({ hypothesis, values }: Tried, { priors }: Fitted): Hypothesis['code'][] {
  return [hypothesis.code, ...(hypothesis.also ?? [])].filter((code) => {
    const name = freedBy(hypothesis, code);
    if (name === undefined) return false;
    const { mean, deviation } = priors[name];
    return Math.abs(values[name] - mean) < idleWithin * deviation;
  });
}

/** The hypothesis without one of its causes, to be fitted on; undefined where nothing is left. */
export function without(tried: Tried, code: CauseCode): Hypothesis | undefined {
  const { hypothesis } = tried;
  const [first, ...also] = [hypothesis.code, ...(hypothesis.also ?? [])].filter((each) => each !== code);
  const name = freedBy(hypothesis, code);
  if (first === undefined || name === undefined) return undefined;
  const { [name]: _freed, ...priors } = hypothesis.priors ?? {};
  const { [code]: _odds, ...odds } = hypothesis.odds;
  return {
    ...continued(hypothesis, tried),
    code: first,
    also: also.length > 0 ? (also as CauseCode[]) : undefined,
    priors,
    odds,
  };
}

/** Small against what shows, large against rounding. */
function stepsOf({ ohm }: Fitted): Record<CommonUnknown, number> {
  return {
    current: 1e-3,
    temperature: 0.05,
    voltage: 1e-3,
    resistance: 2e-3 * ohm,
    conductance: 2e-3 / ohm,
    rounding: 0.01,
    drift: 1e-3,
  };
}

/** ln of a normal density without the constant. */
export const logNormal = (distance: number, deviation: number): number =>
  -0.5 * (distance / deviation) ** 2 - Math.log(deviation);
