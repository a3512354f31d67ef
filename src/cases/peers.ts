/**
 * Strings of one module type in one plane, compared among themselves: a string that differs from the rest is looked at even
 * where it passes against the nameplate, and what moves all alike is looked for in the sensor or the nameplate.
 */
import { middle, robustLimits, robustSpread, type RobustSpread } from '../analysis/peerStatistics.js';
import { parameterSymbols } from '../analysis/verdict.js';
import type { ParameterName } from '../campaign/model.js';
import { byMoment, latestOf } from '../campaign/moment.js';
import { propertyRange, type CheckedSweep } from '../checks/check.js';
import { GroupedList } from '../text/groupedList.js';
import { partsByKey } from '../text/groups.js';
import { MappedList } from '../text/mappedList.js';
import { knownNumbers, MappedNumbers } from '../text/mappedNumbers.js';
import type { FileProblem } from '../text/problem.js';
import { percentText } from './words.js';

export interface PeerMember {
  readonly string: string;
  /** Its latest judged sweep. */
  readonly sweep: CheckedSweep;
  /** Deviation from the nameplate less the median of the group, as fractions; undefined where not known. */
  readonly distance: Readonly<Partial<Record<ParameterName, number>>>;
  /** Where it is beyond the limits; empty where it is like the others. */
  readonly standsOut: readonly StandsOut[];
}

export interface StandsOut {
  readonly parameter: ParameterName;
  readonly distance: number;
  /** `agreed`: the `spread` of its criteria; `robust`: 3.5 scaled median absolute deviations, where none is agreed. */
  readonly rule: 'agreed' | 'robust';
  /** One sentence. */
  readonly text: string;
}

export interface PeerGroup {
  readonly module: string;
  readonly plane: string | undefined;
  /** The latest judged sweep of each string, in reading order. */
  readonly sweeps: readonly CheckedSweep[];
  /** One for each of the sweeps; worked out when first asked for. */
  readonly members: readonly PeerMember[];
  /** Of the deviations from the nameplate at STC; a parameter is absent where fewer than three strings have it. */
  readonly spread: Readonly<Partial<Record<ParameterName, RobustSpread>>>;
  /** What moves all alike, in a sentence; undefined where nothing does. */
  readonly shift?: string | undefined;
  /** The criteria of some agree on a `spread`. */
  readonly agreed: boolean;
}

/** What like strings are compared by: IEC 62446-1 compares Voc and Isc (from memory, not confirmed); the others tell the rest. */
const peerParameters = ['pmax', 'isc', 'voc', 'ff'] as const;
/** What tells a common shift. */
const shiftParameters = ['isc', 'voc', 'pmax'] as const;
type ShiftParameter = (typeof shiftParameters)[number];
type Uncertainties = ReadonlyMap<ShiftParameter, Float64Array>;

/** A distance that no rule flags where no limit is agreed: own choice. */
const floor = 0.01;
/** Beyond the expanded uncertainty; where that is not known, this: own choice. */
const assumedUncertainty = 0.03;

function isJudgedString({ address, analysis: { verdict } }: CheckedSweep): boolean {
  return !address.includes('/') && verdict !== 'void' && verdict !== 'not judged';
}

/** The latest judged sweep of each string; void ones and those not judged do not count. Of one moment the later in the text. */
export function latestJudged<S extends CheckedSweep>(sweeps: readonly S[]): Map<string, S> {
  const latest = new Map<string, S>();
  for (const sweep of sweeps) {
    if (!isJudgedString(sweep)) continue;
    const known = latest.get(sweep.address);
    if (!known || byMoment(sweep, known) >= 0) latest.set(sweep.address, sweep);
  }
  return latest;
}

