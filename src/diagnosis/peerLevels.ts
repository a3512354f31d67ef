/** What the other strings of one module type read on the same day: the company a sweep is judged in. */
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { SweepTarget } from '../campaign/model.js';
import { median, medianAbsolute } from '../physics/robustStatistics.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import { described } from './describe.js';
import { basisOf } from './expectation.js';
import type { Peers, Usual } from './peers.js';

export interface PeerSweep {
  readonly address: string;
  /** ISO 8601, the day first. */
  readonly time?: string;
  readonly target: SweepTarget;
  readonly reading?: SweepReading;
  readonly analysis: SweepAnalysis;
}

/** Fewer peers than this are no company. */
export const leastPeers = 3;
/** Light is alike where it differs by less than this: cells warm with it. */
const likeLight = 0.15;
/** K per W/m2: how cells warm with the light, from an open rack at 1000 W/m2 (common practice, no source). */
const warming = 0.03;
/** Scatter of good strings is not less than this, however few there are. */
const leastScatter = {
  current: 0.004,
  kelvin: 0.5,
  resistance: 0.002,
  conductance: 0.003,
  rounding: 0.015,
  temperature: 1.5,
} as const;

/**
 * For each sweep its peers: whole strings of the same module type on the same day at other addresses, the latest sweep of each,
 * none of them void. A sweep without company has no entry.
 */
export function peerLevels<T extends PeerSweep>(sweeps: readonly T[]): Map<T, Peers> {
  const groups = new Map<string, Map<string, Member>>();
  for (const sweep of sweeps) {
    const key = groupOf(sweep);
    if (key === undefined || !sweep.target.wholeString || sweep.analysis.verdict === 'void') continue;
    const levels = levelsIn(sweep);
    if (!levels) continue;
    const group = groups.get(key) ?? new Map<string, Member>();
    groups.set(key, group);
    group.set(sweep.address, { ...levels, conditions: sweep.analysis.conditions });
  }
  const result = new Map<T, Peers>();
  for (const sweep of sweeps) {
    const key = groupOf(sweep);
    const group = key === undefined ? undefined : groups.get(key);
    if (!group) continue;
    const own = sweep.address.split('/')[0]!;
    const others = [...group].filter(([address]) => address !== own).map(([, member]) => member);
    if (others.length >= leastPeers) result.set(sweep, levelsOf(others, sweep.analysis));
  }
  return result;
}

type Levels = Readonly<Record<'current' | 'kelvin' | 'resistance' | 'conductance' | 'rounding', number>>;

interface Member extends Levels {
  readonly conditions: SweepAnalysis['conditions'];
}

function levelsIn(sweep: PeerSweep): Levels | undefined {
  const basis = basisOf(sweep);
  if (!basis) return undefined;
  const { current, temperature, resistance, conductance, rounding } = described(basis, 'temperature').values;
  return {
    current,
    kelvin: temperature,
    resistance: resistance / basis.ohm,
    conductance: conductance * basis.ohm,
    rounding,
  };
}

/** Sweeps of one group are of one type and day; undefined for what has no type. */
function groupOf({ target, time }: PeerSweep): string | undefined {
  return target.module && JSON.stringify([target.module.name.text, time?.slice(0, 10)]);
}

function levelsOf(others: readonly Member[], { conditions }: SweepAnalysis): Peers {
  const here = conditions.irradiance;
  const alike = here === undefined ? [] : others.filter((other) => isAlike(other, here));
  const temperatures = alike.map(
    (other) => other.conditions.cellTemperature! + warming * (here! - other.conditions.irradiance!),
  );
  const level = (name: keyof Levels, grid: number): Usual =>
    usual(
      others.map((other) => other[name]),
      leastScatter[name],
      grid,
    );
  return {
    count: others.length,
    current: level('current', 5e-4),
    kelvin: level('kelvin', 0.05),
    resistance: level('resistance', 5e-4),
    conductance: level('conductance', 5e-4),
    rounding: level('rounding', 2e-3),
    temperature:
      temperatures.length < leastPeers ? undefined : usual(temperatures, leastScatter.temperature, 0.5),
  };
}

const isAlike = ({ conditions }: Member, here: number): boolean =>
  conditions.cellTemperature !== undefined && Math.abs(conditions.irradiance! / here - 1) < likeLight;

/** Median with the error of the median itself in its scatter. */
function usual(values: readonly number[], least: number, grid: number): Usual {
  const value = median(values);
  const spread = 1.4826 * medianAbsolute(values.map((each) => each - value));
  const scatter = Math.max(least, spread) * Math.sqrt(1 + 1.57 / values.length);
  return { value: Math.round(value / grid) * grid, scatter: Math.ceil(scatter / grid) * grid };
}
