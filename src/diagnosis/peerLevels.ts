/** What the other strings of one module type read on the same day: the company a sweep is judged in. */
import { stringOf } from '../campaign/names.js';
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { SweepTarget } from '../campaign/model.js';
import { momentOf, type Timed } from '../campaign/moment.js';
import { WithoutOne } from '../physics/robustStatistics.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import { groupBy } from '../text/groups.js';
import { onceFor } from '../text/onceFor.js';
import { described } from './describe.js';
import { basisOf } from './expectation.js';
import { companyKey, leastPeers, likeLight, type Peers, type Usual } from './peers.js';

/** Its time in ISO 8601, the day first. */
export interface PeerSweep extends Timed {
  readonly address: string;
  readonly target: SweepTarget;
  readonly reading?: SweepReading;
  readonly analysis: SweepAnalysis;
}

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
 * For each sweep its peers: whole strings of the same module type on the same day at other addresses, the sweep of each that is
 * latest in time (of one moment the later in the text), none of them void. A sweep without company has no entry. Peers that read
 * what they read before are the same object.
 */
export function peerLevels<T extends PeerSweep>(sweeps: readonly T[]): Map<T, Peers> {
  const result = new Map<T, Peers>();
  for (const [key, group] of groupBy(sweeps, companyKey)) {
    if (key === undefined) continue;
    const company = new Company(latestOf(group));
    for (const sweep of group.sort((a, b) => irradianceOf(a) - irradianceOf(b))) {
      const peers = company.beside(sweep);
      if (peers) result.set(sweep, asBefore(sweep, peers));
    }
  }
  return result;
}

const irradianceOf = ({ analysis }: PeerSweep): number => analysis.conditions.irradiance ?? 0;

const before = new WeakMap<PeerSweep, Peers>();

function asBefore(sweep: PeerSweep, peers: Peers): Peers {
  const known = before.get(sweep);
  if (known && isSame(known, peers)) return known;
  before.set(sweep, peers);
  return peers;
}

function isSame(a: Peers, b: Peers): boolean {
  return (
    a.count === b.count &&
    isSameUsual(a.current, b.current) &&
    isSameUsual(a.kelvin, b.kelvin) &&
    isSameUsual(a.resistance, b.resistance) &&
    isSameUsual(a.conductance, b.conductance) &&
    isSameUsual(a.rounding, b.rounding) &&
    isSameUsual(a.temperature, b.temperature)
  );
}

const isSameUsual = (a: Usual | undefined, b: Usual | undefined): boolean =>
  Object.is(a?.value, b?.value) && Object.is(a?.scatter, b?.scatter);

function latestOf(sweeps: readonly PeerSweep[]): Map<string, Member> {
  const latest = new Map<string, Member>();
  for (const sweep of sweeps) {
    const member = memberOf(sweep);
    if (!member) continue;
    const known = latest.get(sweep.address);
    if (!known || member.moment >= known.moment) latest.set(sweep.address, member);
  }
  return latest;
}

const memberOf = onceFor((sweep: PeerSweep): Member | undefined => {
  const { analysis } = sweep;
  const levels = levelsOf(sweep);
  return levels && { ...levels, moment: momentOf(sweep), conditions: analysis.conditions };
});

/** What the points of one sweep read, in the numbers of `Peers`. */
export type Levels = Readonly<Record<'current' | 'kelvin' | 'resistance' | 'conductance' | 'rounding', number>>;

interface Member extends Levels {
  readonly moment: number;
  readonly conditions: SweepAnalysis['conditions'];
}

type MeasuredSweep = Pick<PeerSweep, 'target' | 'reading' | 'analysis'>;

const known = new WeakMap<SweepAnalysis, { readonly levels?: Levels }>();

/** Undefined for what is nobody's peer. Remembered with the analysis. */
export function levelsOf(sweep: MeasuredSweep): Levels | undefined {
  const { target, analysis } = sweep;
  if (!target.wholeString || analysis.verdict === 'void') return undefined;
  let kept = known.get(analysis);
  if (!kept) known.set(analysis, (kept = { levels: levelsIn(sweep) }));
  return kept.levels;
}

