/** What the modules of a string deliver that were not swept by themselves, by the evidence there is of sound ones. */
import { atModuleTerminals } from '../analysis/cableCorrection.js';
import { differenceUncertainty, scatterAlone } from '../analysis/comparedSweeps.js';
import { middle } from '../analysis/peerStatistics.js';
import type { CheckedSweep } from '../checks/check.js';
import { extractParameters } from '../physics/curveParameters.js';
import { standardTestConditions, type Conditions, type CurveParameters } from '../physics/ivCurve.js';
import { characteristicPoints } from '../physics/singleDiode.js';
import { expectedModel } from '../analysis/diodeFit.js';
import type { PeerGroup } from './peers.js';
import { lengthOf } from './positions.js';
import { unscaled, type MeasuredPart, type Scale } from './seriesParts.js';

/** A sound module over the model of its nameplate. */
export interface Level {
  /** `cleared`: parts of this string that passed. `peers`: like strings. `nameplate`: nothing else is known. */
  readonly source: 'cleared' | 'peers' | 'nameplate';
  /** `1.03/1-9`, … ; names of like strings. */
  readonly from: readonly string[];
  readonly parts: readonly MeasuredPart[];
  readonly atSweep: Scale;
  readonly atStandard: Scale;
  /** k = 1, as fractions, beside what the parts themselves are uncertain by. */
  readonly uncertainty: Scale;
}

/** How far modules of one type differ, k = 1: own choice, about half of a usual class of sorting (common practice, no source). */
const moduleSpread = 0.005;

export function levelOf(
  opening: CheckedSweep,
  cleared: readonly MeasuredPart[],
  peers: PeerGroup | undefined,
): Level {
  return fromCleared(cleared) ?? fromPeers(opening, peers) ?? fromNameplate(opening);
}

function fromCleared(parts: readonly MeasuredPart[]): Level | undefined {
  const known = parts.flatMap((part) => {
    const [atSweep, atStandard] = [scaleAtSweep(part.sweep), scaleAtStandard(part.sweep)];
    return atSweep && atStandard ? [{ part, atSweep, atStandard, count: lengthOf(part) }] : [];
  });
  const count = known.reduce((sum, each) => sum + each.count, 0);
  if (count === 0) return undefined;
  const mean = (scale: (each: (typeof known)[number]) => Scale): Scale => ({
    current: known.reduce((sum, each) => sum + each.count * scale(each).current, 0) / count,
    voltage: known.reduce((sum, each) => sum + each.count * scale(each).voltage, 0) / count,
  });
  return {
    source: 'cleared',
    from: known.map(({ part }) => part.address),
    parts: known.map(({ part }) => part),
    atSweep: mean((each) => each.atSweep),
    atStandard: mean((each) => each.atStandard),
    uncertainty: { current: moduleSpread / Math.sqrt(count), voltage: moduleSpread / Math.sqrt(count) / 2 },
  };
}

function fromPeers(opening: CheckedSweep, peers: PeerGroup | undefined): Level | undefined {
  const others = (peers?.members ?? []).filter(
    ({ string, standsOut }) => string !== opening.address && standsOut.length === 0,
  );
  const known = others.flatMap(({ string, sweep }) => {
    const [atSweep, atStandard] = [scaleAtSweep(sweep), scaleAtStandard(sweep)];
    return atSweep && atStandard ? [{ string, sweep, atSweep, atStandard }] : [];
  });
  if (known.length < 2) return undefined;
  const median = (scale: (each: (typeof known)[number]) => Scale): Scale => ({
    current: middle(known.map((each) => scale(each).current)),
    voltage: middle(known.map((each) => scale(each).voltage)),
  });
  const difference = scaleUncertainty(known[0]!.sweep, opening);
  const spread = (name: 'isc' | 'pmax'): number => Math.max(peers?.spread[name]?.spread ?? 0, moduleSpread);
  return {
    source: 'peers',
    from: known.map(({ string }) => string),
    parts: [],
    atSweep: median((each) => each.atSweep),
    atStandard: median((each) => each.atStandard),
    uncertainty: {
      current: Math.hypot(spread('isc'), difference.current),
      voltage: Math.hypot(spread('pmax') / 2, difference.voltage),
    },
  };
}

/** What a maker promises where the nameplate declares no tolerance: ± 3 %, common practice, no source. */
const undeclaredTolerance = 0.03;

/** k = 1, of the power of one module by its nameplate: the declared tolerance as a rectangle. */
export function nameplateTolerance({ target }: CheckedSweep): number {
  const declared = target.module?.pmax?.uncertainty;
  const value = target.module?.pmax?.value;
  if (!declared || !value) return undeclaredTolerance / Math.sqrt(3);
  return (declared.relative ? declared.value : declared.value / value) / Math.sqrt(3);
}

function fromNameplate(opening: CheckedSweep): Level {
  const { imp, vmp } = opening.analysis.uncertainty;
  const tolerance = nameplateTolerance(opening);
  return {
    source: 'nameplate',
    from: [],
    parts: [],
    atSweep: unscaled,
    atStandard: unscaled,
    uncertainty: {
      current: Math.hypot((imp ?? assumed.current) / 2, tolerance),
      voltage: (vmp ?? assumed.voltage) / 2,
    },
  };
}

/** Expanded, where no accuracies are declared: own choice. */
const assumed: Scale = { current: 0.04, voltage: 0.02 };

/** k = 1, as fractions: how far readings of current and voltage of two sweeps of one session may be apart. */
export function scaleUncertainty(a: CheckedSweep, b: CheckedSweep): Scale {
  const known = differenceUncertainty(a, b, 'session');
  return {
    current: (known?.imp?.whole ?? scatterAlone('session', 'imp')) / 2,
    voltage: (known?.vmp?.whole ?? scatterAlone('session', 'vmp')) / 2,
  };
}

/** Measured over modelled at the conditions of the sweep itself, at the module terminals. */
function scaleAtSweep({ target, analysis, reading }: CheckedSweep): Scale | undefined {
  if (!reading) return undefined;
  const { parameters } = extractParameters(atModuleTerminals(reading.curve, target).curve);
  return scaleOf(parameters, expectedModel(target, analysis.conditions));
}

function scaleAtStandard({ target, analysis }: CheckedSweep): Scale | undefined {
  return (
    analysis.translated &&
    scaleOf(
      analysis.translated.parameters,
      expectedModel(target, standardTestConditions satisfies Conditions),
    )
  );
}

function scaleOf({ isc, pmax }: CurveParameters, model: ReturnType<typeof expectedModel>): Scale | undefined {
  if (isc === undefined || pmax === undefined || !model) return undefined;
  const expected = characteristicPoints(model);
  const current = isc / expected.isc;
  return { current, voltage: pmax / expected.pmax / current };
}
