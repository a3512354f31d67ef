/** What the other strings of one module type read on the same day: the company a sweep is judged in. */
import { stringOf } from '../campaign/names.js';
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { SweepTarget } from '../campaign/model.js';
import { momentOf, type Timed } from '../campaign/moment.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import { GroupedList } from '../text/groupedList.js';
import { partsByKey } from '../text/groups.js';
import { MappedList } from '../text/mappedList.js';
import { onceFor } from '../text/onceFor.js';
import type { Steps } from '../text/steps.js';
import { described } from './describe.js';
import { basisOf } from './expectation.js';
import { companyKey, leastPeers, type Peers, type Usual } from './peers.js';
import { UsualLevel, type Rounding } from './usualLevel.js';
import { UsualTemperature } from './usualTemperature.js';

/** Its time in ISO 8601, the day first. */
export interface PeerSweep extends Timed {
  readonly address: string;
  readonly target: SweepTarget;
  readonly reading?: SweepReading;
  readonly analysis: SweepAnalysis;
}

const levelNames = ['current', 'kelvin', 'resistance', 'conductance', 'rounding'] as const;
type LevelName = (typeof levelNames)[number];
/** What the points of one sweep read, in the numbers of `Peers`. */
export type Levels = Readonly<Record<LevelName, number>>;

/** Scatter of good strings is not less than this, however few there are. */
const rounding: Readonly<Record<LevelName, Rounding>> = {
  current: { leastScatter: 0.004, grid: 5e-4 },
  kelvin: { leastScatter: 0.5, grid: 0.05 },
  resistance: { leastScatter: 0.002, grid: 5e-4 },
  conductance: { leastScatter: 0.003, grid: 5e-4 },
  rounding: { leastScatter: 0.015, grid: 2e-3 },
};

/**
 * For each sweep its peers, again and again as few of the sweeps change: whole strings of the same module type on the same day at other
 * addresses, the sweep of each that is latest in time (of one moment the later in the text), none of them void. Undefined for a
 * sweep without company. Peers that read what they read before are the same object.
 */
export class PeerLevels<Sweep extends PeerSweep> {
  readonly #members = new MappedList((sweep: Sweep) => memberOf(sweep));
  readonly #companies = new GroupedList((sweep: Sweep) => companyKey(sweep));
  #levels = new Map<string, CompanyLevels<Sweep>>();

  *of(sweeps: readonly Sweep[]): Steps<readonly (Peers | undefined)[]> {
    // What costs is done in steps, and remembered.
    yield* this.#members.steps(sweeps);
    const { keys, lists, groupAt, placeAt } = this.#companies.of(sweeps);
    yield;
    this.#levels = partsByKey(keys, this.#levels, () => new CompanyLevels());
    const peers: (readonly (Peers | undefined)[])[] = [];
    for (const [group, key] of keys.entries()) {
      peers.push(this.#levels.get(key)!.of(lists[group]!));
      yield;
    }
    return sweeps.map((_, at) => (groupAt[at]! < 0 ? undefined : peers[groupAt[at]!]![placeAt[at]!]));
  }
}

interface Member extends Levels {
  readonly moment: number;
  readonly conditions: SweepAnalysis['conditions'];
}

const memberOf = onceFor((sweep: PeerSweep): Member | undefined => {
  const levels = levelsOf(sweep);
  return levels && { ...levels, moment: momentOf(sweep), conditions: sweep.analysis.conditions };
});

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

function latestMember(sweeps: readonly PeerSweep[]): Member | undefined {
  let latest: Member | undefined;
  for (const sweep of sweeps) {
    const member = memberOf(sweep);
    if (member && (!latest || member.moment >= latest.moment)) latest = member;
  }
  return latest;
}

/**
 * The sweeps of one type and day. What is usual for all but one string has few possible values, since leaving one out moves a median by
 * a place at most; so a sweep costs some comparisons, and its peers are another object only where one of them came out otherwise.
 */
class CompanyLevels<Sweep extends PeerSweep> {
  readonly #strings = new GroupedList((sweep: Sweep) => stringOf(sweep.address));
  readonly #latest = new MappedList((sweeps: readonly Sweep[]) => latestMember(sweeps));
  readonly #irradiances = new MappedList((sweep: Sweep) => sweep.analysis.conditions.irradiance);
  readonly #levels = levelNames.map(
    (name) => new UsualLevel((member: Member) => member[name], rounding[name]),
  );
  readonly #temperature = new UsualTemperature();
  #sweeps: readonly Sweep[] = [];
  #usual: readonly (readonly (Usual | undefined)[])[] = [];
  #peers: readonly (Peers | undefined)[] = [];

  /** One for each of the sweeps. */
  of(sweeps: readonly Sweep[]): readonly (Peers | undefined)[] {
    if (sweeps === this.#sweeps) return this.#peers;
    const strings = this.#strings.of(sweeps);
    const latest = this.#latest.of(strings.lists);
    const members = latest.reduce((count, member) => (member ? count + 1 : count), 0);
    const beside = sweeps.map((_, at) => members - (latest[strings.groupAt[at]!] ? 1 : 0));
    const usual = [
      ...this.#levels.map((level) => level.of(latest, strings.groupAt)),
      this.#temperature.of(latest, this.#irradiances.of(sweeps), strings.groupAt),
    ];
    const former = this.#sweeps.length === sweeps.length ? this.#usual : [];
    this.#peers = sweeps.map((_, at) => {
      const count = beside[at]!;
      if (count < leastPeers) return undefined;
      const before = this.#peers[at];
      if (before?.count === count && usual.every((each, name) => each[at] === former[name]?.[at]))
        return before;
      const [current, kelvin, resistance, conductance, rounding, temperature] = usual.map((each) => each[at]);
      return {
        count,
        current: current!,
        kelvin: kelvin!,
        resistance: resistance!,
        conductance: conductance!,
        rounding: rounding!,
        temperature,
      };
    });
    this.#sweeps = sweeps;
    this.#usual = usual;
    return this.#peers;
  }
}
