/** What strings say beside each other: like strings, composed strings, an earlier campaign. Remembered where it costs. */
import type { Campaign } from '../campaign/model.js';
import { composeFailedString } from '../cases/composeFailedString.js';
import type { Composition, CompositionResult } from '../cases/composition.js';
import { historyOf, type History, type PairHistory, type Visit } from '../cases/history.js';
import type { PeerGroup } from '../cases/peers.js';
import type { StringCase } from '../cases/stringCase.js';
import type { CheckedSweep } from '../checks/check.js';
import { Remembered } from './remembered.js';

const compositions = new Remembered<CompositionResult | undefined>();
const pairs = new Remembered<PairHistory>();

/** By string, for the strings whose whole sweep failed or whose case is open, and of which parts were swept. */
export function rememberedCompositions(
  campaign: Campaign,
  sweeps: readonly CheckedSweep[],
  cases: readonly StringCase[],
  peerGroups: readonly PeerGroup[],
): Map<string, CompositionResult> {
  const results = new Map<string, CompositionResult>();
  for (const [string, own] of suspectStrings(sweeps)) {
    const record = campaign.strings.get(string)?.record;
    if (!record) continue;
    const replacements = campaign.entries.flatMap(({ record: each }) =>
      each.kind === 'replace' && each.address.string === string ? [each] : [],
    );
    const peers = peerGroups.find(({ members }) => members.some((member) => member.string === string));
    const known = cases.find((each) => each.string === string);
    const dependencies = [
      ...own.flatMap(({ address, time, analysis, diagnosis }) => [address, time, analysis, diagnosis]),
      ...replacements,
      ...(peers?.members ?? []).map(({ sweep }) => sweep.analysis),
      known?.openedBy?.analysis,
      known?.modules.map(({ status }) => status).join(),
    ];
    const result = compositions.get(record, string, dependencies, () =>
      composeFailedString({ string, sweeps: own, replacements, peers, case: known }),
    );
    if (result) results.set(string, result.kind === 'composed' ? relinked(result, own) : result);
  }
  return results;
}

/** Strings of which parts were swept: without them nothing is composed. */
function suspectStrings(sweeps: readonly CheckedSweep[]): Map<string, CheckedSweep[]> {
  const withParts = new Set(
    sweeps.flatMap(({ address }) => (address.includes('/') ? [address.split('/')[0]!] : [])),
  );
  const strings = new Map<string, CheckedSweep[]>();
  for (const sweep of sweeps) {
    const string = sweep.address.split('/')[0]!;
    if (!withParts.has(string)) continue;
    const known = strings.get(string);
    if (known) known.push(sweep);
    else strings.set(string, [sweep]);
  }
  return strings;
}

/** With the sweeps as they stand now: an edit above them moved their lines and changed nothing else. */
function relinked(composition: Composition, sweeps: readonly CheckedSweep[]): Composition {
  const current = (sweep: CheckedSweep): CheckedSweep =>
    sweeps.find(({ analysis, address }) => analysis === sweep.analysis && address === sweep.address) ?? sweep;
  const { opening, forecast, parts } = composition;
  if (current(opening) === opening && parts.every(({ sweep }) => current(sweep) === sweep))
    return composition;
  return {
    ...composition,
    opening: current(opening),
    parts: parts.map((part) => ({ ...part, sweep: current(part.sweep) })),
    forecast: {
      ...forecast,
      read: forecast.read && { ...forecast.read, sweep: current(forecast.read.sweep) },
    },
  };
}

/** What two sweeps say of each other is remembered by both of their analyses. */
export function rememberedHistory(now: Visit, earlier: Visit): History {
  return historyOf(now, earlier, (before, sweep, compute) =>
    pairs.get(sweep.analysis, sweep.address, [before.analysis, before.instant, sweep.instant], compute),
  );
}
