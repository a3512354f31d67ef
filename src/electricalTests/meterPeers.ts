/** How each meter reading stands to those of like strings under like conditions. */
import { middle } from '../analysis/peerStatistics.js';
import { momentOf } from '../campaign/moment.js';
import { groupBy } from '../text/groups.js';
import type { TakenTest } from './electricalTest.js';
import { expectedReading, likeness, type Expected } from './expectedReading.js';

export type MeterValue = 'voc' | 'isc';

export interface PeerComparison {
  /** Readings compared, this one included; 1 where there is no peer. */
  readonly readings: number;
  /** value / median - 1; from three readings on: of two, nobody can tell which is off. */
  readonly fromMedian?: number;
  /** Difference to the only other reading, relative to it. */
  readonly fromOther?: number;
}

export interface MeterContext {
  readonly expected: Expected;
  readonly peers: Readonly<Record<MeterValue, PeerComparison>>;
}

/** Readings without irradiance and temperature are compared within this time: the sun was much the same. Common practice, no source. */
const sameSun = 15 * 60_000;
/** Of the readings within `sameSun`, this many nearest in time on either side. */
const nearest = 25;

interface Member {
  readonly test: TakenTest;
  readonly expected: Expected;
  readonly when: number | undefined;
}

/** The context of each reading. `tests` are the latest readings of their addresses. */
export function meterContexts(tests: readonly TakenTest[]): Map<TakenTest, MeterContext> {
  const members = tests.map((test): Member => ({
    test,
    expected: expectedReading(test),
    when: whenOf(test),
  }));
  const groups = groupBy(members, ({ test }) => likeness(test.target));
  groups.delete(undefined);
  const comparisons = {
    voc: new Map<TakenTest, PeerComparison>(),
    isc: new Map<TakenTest, PeerComparison>(),
  };
  for (const group of groups.values()) {
    for (const value of ['voc', 'isc'] as const) compareGroup(group, value, comparisons[value]);
  }
  const alone: PeerComparison = { readings: 1 };
  return new Map(
    members.map(({ test, expected }) => [
      test,
      {
        expected,
        peers: { voc: comparisons.voc.get(test) ?? alone, isc: comparisons.isc.get(test) ?? alone },
      },
    ]),
  );
}

/** Without a zone, local times still tell how far apart two readings are. */
function whenOf(test: TakenTest): number | undefined {
  const moment = momentOf(test);
  return Number.isFinite(moment) ? moment : undefined;
}

function compareGroup(
  group: readonly Member[],
  value: MeterValue,
  found: Map<TakenTest, PeerComparison>,
): void {
  const read = group.filter(({ test }) => (test.record[value]?.value ?? 0) > 0);
  const raw = ({ test }: Member): number => test.record[value]!.value;
  // Where the conditions are known, each reading is taken over what they lead to expect; time then plays no part.
  const withConditions = read.filter(({ expected }) => expected[value] !== undefined);
  const ratios = withConditions.map((member) => raw(member) / member.expected[value]!);
  const median = middle(ratios);
  withConditions.forEach(({ test }, index) => found.set(test, compare(ratios, index, median)));

  const timed = read
    .filter(({ expected, when }) => expected[value] === undefined && when !== undefined)
    .sort((a, b) => a.when! - b.when!);
  timed.forEach((member, index) => {
    const around = timed
      .slice(Math.max(0, index - nearest), index + nearest + 1)
      .filter((other) => Math.abs(other.when! - member.when!) <= sameSun);
    found.set(member.test, compare(around.map(raw), around.indexOf(member)));
  });
}

function compare(values: readonly number[], index: number, median = middle(values)): PeerComparison {
  const own = values[index]!;
  const readings = values.length;
  if (readings === 2) return { readings, fromOther: own / values[1 - index]! - 1 };
  return readings < 2 ? { readings } : { readings, fromMedian: own / median - 1 };
}
