/**
 * What became of each string since an earlier campaign: change of its parameters at STC for each year, with the uncertainty of
 * the difference. What both campaigns share (the same calibrations, the same nameplate) cancels.
 */
import { differenceUncertainty } from '../analysis/comparedSweeps.js';
import { middle, robustLimits, robustSpread, type RobustSpread } from '../analysis/peerStatistics.js';
import { parameterSymbols } from '../analysis/verdict.js';
import type { Campaign, ParameterName, ReplaceRecord, StringRecord } from '../campaign/model.js';
import { isDoneBefore, momentOf } from '../campaign/moment.js';
import type { CheckedSweep } from '../checks/check.js';
import { shiftRange } from '../text/place.js';
import type { FileProblem } from '../text/problem.js';
import { latestJudged } from './peers.js';
import { percentText } from './words.js';

export interface Rate {
  /** Change for each year as a fraction of the earlier value; negative where it fell. */
  readonly perYear: number;
  /** Expanded (k = 2), as a fraction for each year; undefined where the accuracies are not declared in both campaigns. */
  readonly uncertainty?: number;
  /** The same without what all strings of both campaigns share: for strings among themselves. */
  readonly own?: number;
}

const historyParameters = ['pmax', 'isc', 'voc', 'ff'] as const;

export interface StringHistory {
  readonly string: string;
  /** Its name in the earlier campaign. */
  readonly formerly: string;
  /** The latest judged sweep of either campaign. */
  readonly before: CheckedSweep;
  readonly now: CheckedSweep;
  readonly years?: number;
  /** Empty where it was refused. */
  readonly rates: Readonly<Partial<Record<ParameterName, Rate>>>;
  /** Why no rate is told; a full sentence. */
  readonly refused?: string;
  /** Modules replaced between the two sweeps: `1.05/4: KF-1 -> KF-2`. */
  readonly replaced: readonly string[];
  /** It ages unlike the others; one sentence. */
  readonly standsOut?: string;
}

export interface History {
  /** Root of the earlier campaign, and its name and title. */
  readonly root: string;
  readonly name?: string;
  readonly title?: string;
  /** In the order of the campaign. */
  readonly strings: readonly StringHistory[];
  /** Of the rates, by parameter, where three strings and more have one. */
  readonly spread: Readonly<Partial<Record<ParameterName, RobustSpread>>>;
  /** All changed alike: what else than ageing may be behind it. */
  readonly doubt?: string;
}

export interface Visit {
  readonly root: string;
  readonly campaign: Campaign;
  readonly sweeps: readonly CheckedSweep[];
}

/** Remembers what was computed from two sweeps; the evaluation gives one. */
export type RememberPair = (
  before: CheckedSweep,
  now: CheckedSweep,
  compute: () => PairHistory,
) => PairHistory;

export type PairHistory = Pick<StringHistory, 'years' | 'rates' | 'refused'>;

/** Less than this tells the uncertainty and the season, no ageing: own choice. */
const leastYears = 0.5;
const millisecondsPerYear = 365.2425 * 24 * 3600 * 1000;

/** @param formerNames names in the earlier campaign, by the later ones, where the strings do not say so themselves */
export function historyOf(
  now: Visit,
  earlier: Visit,
  remember: RememberPair = (_before, _now, compute) => compute(),
  formerNames: ReadonlyMap<string, string> = new Map(),
): History {
  const before = latestJudged(earlier.sweeps);
  const replacements = [...replacementsOf(earlier.campaign), ...replacementsOf(now.campaign)];
  const pairs = [...latestJudged(now.sweeps)].flatMap(([string, sweep]): StringHistory[] => {
    const formerly = formerNames.get(string) ?? formerNameOf(sweep.target.string, string);
    const first = before.get(formerly);
    if (!first) return [];
    const names = new Set([string, formerly]);
    const pair = remember(first, sweep, () => pairHistory(first, sweep));
    const replaced = replacements.filter((record) => names.has(record.address.string));
    return [
      { string, formerly, before: first, now: sweep, ...pair, replaced: between(replaced, first, sweep) },
    ];
  });
  const spread = spreadOf(pairs);
  const record = earlier.campaign.campaign?.record;
  return {
    root: earlier.root,
    name: record?.name.text,
    title: record?.title,
    strings: pairs.map((each) => ({ ...each, standsOut: standsOut(each, spread) })),
    spread,
    doubt: doubtOf(pairs, spread),
  };
}

/** Its name in the earlier campaign. */
export const formerNameOf = (record: StringRecord | undefined, string: string): string =>
  record?.formerly?.text ?? string;

const replacementsOf = ({ entries }: Campaign): ReplaceRecord[] =>
  entries.flatMap(({ record }) => (record.kind === 'replace' ? [record] : []));

function between(records: readonly ReplaceRecord[], before: CheckedSweep, now: CheckedSweep): string[] {
  return records
    .filter(({ time }) => isDoneBefore(time, now) && !isDoneBefore(time, before))
    .map(({ address, serial }) => address.text + (serial ? `: ${serial.old} -> ${serial.new}` : ''));
}

