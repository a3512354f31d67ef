/** The causes that are tried, each with its prior share and what it leaves free. */
import { moduleScience } from '../analysis/moduleScience.js';
import type { Quantity } from '../campaign/quantity.js';
import { FaultyString } from '../physics/faultyString.js';
import type { Expectation, Prior } from './expectation.js';
import { logNormal, type Hypothesis, type OwnUnknown } from './hypothesis.js';
import { priorOdds } from './odds.js';

export const healthy: Hypothesis = { code: 'healthy', odds: {} };

/** All but those whose steps have to be searched for (see stepSearch.ts). */
export function simpleHypotheses(e: Expectation): Hypothesis[] {
  return [
    ...driftHypotheses(e),
    ...temperatureHypotheses(e),
    ...currentHypotheses(e),
    ...countHypotheses(e),
    ...typeHypotheses(e),
    ...substringHypotheses(e),
    ...resistanceHypotheses(e),
    ...shuntHypotheses(e),
    degraded(e),
  ];
}

export const above = (prior: Prior, deviation: number) => ({
  mean: prior.mean,
  deviation,
  least: prior.mean,
});
export const below = (prior: Prior, deviation: number) => ({ mean: prior.mean, deviation, most: prior.mean });

function driftHypotheses({ input: { reading, analysis } }: Expectation): Hypothesis[] {
  const { drift, driftUncorrected } = analysis.conditions;
  if (reading?.irradiance || reading?.direction === 'mixed') return [];
  const seen = driftUncorrected ? drift! : 0;
  const odds = { drift: priorOdds.drift + (seen > 0.01 ? 3.5 : 0) };
  return [{ code: 'drift', odds, priors: { drift: { mean: 0, deviation: Math.max(0.03, seen) } } }];
}

/** Where the peers tell what cells had in this light, the true temperature is looked for there. */
function temperatureHypotheses({ input: { analysis, peers } }: Expectation): Hypothesis[] {
  const { cellTemperature, temperatureSource } = analysis.conditions;
  if (temperatureSource === 'voc') return [];
  const code = 'temperature-wrong';
  const wrong = 12;
  // Alone nothing speaks for the sensor, so it is doubted before the string.
  if (!peers?.temperature)
    return [
      { code, odds: { [code]: priorOdds[code] + 2 }, priors: { temperature: { mean: 0, deviation: wrong } } },
    ];
  const { value, scatter } = peers.temperature;
  const apart = cellTemperature! - value;
  // What speaks for a wrong sensor is that the temperature given is not that of the others.
  const apartness = logNormal(apart, wrong) - Math.max(-12, logNormal(apart, scatter));
  const odds = { [code]: priorOdds[code] + apartness };
  const mean = value + peers.kelvin.value - cellTemperature!;
  return [{ code, odds, priors: { temperature: { mean, deviation: Math.hypot(scatter, 1) } } }];
}

/** A loss of photocurrent throughout; which cause it has, the curve alone does not tell. */
function currentHypotheses({ priors: { current }, input: { peers } }: Expectation): Hypothesis[] {
  return [
    { code: 'soiling', odds: { soiling: priorOdds.soiling }, priors: { current: below(current, 0.1) } },
    {
      code: 'irradiance-wrong',
      odds: { 'irradiance-wrong': priorOdds['irradiance-wrong'] },
      priors: { current: { mean: current.mean, deviation: 0.1 } },
    },
    ...(peers
      ? []
      : [
          {
            code: 'sensor-soiled' as const,
            odds: { 'sensor-soiled': priorOdds['sensor-soiled'] },
            priors: { current: above(current, 0.08) },
          },
        ]),
  ];
}

function countHypotheses(e: Expectation): Hypothesis[] {
  const { entered, expected, sweep } = e;
  if (entered.modules < 2) return [];
  const guess = Math.round(entered.modules * (sweep.landmarks.voc / expected.voc - 1));
  const changes = new Set([-1, 1, -2, 2, guess]);
  changes.delete(0);
  return [...changes].flatMap((change) => {
    const modules = entered.modules + change;
    if (modules < 1) return [];
    const usual = Math.abs(change) === 1 ? 0.3 : 0.1;
    return {
      code: 'module-count-wrong',
      odds: { 'module-count-wrong': priorOdds['module-count-wrong'] + Math.log(usual) },
      string: new FaultyString({ ...entered, modules }),
      tag: { modules },
    };
  });
}

