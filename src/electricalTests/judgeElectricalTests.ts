/** The verdict of every electrical test of a campaign. */
import type { ElectricalTestRecord } from '../campaign/model.js';
import { momentOf } from '../campaign/moment.js';
import type { FileProblem } from '../text/problem.js';
import { judgeContinuity } from './continuity.js';
import {
  placeOf,
  type ElectricalCounts,
  type ElectricalTest,
  type Judged,
  type TakenTest,
} from './electricalTest.js';
import { judgeInsulation } from './insulation.js';
import { judgeMeter } from './meter.js';
import { meterContexts } from './meterPeers.js';
import { judgePolarity } from './polarity.js';

/** In the order of `tests`, which is that of reading. Pure; what cannot be judged says why. */
export function judgeElectricalTests(tests: readonly TakenTest[]): ElectricalTest[] {
  const latest = latestOf(tests);
  const meters = tests.filter(({ record }) => record.kind === 'meter');
  // A reading that a later one replaced is no peer of others; it is held against the nameplate alone.
  const contexts = meterContexts(meters.filter((test) => latest.has(test)));
  const former = meters.filter((test) => !latest.has(test));
  for (const test of former) contexts.set(test, meterContexts([test]).get(test)!);
  const judges: Readonly<Record<ElectricalTestRecord['kind'], (test: TakenTest) => Judged>> = {
    insulation: judgeInsulation,
    continuity: judgeContinuity,
    polarity: judgePolarity,
    meter: (test) => judgeMeter(test, contexts.get(test)!),
  };
  return tests.map((test) => ({
    ...test,
    ...judges[test.record.kind](test),
    id: `${test.block.file}:${test.block.startLine + 1}`,
    kind: test.record.kind,
    address: test.record.address.text,
    place: placeOf(test),
    latest: latest.has(test),
  }));
}

/**
 * The last in time of each kind, address and pole, and of meter readings of the same values; of equal times, and without times,
 * the last written.
 */
function latestOf(tests: readonly TakenTest[]): ReadonlySet<TakenTest> {
  const last = new Map<string, TakenTest>();
  for (const test of tests) {
    const { kind, address, pole, voc, isc } = test.record;
    const key = JSON.stringify([kind, address.text, pole, voc !== undefined, isc !== undefined]);
    const known = last.get(key);
    if (!known || !isBefore(test, known)) last.set(key, test);
  }
  return new Set(last.values());
}

function isBefore(a: TakenTest, b: TakenTest): boolean {
  const [x, y] = [momentOf(a), momentOf(b)];
  return x < y && Number.isFinite(x);
}

export function countElectrical(tests: readonly ElectricalTest[]): ElectricalCounts {
  const counted = tests.filter(({ latest }) => latest);
  const count = (verdict: ElectricalTest['verdict']): number =>
    counted.filter((test) => test.verdict === verdict).length;
  return { pass: count('pass'), fail: count('fail'), notJudged: count('not judged') };
}

/** A warning for each state that may hurt someone and that no later test has cleared. */
export function electricalDangers(tests: readonly ElectricalTest[]): FileProblem[] {
  return tests.flatMap(({ danger, latest, place, reasons }): FileProblem[] => {
    if (danger === undefined || !latest) return [];
    const id = `electrical/${reasons[0]!.code}`;
    return [{ id, severity: 'warning', file: place.file, range: place.range, message: danger }];
  });
}