function pairHistory(before: CheckedSweep, now: CheckedSweep): PairHistory {
  const years = (momentOf(now) - momentOf(before)) / millisecondsPerYear;
  const refused = refusal(before, now, years);
  if (refused !== undefined) return { years: Number.isFinite(years) ? years : undefined, rates: {}, refused };
  const uncertainty = differenceUncertainty(before, now, 'visits');
  const rates: Partial<Record<ParameterName, Rate>> = {};
  for (const name of historyParameters) {
    const [then, today] = [before, now].map(({ analysis }) => analysis.translated?.parameters[name]);
    if (then === undefined || today === undefined || !(then > 0)) continue;
    const known = uncertainty?.[name];
    rates[name] = {
      perYear: (today / then - 1) / years,
      uncertainty: known && known.whole / years,
      own: known && known.own / years,
    };
  }
  return { years, rates };
}

function refusal(before: CheckedSweep, now: CheckedSweep, years: number): string | undefined {
  if (!Number.isFinite(years))
    return 'One of the two sweeps has no time, so the years between are not known.';
  if (years <= 0) return 'The sweep of the earlier campaign is not earlier.';
  if (years < leastYears)
    return `${years.toFixed(1)} years are too short to tell a degradation; it takes ${leastYears} years at least.`;
  const [then, today] = [before, now].map(({ target }) => deviceText(target));
  if (then !== today) return `The string was ${then!} and is ${today!} now.`;
  return undefined;
}

const deviceText = ({ seriesModules, module, parallelStrings }: CheckedSweep['target']): string =>
  `${parallelStrings > 1 ? `${parallelStrings} x ` : ''}${seriesModules} x ${module?.name.text}`;

function spreadOf(pairs: readonly StringHistory[]): History['spread'] {
  const spread: Partial<Record<ParameterName, RobustSpread>> = {};
  for (const name of historyParameters) {
    const found = robustSpread(pairs.flatMap(({ rates }) => rates[name]?.perYear ?? []));
    if (found) spread[name] = found;
  }
  return spread;
}

const perYear = (fraction: number): string => `${percentText(fraction)}/a`;

/** Where no accuracies are declared, as a fraction for each year: own choice. */
const assumedOwn = 0.01;

/** Unlike the others by more than their usual spread, and by more than its own uncertainty. */
function standsOut(
  { string, rates, replaced }: StringHistory,
  spread: History['spread'],
): string | undefined {
  for (const name of historyParameters) {
    const [rate, group] = [rates[name], spread[name]];
    if (!rate || !group) continue;
    const limits = robustLimits(group, rate.own ?? assumedOwn);
    const off = rate.perYear - group.median;
    if (!limits || (off >= limits.least && off <= limits.most)) continue;
    const since = replaced.length > 0 ? '; modules of it were replaced in between' : '';
    return `${parameterSymbols[name]} of ${string} changed by ${perYear(rate.perYear)} where the median of ${group.count} strings is ${perYear(group.median)}${since}.`;
  }
  return undefined;
}

/**
 * Crystalline silicon loses about 0.5 % a year in the median (Jordan and Kurtz, Prog. Photovolt. 21 (2013) 12-29, from memory):
 * twice of it in all alike is doubted, and so is any gain, where it is beyond the uncertainty.
 */
const fastest = -0.01;

function doubtOf(pairs: readonly StringHistory[], spread: History['spread']): string | undefined {
  for (const name of ['isc', 'voc', 'pmax'] as const) {
    const group = spread[name];
    if (!group || (group.median > fastest && group.median < 0)) continue;
    const known = pairs.flatMap(({ rates }) => rates[name]?.uncertainty ?? []);
    const uncertainty = known.length > 0 ? middle(known) : 2 * assumedOwn;
    if (Math.abs(group.median) < Math.max(uncertainty, 2 * group.spread)) continue;
    const fell = group.median < 0;
    const said = `All ${group.count} strings ${fell ? 'fell' : 'rose'} alike, ${parameterSymbols[name]} by ${perYear(group.median)} in the median`;
    const light = fell
      ? 'the reference device may have drifted or have been dusty the first time, or the modules are dustier now'
      : 'the reference device may have drifted or be dusty now, or the modules were dustier the first time';
    const cause = name === 'voc' ? 'the temperature sensor may sit otherwise than the first time' : light;
    const why = fell ? 'modules seldom age so fast and so evenly' : 'modules do not get better';
    return `${said}: ${why}; ${cause}. Clean both, see when the reference device was calibrated, and measure one string again.`;
  }
  return undefined;
}

/** A former name that the earlier campaign does not have. */
export function historyProblems(now: Campaign, earlier: Campaign): FileProblem[] {
  return now.entries.flatMap(({ record, block }): FileProblem[] => {
    if (record.kind !== 'string' || !record.formerly || earlier.strings.has(record.formerly.text)) return [];
    const message = `The earlier campaign has no string \`${record.formerly.text}\`; \`formerly\` gives the name that it had there.`;
    const range = shiftRange(record.formerly.range, block.startLine);
    return [{ id: 'history/unknown-string', severity: 'warning', file: block.file, range, message }];
  });
}
