/** What strings say beside each other: like strings, composed strings, an earlier campaign. Remembered where it costs. */
import type { Campaign } from '../campaign/model.js';
import { stringOf } from '../campaign/names.js';
import { composeFailedString } from '../cases/composeFailedString.js';
import type { Composition, CompositionResult } from '../cases/composition.js';
import { historyOf, type History, type PairHistory, type Visit } from '../cases/history.js';
import type { PeerGroup } from '../cases/peers.js';
import type { StringCase } from '../cases/stringCase.js';
import type { CheckedSweep } from '../checks/check.js';
import { FilteredList } from '../text/filteredList.js';
import { GroupedList } from '../text/groupedList.js';
import { Remembered } from './remembered.js';
import { replacementsByString } from './replacements.js';

const compositions = new Remembered<CompositionResult | undefined>();
const pairs = new Remembered<PairHistory>();

/** The compositions of one campaign, again and again as few of its sweeps change. */
export class Compositions {
  readonly #strings = new GroupedList(({ address }: CheckedSweep) => stringOf(address));
  /** Strings of which parts were swept: without them nothing is composed. */
  readonly #withParts = new FilteredList((sweeps: readonly CheckedSweep[]) =>
    sweeps.some(({ address }) => address.includes('/')),
  );

  /** By string, for the strings whose whole sweep failed or whose case is open, and of which parts were swept. */
  of(
    campaign: Campaign,
    sweeps: readonly CheckedSweep[],
    cases: readonly StringCase[],
    peerGroups: readonly PeerGroup[],
  ): Map<string, CompositionResult> {
    const results = new Map<string, CompositionResult>();
    const suspects = this.#withParts.of(this.#strings.of(sweeps).lists);
    if (suspects.length === 0) return results;
    const replacementsOf = replacementsByString(campaign);
    const groupOf = new Map(
      peerGroups.flatMap((group) => group.sweeps.map(({ address }) => [address, group] as const)),
    );
    const caseOf = new Map(cases.map((each) => [each.string, each]));
    for (const own of suspects) {
      const string = stringOf(own[0]!.address);
      const record = campaign.strings.get(string)?.record;
      if (!record) continue;
      const replacements = replacementsOf.get(string) ?? [];
      const peers = groupOf.get(string);
      const known = caseOf.get(string);
      const dependencies = [
        ...own.flatMap(({ address, time, instant, analysis, diagnosis }) => [
          address,
          time,
          instant,
          analysis,
          diagnosis,
        ]),
        ...replacements,
        ...(peers?.sweeps ?? []).map(({ analysis }) => analysis),
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
}

/** With the sweeps as they stand now: an edit above them moved their lines and changed nothing else. */
function relinked(composition: Composition, sweeps: readonly CheckedSweep[]): Composition {
  const current = (sweep: CheckedSweep): CheckedSweep =>
    sweeps.find(({ analysis, address }) => analysis === sweep.analysis && address === sweep.address) ?? sweep;
  const { opening, forecast, parts } = composition;
  const { read } = forecast;
  const named = [opening, ...parts.map(({ sweep }) => sweep), ...(read ? [read.sweep] : [])];
  if (named.every((sweep) => current(sweep) === sweep)) return composition;
  return {
    ...composition,
    opening: current(opening),
    parts: parts.map((part) => ({ ...part, sweep: current(part.sweep) })),
    forecast: { ...forecast, read: read && { ...read, sweep: current(read.sweep) } },
  };
}

/** What two sweeps say of each other is remembered by both of their analyses. */
export function rememberedHistory(now: Visit, earlier: Visit): History {
  return historyOf(now, earlier, (before, sweep, compute) =>
    pairs.get(sweep.analysis, sweep.address, [before.analysis, before.instant, sweep.instant], compute),
  );
}
