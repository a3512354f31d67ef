/** The second visit to the invented roof, compared with the first; the truth is in examples/simulate.ts. */
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { harrowFen, harrowFenLater } from '../../examples/simulate.js';
import { NodeFiles } from '../../src/cli/nodeFiles.js';
import type { History } from '../../src/cases/history.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { Workbook } from '../../src/evaluation/workbook.js';

const folder = fileURLToPath(new URL('../../examples', import.meta.url));

describe('harrow-fen-2027', () => {
  let evaluation: Evaluation;
  let history: History;
  beforeAll(async () => {
    const file = path.join(folder, 'harrow-fen-2027/campaign.sweepbook');
    evaluation = await new Workbook(new NodeFiles(folder)).evaluate(file);
    history = evaluation.history!;
  });

  /** What the photocurrent of a string came to in the year, for each year. */
  const trueRate = (formerly: string, years: number): number => {
    const { left, leftOf } = harrowFenLater.since;
    const now = (leftOf as Readonly<Record<string, number>>)[formerly] ?? left;
    // Soiled the first time, washed since.
    const before = harrowFen.level[formerly];
    const washed = before === undefined ? 1 : harrowFen.usualLevel.mean / before;
    return (now * washed - 1) / years;
  };

  it('has nothing wrong but the string that is unlike its peers, which passes', () => {
    const problems = evaluation.problems.filter(({ severity }) => severity !== 'information');
    expect(problems.map(({ id }) => id)).toEqual(['string/unlike-peers']);
    expect(problems[0]!.message).toMatch(/^Pmax of 2\.05 /);
    expect(evaluation.counts).toMatchObject({ pass: 14, fail: 0, notJudged: 0 });
  });

  it('finds every string of the first visit, the renamed one too', () => {
    expect(history.strings).toHaveLength(14);
    const renamed = history.strings.filter(({ string, formerly }) => string !== formerly);
    expect(renamed.map(({ string, formerly }) => [string, formerly])).toEqual([['2.09', '2.03']]);
    for (const { years } of history.strings) expect(years).toBeCloseTo(1, 1);
  });

  it('the true change of every string lies within the stated uncertainty', () => {
    for (const { string, formerly, rates, years } of history.strings) {
      for (const name of ['isc', 'pmax'] as const) {
        const { perYear, uncertainty } = rates[name]!;
        expect(Math.abs(perYear - trueRate(formerly, years!)), `${name} of ${string}`).toBeLessThan(
          uncertainty!,
        );
      }
      // Voltage and shape did not age.
      expect(Math.abs(rates.voc!.perYear), `Voc of ${string}`).toBeLessThan(rates.voc!.uncertainty!);
      expect(Math.abs(rates.ff!.perYear), `FF of ${string}`).toBeLessThan(rates.ff!.uncertainty!);
    }
  });

  it('strings among themselves are closer: each differs from the median as it truly does', () => {
    const usual = harrowFenLater.since.left - 1;
    for (const { string, formerly, rates, years } of history.strings) {
      const { perYear, own } = rates.pmax!;
      const apart = perYear - history.spread.pmax!.median;
      // The two tracers were calibrated apart, which is in the uncertainty as a whole alone.
      const tracers = (2 * Math.hypot(0.003, 0.004)) / 2;
      const truth = trueRate(formerly, years!) - usual;
      expect(Math.abs(apart - truth), string).toBeLessThan(own! + tracers);
    }
  });

  it('the string that lost six times as much stands out, and the washed one', () => {
    const out = history.strings.filter(({ standsOut }) => standsOut !== undefined);
    expect(out.map(({ string }) => string)).toEqual(['2.05', '2.07']);
    expect(history.doubt).toBeUndefined();
  });

  it('names the modules that are new', () => {
    const replaced = history.strings.filter((each) => each.replaced.length > 0);
    expect(replaced.map(({ string }) => string)).toEqual(['1.05', '2.02']);
  });
});
