/** What the other strings of one module type read on the same day: the company a sweep is judged in. */
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { SweepTarget } from '../campaign/model.js';
import { median, medianAbsolute } from '../physics/robustStatistics.js';
import { sweepLevels, type SweepLevels } from './sweepLevels.js';

/** A usual value with the scatter of a single one around it (k = 1). */
export interface Usual {
  readonly value: number;
  readonly scatter: number;
}

/** Rounded, so that a change of one peer that moves nothing is no change. */
export interface Peers {
  readonly count: number;
  /** As in `SweepLevels`. */
  readonly current: Usual;
  readonly kelvin: Usual;
  readonly fill: Usual;
  /** Cell temperature given for peers in like light, degC; undefined where there are too few. */
  readonly temperature?: Usual;
}

export interface PeerSweep {
  readonly address: string;
  /** ISO 8601, the day first. */
  readonly time?: string;
  readonly target: SweepTarget;
  readonly analysis: SweepAnalysis;
}

/** Fewer peers than this are no company. */
export const leastPeers = 3;
/** Light is alike where it differs by less than this: cells warm with it. */
const likeLight = 0.15;
/** K per W/m2: how cells warm with the light, from an open rack at 1000 W/m2 (common practice, no source). */
const warming = 0.03;
/** Scatter of good strings is not less than this, however few there are. */
const leastScatter = { current: 0.004, kelvin: 0.4, fill: 0.003, temperature: 1.5 } as const;

/**
 * For each sweep its peers: whole strings of the same module type on the same day at other addresses, the latest sweep of each,
 * none of them void. A sweep without company has no entry.
 */
export function peerLevels<T extends PeerSweep>(sweeps: readonly T[]): Map<T, Peers> {
  const groups = new Map<string, Map<string, Member>>();
  for (const sweep of sweeps) {
    const key = groupOf(sweep);
    const levels = key === undefined ? undefined : sweepLevels(sweep.target, sweep.analysis);
    if (key === undefined || !levels || !sweep.target.wholeString || sweep.analysis.verdict === 'void')
      continue;
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

interface Member extends SweepLevels {
  readonly conditions: SweepAnalysis['conditions'];
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
  return {
    count: others.length,
    current: usual(
      others.map(({ current }) => current),
      leastScatter.current,
      1e-3,
    ),
    kelvin: usual(
      others.map(({ kelvin }) => kelvin),
      leastScatter.kelvin,
      0.1,
    ),
    fill: usual(
      others.map(({ fill }) => fill),
      leastScatter.fill,
      1e-3,
    ),
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
