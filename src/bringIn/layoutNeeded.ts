/** Whether a table reads as it is, and with which layout where it does not. */
import { isAddressFault, parseAddress } from '../campaign/names.js';
import type { Campaign, LayoutRecord } from '../campaign/model.js';
import {
  costOf,
  isClear,
  layoutCandidates,
  type ExpectedReach,
  type LayoutCandidate,
} from '../presentation/fixes/layoutCandidates.js';
import { layoutText, readLayout, tryLayout, type LayoutLines } from '../presentation/fixes/layoutText.js';
import { hasError, readSweepTable } from '../sweeps/readSweepTable.js';
import type { ReadingProblem, SweepReading } from '../sweeps/sweepReading.js';

/** A layout that is written already, or will be. */
export interface NamedLayout {
  readonly name: string;
  readonly record: LayoutRecord;
  /** Of a new one. */
  readonly lines?: LayoutLines;
}

export interface ReadTable {
  readonly reading?: SweepReading;
  readonly problems: readonly ReadingProblem[];
  /** One of those that were handed in. */
  readonly layout?: NamedLayout;
  /** New ones that it reads with, the likeliest first; none where it needs none. */
  readonly candidates: readonly LayoutCandidate[];
  /** The first of them is far likelier than the others. */
  readonly isClear: boolean;
}

/** What a layout can mend. */
const mendable = new Set(
  [
    'ambiguous-column',
    'columns-exchanged',
    'comma-twice',
    'duplicate-header',
    'implausible-current',
    'implausible-voltage',
    'no-current-column',
    'no-voltage-column',
    'sign-contradiction',
    'swapped-columns',
    'too-few-points',
    'unclear-number',
    'unit-contradiction',
    'wrong-skip',
    'wrong-unit',
  ].map((id) => `sweep/${id}`),
);

export function readWithLayout(
  bytes: Uint8Array,
  known: readonly NamedLayout[],
  expected: ExpectedReach | undefined,
): ReadTable {
  const plain = readSweepTable(bytes);
  const isDoubtful = plain.problems.some(({ id }) => mendable.has(id));
  if (!isDoubtful) return { ...plain, candidates: [], isClear: true };
  const fitting = known.find(({ record }) => {
    const trial = tryLayout(bytes, record);
    return trial && trial.complaints === 0 && costOf(trial, expected) < 1;
  });
  if (fitting)
    return { ...readSweepTable(bytes, fitting.record), layout: fitting, candidates: [], isClear: true };
  const candidates = layoutCandidates(bytes, expected).slice(0, 6);
  const [first] = candidates;
  // A table that reads, with a doubt that no layout takes away, stays as it is.
  if (!first) return { ...plain, candidates: [], isClear: true };
  const record = readLayout(layoutText('trial', first.lines));
  const tried = readSweepTable(bytes, record);
  const isBetter = !plain.reading || complaints(tried.problems) < complaints(plain.problems);
  if (!isBetter || hasError(tried.problems)) return { ...plain, candidates: [], isClear: true };
  return { ...tried, candidates, isClear: isClear(candidates) };
}

const complaints = (problems: readonly ReadingProblem[]): number =>
  problems.filter(({ severity }) => severity !== 'information').length;

/** What the nameplate lets a device reach, in open and short circuit; 800 W/m2 where the irradiance is not known. */
export function reachOf(
  address: string | undefined,
  irradiance: number | undefined,
  campaign: Campaign,
): ExpectedReach | undefined {
  const parsed = address === undefined ? undefined : parseAddress(address);
  if (!parsed || isAddressFault(parsed)) return undefined;
  const string = campaign.strings.get(parsed.string)?.record;
  const module = string?.modules && campaign.modules.get(string.modules.type.text)?.record;
  if (!string?.modules || !module?.voc || !module.isc) return undefined;
  const { first, last } = parsed;
  const series = first === undefined ? string.modules.count : (last ?? first) - first + 1;
  const parallel = first === undefined ? string.parallel : 1;
  return {
    voltage: module.voc.value * series,
    current: (module.isc.value * parallel * (irradiance ?? 800)) / 1000,
  };
}
