/**
 * Strings of one module type in one plane, compared among themselves: a string that differs from the rest is looked at even
 * where it passes against the nameplate, and what moves all alike is looked for in the sensor or the nameplate.
 */
import { middle, robustLimits, robustSpread, type RobustSpread } from '../analysis/peerStatistics.js';
import { parameterSymbols } from '../analysis/verdict.js';
import type { ParameterName } from '../campaign/model.js';
import { byMoment } from '../campaign/moment.js';
import { propertyRange, type CheckedSweep } from '../checks/check.js';
import { groupBy } from '../text/groups.js';
import { onceFor } from '../text/onceFor.js';
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
  /** In reading order. */
  readonly members: readonly PeerMember[];
  /** Of the deviations from the nameplate at STC; a parameter is absent where fewer than three strings have it. */
  readonly spread: Readonly<Partial<Record<ParameterName, RobustSpread>>>;
  /** What moves all alike, in a sentence; undefined where nothing does. */
  readonly shift?: string;
}

/** What like strings are compared by: IEC 62446-1 compares Voc and Isc (from memory, not confirmed); the others tell the rest. */
const peerParameters = ['pmax', 'isc', 'voc', 'ff'] as const;

/** A distance that no rule flags where no limit is agreed: own choice. */
const floor = 0.01;
/** Beyond the expanded uncertainty; where that is not known, this: own choice. */
const assumedUncertainty = 0.03;

/** The latest judged sweep of each string; void ones and those not judged do not count. Of one moment the later in the text. */
export function latestJudged<S extends CheckedSweep>(sweeps: readonly S[]): Map<string, S> {
  const latest = new Map<string, S>();
  for (const sweep of sweeps) {
    const { verdict } = sweep.analysis;
    if (sweep.address.includes('/') || verdict === 'void' || verdict === 'not judged') continue;
    const known = latest.get(sweep.address);
    if (!known || byMoment(sweep, known) >= 0) latest.set(sweep.address, sweep);
  }
  return latest;
}

/** Groups of three strings and more, in reading order. */
export function peerGroups(sweeps: readonly CheckedSweep[]): PeerGroup[] {
  const judged = [...latestJudged(sweeps).values()].filter(
    ({ target, analysis }) => target.module && analysis.translated,
  );
  const groups = groupBy(judged, groupKey);
  return [...groups.values()].flatMap((group) => (group.length < 3 ? [] : [groupOf(group)]));
}

const groupKey = onceFor(({ target: { module, plane } }: CheckedSweep) =>
  JSON.stringify([module!.name.text, plane?.name.text]),
);

function groupOf(sweeps: readonly CheckedSweep[]): PeerGroup {
  const { module, plane } = sweeps[0]!.target;
  const spread: Partial<Record<ParameterName, RobustSpread>> = {};
  const deviations = sweeps.map(({ analysis }) => analysis.deviation);
  for (const name of peerParameters) {
    const found = robustSpread(knownOf(deviations, name));
    if (found) spread[name] = found;
  }
  const members = sweeps.map((sweep) => memberOf(sweep, spread));
  const title = `${sweeps.length} strings of ${module!.name.text}${plane ? ` in plane ${plane.name.text}` : ''}`;
  return {
    module: module!.name.text,
    plane: plane?.name.text,
    members,
    spread,
    shift: shiftOf(title, sweeps, spread),
  };
}

/** Those of a parameter that are known. */
function knownOf(
  of: readonly Readonly<Partial<Record<ParameterName, number>>>[],
  name: ParameterName,
): number[] {
  const values: number[] = [];
  for (const { [name]: value } of of) if (value !== undefined) values.push(value);
  return values;
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
  sweeps: readonly CheckedSweep[],
  spread: PeerGroup['spread'],
): string | undefined {
  const shifted = (name: 'isc' | 'voc' | 'pmax'): number | undefined => {
    const group = spread[name];
    if (!group || Math.abs(group.median) <= 2 * group.spread) return undefined;
    const uncertainties = knownOf(
      sweeps.map(({ analysis }) => analysis.uncertainty),
      name,
    );
    const uncertainty = uncertainties.length > 0 ? middle(uncertainties) : assumedUncertainty;
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
  return groups.flatMap(({ members }) =>
    members.flatMap(({ sweep, standsOut }): FileProblem[] => {
      const said = standsOut.filter(({ rule }) => rule === 'agreed');
      if (said.length === 0) return [];
      const message = said.map(({ text }) => text).join(' ');
      const range = propertyRange(sweep, 'data');
      return [{ id: 'string/unlike-peers', severity: 'warning', file: sweep.block.file, range, message }];
    }),
  );
}
