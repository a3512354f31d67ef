/** A curve described, not explained: everything that bends it is free at once. */
import type { Basis } from './expectation.js';
import { tryHypothesis, type Hypothesis, type Tried } from './hypothesis.js';

/** What takes up the level of the voltage; the two cannot be told apart in one curve. */
export type VoltageBy = 'temperature' | 'voltage';

const known = new WeakMap<Basis, Map<VoltageBy, Tried>>();

/** Remembered with the basis. */
export function described(basis: Basis, by: VoltageBy): Tried {
  let both = known.get(basis);
  if (!both) known.set(basis, (both = new Map()));
  let tried = both.get(by);
  if (!tried) both.set(by, (tried = describe(basis, by)));
  return tried;
}

/** @param steps a cause with steps in the curve or substrings out, which are described too */
export function describe(basis: Basis, by: VoltageBy, steps?: Tried): Tried {
  const { alone, ohm, sweep, expected } = basis;
  const { landmarks } = sweep;
  const out = steps?.hypothesis.state?.().out ?? 0;
  const working = 1 - out / (basis.entered.modules * basis.entered.substrings);
  const lack = landmarks.voc / (expected.voc * working) - 1;
  const shape: Hypothesis = {
    code: 'healthy',
    odds: {},
    base: alone,
    priors: {
      current: { mean: 0, deviation: 0.5, start: Math.log(landmarks.isc / expected.isc) },
      voltage: by === 'voltage' ? { mean: 0, deviation: 0.5, start: lack } : { mean: 0, deviation: 1e-4 },
      temperature: { mean: 0, deviation: by === 'temperature' ? 40 : 0.01 },
      resistance: { mean: 0, deviation: 0.2 * ohm },
      conductance: { mean: 0, deviation: 0.2 / ohm },
      rounding: { mean: 0, deviation: 0.2 },
    },
    ...(steps
      ? {
          state: () => ({ weak: [], ...steps.hypothesis.state?.(), shunted: undefined }),
          own: startingAt(steps),
          starts: { ...steps.values, temperature: 0 },
        }
      : {}),
  };
  return tryHypothesis({ ...basis, priors: alone }, shape, 10);
}

const startingAt = ({ hypothesis, own }: Tried) =>
  hypothesis.own
    ?.map((each, j) => ({ ...each, start: own[j]!.value }))
    ?.filter(({ name }) => name === 'share' || name === 'count');
