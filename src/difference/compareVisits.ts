/** Two campaigns of one plant at different times: what became of each string, whatever it is called now. */
import { momentOf } from '../campaign/moment.js';
import { formerNameOf, historyOf, type History, type StringHistory } from '../cases/history.js';
import { latestJudged } from '../cases/peers.js';
import type { ElectricalTest } from '../electricalTests/electricalTest.js';
import type { Evaluation } from '../evaluation/evaluation.js';

export interface TestPair {
  readonly before: ElectricalTest;
  readonly now: ElectricalTest;
}

export interface VisitComparison {
  readonly earlier: Evaluation;
  readonly later: Evaluation;
  /** Strings judged in both, in the order of the later campaign. */
  readonly history: History;
  /** Passed then, also conditionally, and fails now. */
  readonly newFailures: readonly StringHistory[];
  /** Failed then and passes now. */
  readonly mended: readonly StringHistory[];
  readonly newTestFailures: readonly TestPair[];
  /** Strings of one campaign alone, by their names there. */
  readonly onlyEarlier: readonly string[];
  readonly onlyLater: readonly string[];
  /** In both campaigns, and judged in one of them at most; by the later name. */
  readonly notJudged: readonly { readonly string: string; readonly where: 'earlier' | 'later' | 'both' }[];
}

/** @param formerNames names in the earlier campaign, by the later ones; where it is silent the strings' own `formerly` counts */
export function compareVisits(
  earlier: Evaluation,
  later: Evaluation,
  formerNames: ReadonlyMap<string, string> = new Map(),
): VisitComparison {
  const history = historyOf(later, earlier, undefined, formerNames);
  const formerOf = new Map(
    [...later.campaign.strings].map(([name, { record }]) => [
      name,
      formerNames.get(name) ?? formerNameOf(record, name),
    ]),
  );
  const known = new Set(formerOf.values());
  const judged = { earlier: latestJudged(earlier.sweeps), later: latestJudged(later.sweeps) };
  const fails = ({ analysis }: StringHistory['now']): boolean => analysis.verdict.endsWith('fail');
  const inBoth = [...formerOf].filter(([, former]) => earlier.campaign.strings.has(former));
  return {
    earlier,
    later,
    history,
    newFailures: history.strings.filter(({ before, now }) => fails(now) && !fails(before)),
    mended: history.strings.filter(({ before, now }) => fails(before) && !fails(now)),
    newTestFailures: newTestFailures(earlier, later, (name) => formerOf.get(name) ?? name),
    onlyEarlier: [...earlier.campaign.strings.keys()].filter((name) => !known.has(name)),
    onlyLater: [...formerOf].flatMap(([name, former]) =>
      earlier.campaign.strings.has(former) ? [] : [name],
    ),
    notJudged: inBoth.flatMap(([string, former]) => {
      const [then, now] = [judged.earlier.has(former), judged.later.has(string)];
      if (then && now) return [];
      return [{ string, where: then ? ('later' as const) : now ? ('earlier' as const) : ('both' as const) }];
    }),
  };
}

/** Everything that the earlier one measured was measured after all that the later one did: they are named the wrong way round. */
export function areExchanged(earlier: Evaluation, later: Evaluation): boolean {
  const moments = ({ sweeps, electricalTests }: Evaluation): number[] =>
    [...sweeps, ...electricalTests].map(momentOf).filter(Number.isFinite);
  const first = moments(earlier).reduce((a, b) => Math.min(a, b), Infinity);
  const last = moments(later).reduce((a, b) => Math.max(a, b), -Infinity);
  return first < Infinity && last > -Infinity && first > last;
}

/** Tests that count now and fail, of what did not fail the last time it was tested. */
function newTestFailures(
  earlier: Evaluation,
  later: Evaluation,
  formerOf: (string: string) => string,
): TestPair[] {
  const key = ({ kind, record }: ElectricalTest, string: string): string =>
    JSON.stringify([kind, string, record.address.first, record.address.last, record.pole]);
  const before = new Map(
    earlier.electricalTests
      .filter(({ latest }) => latest)
      .map((test) => [key(test, test.record.address.string), test]),
  );
  return later.electricalTests.flatMap((now) => {
    if (!now.latest || now.verdict !== 'fail') return [];
    const then = before.get(key(now, formerOf(now.record.address.string)));
    return then && then.verdict !== 'fail' ? [{ before: then, now }] : [];
  });
}