/** Groups of three strings and more, in reading order, again and again as few of the sweeps change. */
export class PeerGroups {
  readonly #strings = new GroupedList((sweep: CheckedSweep) =>
    isJudgedString(sweep) ? sweep.address : undefined,
  );
  readonly #latest = new MappedList((judged: readonly CheckedSweep[]) => latestOf(judged)!);
  readonly #alike = new GroupedList(({ target: { module, plane }, analysis }: CheckedSweep) =>
    module && analysis.translated ? JSON.stringify([module.name.text, plane?.name.text]) : undefined,
  );
  #groups = new Map<string, GroupNumbers>();

  /** A group of which no sweep changed is the very same object as before. */
  of(sweeps: readonly CheckedSweep[]): PeerGroup[] {
    const latest = this.#latest.of(this.#strings.of(sweeps).lists);
    const { keys, lists } = this.#alike.of(latest);
    this.#groups = partsByKey(keys, this.#groups, () => new GroupNumbers());
    return keys.flatMap((key, at) =>
      lists[at]!.length < 3 ? [] : [this.#groups.get(key)!.groupOf(lists[at]!)],
    );
  }
}

type OfParameters = Readonly<Partial<Record<ParameterName, number>>>;

/** What a group is computed from, again and again as few of its sweeps change. */
class GroupNumbers {
  readonly #deviations = numbersOf(peerParameters, ({ analysis }) => analysis.deviation);
  readonly #uncertainties = numbersOf(shiftParameters, ({ analysis }) => analysis.uncertainty);
  readonly #agreed = new MappedNumbers(({ target }: CheckedSweep) =>
    target.criteria?.spread ? 1 : undefined,
  );
  #group: PeerGroup | undefined;

  groupOf(sweeps: readonly CheckedSweep[]): PeerGroup {
    if (this.#group?.sweeps !== sweeps) {
      const agreed = knownNumbers(this.#agreed.of(sweeps)).length > 0;
      this.#group = new GroupOfPeers(sweeps, agreed, this);
    }
    return this.#group!;
  }

  spreadOf(sweeps: readonly CheckedSweep[]): PeerGroup['spread'] {
    const spread: Partial<Record<ParameterName, RobustSpread>> = {};
    for (const [name, numbers] of this.#deviations) {
      const found = robustSpread(knownNumbers(numbers.of(sweeps)));
      if (found) spread[name] = found;
    }
    return spread;
  }

  uncertaintiesOf(sweeps: readonly CheckedSweep[]): Uncertainties {
    return new Map(this.#uncertainties.map(([name, numbers]) => [name, knownNumbers(numbers.of(sweeps))]));
  }
}

const numbersOf = <Name extends ParameterName>(
  names: readonly Name[],
  of: (sweep: CheckedSweep) => OfParameters,
): (readonly [Name, MappedNumbers<CheckedSweep>])[] =>
  names.map((name) => [name, new MappedNumbers((sweep: CheckedSweep) => of(sweep)[name])]);

/** Its statistics are worked out when first asked for: a keystroke may ask for none. */
class GroupOfPeers implements PeerGroup {
  readonly module: string;
  readonly plane: string | undefined;
  #spread: PeerGroup['spread'] | undefined;
  #shift: { readonly text: string | undefined } | undefined;
  #members: readonly PeerMember[] | undefined;
  readonly #numbers: GroupNumbers;

  constructor(
    readonly sweeps: readonly CheckedSweep[],
    readonly agreed: boolean,
    numbers: GroupNumbers,
  ) {
    const { module, plane } = sweeps[0]!.target;
    this.module = module!.name.text;
    this.plane = plane?.name.text;
    this.#numbers = numbers;
  }

  get spread(): PeerGroup['spread'] {
    return (this.#spread ??= this.#numbers.spreadOf(this.sweeps));
  }

  get shift(): string | undefined {
    if (!this.#shift) {
      const plane = this.plane === undefined ? '' : ` in plane ${this.plane}`;
      const title = `${this.sweeps.length} strings of ${this.module}${plane}`;
      this.#shift = { text: shiftOf(title, this.spread, this.#numbers.uncertaintiesOf(this.sweeps)) };
    }
    return this.#shift.text;
  }

  get members(): readonly PeerMember[] {
    return (this.#members ??= this.sweeps.map((sweep) => memberOf(sweep, this.spread)));
  }
}

function memberOf(sweep: CheckedSweep, spread: PeerGroup['spread']): PeerMember {
  const distance: Partial<Record<ParameterName, number>> = {};
  const standsOut: StandsOut[] = [];
  const agreed = sweep.target.criteria?.spread;
  for (const name of peerParameters) {
    const [deviation, group] = [sweep.analysis.deviation[name], spread[name]];
    if (deviation === undefined || !group) continue;
    const off = deviation - group.median;
    distance[name] = off;
    const limits = agreed
      ? { least: agreed.least?.value ?? -Infinity, most: agreed.most?.value ?? Infinity }
      : robustLimits(group, floor);
    if (!limits || (off >= limits.least && off <= limits.most)) continue;
    const limit = off < 0 ? limits.least : limits.most;
    const why = agreed
      ? `${percentText(limit)} is agreed in criteria ${sweep.target.criteria!.name.text}`
      : Math.abs(limit) === floor
        ? `anything beyond ${percentText(limit)} is told where no limit is agreed`
        : `3.5 times their usual spread is ${percentText(limit)}`;
    standsOut.push({
      parameter: name,
      distance: off,
      rule: agreed ? 'agreed' : 'robust',
      text: `${parameterSymbols[name]} of ${sweep.address} is ${percentText(off)} from the median of ${group.count} like strings; ${why}.`,
    });
  }
  return { string: sweep.address, sweep, distance, standsOut };
}

/** The median itself is beyond the uncertainty of a sweep, and beyond what the strings differ among themselves. */
function shiftOf(
  title: string,
  spread: PeerGroup['spread'],
  uncertainties: Uncertainties,
): string | undefined {
  const shifted = (name: ShiftParameter): number | undefined => {
    const group = spread[name];
    if (!group || Math.abs(group.median) <= 2 * group.spread) return undefined;
    const known = uncertainties.get(name)!;
    const uncertainty = known.length > 0 ? middle(known) : assumedUncertainty;
    return Math.abs(group.median) > uncertainty ? group.median : undefined;
  };
  const [isc, voc, pmax] = [shifted('isc'), shifted('voc'), shifted('pmax')];
  const said = (name: string, value: number): string =>
    `All ${title} lie about ${percentText(value)} from the nameplate in ${name}, which is beyond the uncertainty and alike in all`;
  if (isc !== undefined) {
    const soiling = isc < 0 ? ', or to dust on all modules' : '';
    return `${said('Isc', isc)}: this points to the reference device (calibration, dust on it, its tilt) or to the nameplate${soiling}, not to single strings.`;
  }
  if (voc !== undefined)
    return `${said('Voc', voc)}: this points to the cell temperature (a sensor that came off), the count of modules or the nameplate, not to single strings.`;
  if (pmax !== undefined)
    return `${said('Pmax', pmax)}: this points to the nameplate, to the cable or to ageing of all modules, not to single strings.`;
  return undefined;
}

/** A warning where an agreed `spread` is not kept. What the robust rule finds is shown beside the results alone. */
export function peerProblems(groups: readonly PeerGroup[]): FileProblem[] {
  return groups.flatMap((group) => {
    // Members are worked out only where something may be said of them.
    if (!group.agreed) return [];
    return group.members.flatMap(({ sweep, standsOut }): FileProblem[] => {
      const said = standsOut.filter(({ rule }) => rule === 'agreed');
      if (said.length === 0) return [];
      const message = said.map(({ text }) => text).join(' ');
      const range = propertyRange(sweep, 'data');
      return [{ id: 'string/unlike-peers', severity: 'warning', file: sweep.block.file, range, message }];
    });
  });
}