function typeHypotheses({ input, entered, alone, sweep, expected }: Expectation): Hypothesis[] {
  const { otherTypes = [], target } = input;
  const { isc, voc } = target.module!;
  const { landmarks } = sweep;
  // A library may hold hundreds of types: those whose currents and voltages come near are tried.
  const near = (of: Quantity | undefined, own: Quantity | undefined, ratio: number): boolean =>
    of !== undefined && own !== undefined && Math.abs(of.value / own.value / ratio - 1) < 0.08;
  const others = otherTypes.filter(
    (type) =>
      type.name.text !== target.module!.name.text &&
      near(type.isc, isc, landmarks.isc / expected.isc) &&
      near(type.voc, voc, landmarks.voc / expected.voc),
  );
  return others.flatMap((type) => {
    const reference = moduleScience(type).diode;
    if (!reference) return [];
    return {
      code: 'module-type-wrong',
      odds: { 'module-type-wrong': priorOdds['module-type-wrong'] - Math.log(others.length) },
      string: new FaultyString({ ...entered, reference, substrings: type.substrings ?? entered.substrings }),
      base: alone,
      tag: { type: type.name.text },
    };
  });
}

/** Shorted bypass diodes, or substrings that are open so that their diodes conduct. */
function substringHypotheses(e: Expectation): Hypothesis[] {
  const { entered, expected, sweep } = e;
  const all = entered.modules * entered.substrings;
  const guess = Math.round(all * (1 - sweep.landmarks.voc / expected.voc));
  const counts = new Set([1, 2, 3, guess - 1, guess, guess + 1]);
  return [...counts].flatMap((out) => {
    if (out < 1 || out >= all) return [];
    const usual = out === 1 ? 0.8 : 0.5 / out;
    return [0, 0.5].map((outVoltage): Hypothesis => ({
      code: 'substring-out',
      odds: { 'substring-out': priorOdds['substring-out'] + Math.log(usual / 2) },
      state: () => ({ out, outVoltage }),
      tag: { out, outVoltage },
    }));
  });
}

function resistanceHypotheses({ priors, expected, entered }: Expectation): Hypothesis[] {
  const ohm = expected.vmp / (expected.imp / entered.parallel);
  return [
    {
      code: 'series-resistance',
      odds: { 'series-resistance': priorOdds['series-resistance'] },
      priors: { resistance: above(priors.resistance, 0.1 * ohm) },
    },
  ];
}

function shuntHypotheses({ priors, expected, entered }: Expectation): Hypothesis[] {
  const siemens = expected.imp / entered.parallel / expected.vmp;
  const throughout: Hypothesis = {
    code: 'shunt',
    odds: { shunt: priorOdds.shunt - Math.LN2 },
    priors: { conductance: above(priors.conductance, 0.15 * siemens) },
    tag: { modules: entered.modules },
  };
  const { modules: all } = entered;
  const each = 0.1 * siemens * all;
  const conductance: OwnUnknown = {
    name: 'shunt',
    mean: 0,
    deviation: 4 * each,
    least: 0,
    start: each,
    step: 0.05 * each,
    set: (state, value) => (state.shunted = { modules: state.shunted!.modules, conductance: value }),
  };
  const count = (start: number): OwnUnknown => ({
    name: 'shunted modules',
    mean: all / 2,
    deviation: all / 2,
    least: 0.5,
    most: all - 0.5,
    start,
    step: 0.05,
    set: (state, value) => (state.shunted = { modules: value, conductance: state.shunted!.conductance }),
  });
  const partly = (modules: number, own: readonly OwnUnknown[]): Hypothesis => ({
    code: 'shunt',
    odds: { shunt: priorOdds.shunt - Math.log(4) },
    state: () => ({ shunted: { modules, conductance: 0 } }),
    own,
    tag: { modules },
  });
  if (all < 3) return [throughout];
  return [
    throughout,
    partly(1, [conductance]),
    partly(all / 3, [conductance, count(all / 3)]),
    partly(0.7 * all, [conductance, count(0.7 * all)]),
  ];
}

/** No single cause: everything a little worse. */
function degraded({ priors, expected, entered }: Expectation): Hypothesis {
  const ohm = expected.vmp / (expected.imp / entered.parallel);
  return {
    code: 'degraded',
    odds: { degraded: priorOdds.degraded },
    priors: {
      current: below(priors.current, 0.06),
      voltage: below(priors.voltage, 0.03),
      resistance: above(priors.resistance, 0.06 * ohm),
      conductance: above(priors.conductance, 0.06 / ohm),
      rounding: { mean: 0, deviation: 0.15 },
    },
  };
}