/** Takes levels that were computed elsewhere from the same points. */
export function rememberLevels(analysis: SweepAnalysis, levels: Levels | undefined): void {
  known.set(analysis, { levels });
}

function levelsIn(sweep: MeasuredSweep): Levels | undefined {
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

/** Members of one type and day; what is usual for all but one of them costs little each. Asked by rising irradiance. */
class Company {
  readonly #members: ReadonlyMap<string, Member>;
  readonly #levels: Readonly<Record<keyof Levels, WithoutOne>>;
  /** Those with a temperature, by irradiance. */
  readonly #byLight: readonly Member[];
  /** Temperatures in the dark of those from `from` up to `to`, which are in like light with the sweep asked for last. */
  readonly #alike = { from: 0, to: 0, temperatures: new WithoutOne() };

  constructor(members: ReadonlyMap<string, Member>) {
    const all = [...members.values()];
    const values = (name: keyof Levels) => new WithoutOne(all.map((member) => member[name]));
    this.#members = members;
    this.#levels = {
      current: values('current'),
      kelvin: values('kelvin'),
      resistance: values('resistance'),
      conductance: values('conductance'),
      rounding: values('rounding'),
    };
    this.#byLight = all
      .filter(({ conditions }) => conditions.cellTemperature !== undefined)
      .sort((a, b) => a.conditions.irradiance! - b.conditions.irradiance!);
  }

  beside({ address, analysis: { conditions } }: PeerSweep): Peers | undefined {
    const own = this.#members.get(stringOf(address));
    const count = this.#members.size - (own ? 1 : 0);
    if (count < leastPeers) return undefined;
    const level = (name: keyof Levels, grid: number): Usual =>
      usual(this.#levels[name], own?.[name], { count, least: leastScatter[name], grid });
    return {
      count,
      current: level('current', 5e-4),
      kelvin: level('kelvin', 0.05),
      resistance: level('resistance', 5e-4),
      conductance: level('conductance', 5e-4),
      rounding: level('rounding', 2e-3),
      temperature:
        conditions.irradiance === undefined ? undefined : this.#temperature(conditions.irradiance, own),
    };
  }

  /** In like light, warmer by what the light warms. */
  #temperature(here: number, own: Member | undefined): Usual | undefined {
    if (here <= 0) return undefined;
    const light = ({ conditions }: Member): number => conditions.irradiance! / here - 1;
    const alike = this.#alike;
    const all = this.#byLight;
    while (alike.to < all.length && light(all[alike.to]!) < likeLight)
      alike.temperatures.add(inTheDark(all[alike.to++]!));
    while (alike.from < alike.to && light(all[alike.from]!) <= -likeLight)
      alike.temperatures.remove(inTheDark(all[alike.from++]!));
    const isAmong = own?.conditions.cellTemperature !== undefined && Math.abs(light(own)) < likeLight;
    const count = alike.to - alike.from - (isAmong ? 1 : 0);
    if (count < leastPeers) return undefined;
    const left = isAmong ? inTheDark(own) : undefined;
    const limits = { count, least: leastScatter.temperature, grid: 0.5, offset: warming * here };
    return usual(alike.temperatures, left, limits);
  }
}

/** The cell temperature less what the light warms, degC. */
const inTheDark = ({ conditions: { cellTemperature, irradiance } }: Member): number =>
  cellTemperature! - warming * irradiance!;

/** Median of all but one, with the error of the median itself in its scatter. */
function usual(
  values: WithoutOne,
  left: number | undefined,
  { count, least, grid, offset = 0 }: { count: number; least: number; grid: number; offset?: number },
): Usual {
  const value = values.median(left);
  const spread = 1.4826 * values.medianDistance(value, left);
  const scatter = Math.max(least, spread) * Math.sqrt(1 + 1.57 / count);
  return { value: Math.round((value + offset) / grid) * grid, scatter: Math.ceil(scatter / grid) * grid };
}
