import { describe, expect, it } from 'vitest';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { MemoryFiles, inMemory } from '../evaluation/memoryFiles.js';
import { equal, filesOf, instruments, strings, type Roof } from './roof.js';

const levels = [0.992, 0.99, 0.991, 0.993, 0.9915, 0.9905];
const compare = '  compare "../then/campaign.sweepbook"';
const first: Roof = { name: 'then', sweeps: strings(levels) };
const later = (factor: number, roof: Partial<Roof> = {}): Roof => ({
  name: 'now',
  campaign: compare,
  sweeps: strings(
    levels.map((level) => level * factor),
    '2028-05-14',
  ),
  ...roof,
});

const filesOfBoth = (now: Roof, then: Roof = first) =>
  new MemoryFiles({ ...filesOf(then, 'then/'), ...filesOf(now, 'now/') });
const evaluateBoth = (now: Roof, then: Roof = first): Promise<Evaluation> =>
  new Workbook(filesOfBoth(now, then)).evaluate(inMemory('now/campaign.sweepbook'));
const comparing = ({ problems }: Evaluation) => problems.filter(({ id }) => /^(compare|history)\//.test(id));

describe('change for each year', () => {
  it('is that of the photocurrent, with the uncertainty of the difference', async () => {
    const { history, problems } = await evaluateBoth(later(0.99));
    expect(problems.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(history!.strings).toHaveLength(6);
    for (const { rates, years } of history!.strings) {
      expect(years).toBeCloseTo(2, 2);
      expect(rates.isc!.perYear).toBeCloseTo(-0.005, 4);
      expect(rates.voc!.perYear).toBeGreaterThan(-0.001);
      expect(rates.isc!.uncertainty).toBeGreaterThan(Math.abs(rates.isc!.perYear + 0.005));
    }
    expect(history!.name).toBe('then');
    expect(history!.doubt).toBeUndefined();
  });

  it('is less uncertain with the same calibrations than after a new one', async () => {
    const same = await evaluateBoth(later(0.99));
    const anew = await evaluateBoth(
      later(0.99, { instruments: instruments.replaceAll('2026-01-12', '2028-01-15') }),
    );
    const other = await evaluateBoth(later(0.99, { instruments: instruments.replaceAll('RC-1', 'RC-2') }));
    const of = ({ history }: Evaluation): number => history!.strings[0]!.rates.isc!.uncertainty!;
    expect(of(anew)).toBeGreaterThan(1.3 * of(same));
    expect(of(other)).toBeGreaterThan(1.3 * of(same));
    // Two calibrations of 1.0 % each, over two years, and what the mounting adds.
    expect(of(anew)).toBeGreaterThan((0.01 * Math.SQRT2) / 2);
    expect(of(same)).toBeLessThan(0.01);
  });

  it('is refused within months, with the reason', async () => {
    const { history } = await evaluateBoth(later(0.99, { sweeps: strings(levels, '2026-07-20') }));
    expect(history!.strings[0]!.refused).toBe(
      '0.2 years are too short to tell a degradation; it takes 0.5 years at least.',
    );
    expect(history!.strings[0]!.rates).toEqual({});
  });

  it('is refused where the string was changed', async () => {
    const { history } = await evaluateBoth(
      later(0.99, { strings: 'string S1 .. S9\n  modules 5 x M', sweeps: strings([0.99], '2028-05-14', 5) }),
    );
    expect(history!.strings[0]!.refused).toBe('The string was 6 x M and is 5 x M now.');
  });

  it('one that fell more than the others stands out', async () => {
    const sweeps = strings(
      levels.map((level, index) => level * (index === 3 ? 0.94 : 0.99)),
      '2028-05-14',
    );
    const { history } = await evaluateBoth(later(1, { sweeps }));
    expect(history!.strings.flatMap(({ string, standsOut }) => (standsOut ? [string] : []))).toEqual(['S4']);
  });

  it('all that fell alike raise a doubt, and so do all that rose', async () => {
    const fell = await evaluateBoth(later(0.93));
    expect(fell.history!.doubt).toMatch(/All 6 strings fell alike, Isc by -3\.5 %\/a.*reference device/);
    const rose = await evaluateBoth(later(1.03));
    expect(rose.history!.doubt).toMatch(/All 6 strings rose alike.*modules do not get better/);
  });

  it('modules replaced in between are named', async () => {
    const blocks = 'replace S2/3 at 2027-09-01 10:00\n  serial "K-1" -> "K-2"';
    const { history } = await evaluateBoth(later(0.99, { blocks }));
    expect(history!.strings.map(({ replaced }) => replaced.length)).toEqual([0, 1, 0, 0, 0, 0]);
    expect(history!.strings[1]!.replaced).toEqual(['S2/3: K-1 -> K-2']);
    // 10:30 UTC is half past eleven by the clock of the site: after the sweep of S2.
    const after = await evaluateBoth(
      later(0.99, { blocks: blocks.replace(/at .*/, 'at 2028-05-14 10:30Z') }),
    );
    expect(after.history!.strings[1]!.replaced).toEqual([]);
  });
});

describe('names', () => {
  it('a renamed string is found by its former name', async () => {
    const renamed = 'string S1 .. S5\n  modules 6 x M\nstring T9\n  formerly S6\n  modules 6 x M';
    const sweeps = [
      ...strings(levels.slice(0, 5), '2028-05-14'),
      { address: 'T9', time: '2028-05-14 12:00', modules: equal(6, { level: 0.9 * 0.9905 }) },
    ];
    const evaluation = await evaluateBoth(
      later(1, { strings: renamed, sweeps, criteria: '  Pmax -15 % ..' }),
    );
    expect(comparing(evaluation)).toEqual([]);
    const found = evaluation.history!.strings.find(({ string }) => string === 'T9')!;
    expect(found.formerly).toBe('S6');
    expect(found.rates.isc!.perYear).toBeCloseTo(-0.05, 3);
  });

  it('a former name that the earlier campaign lacks is a warning; of a run it is an error', async () => {
    const unknown = await evaluateBoth(
      later(1, { strings: 'string S1 .. S9\n  modules 6 x M\nstring T\n  formerly X\n  modules 6 x M' }),
    );
    expect(comparing(unknown).map(({ id, severity }) => [id, severity])).toEqual([
      ['history/unknown-string', 'warning'],
    ]);
    const run = await evaluateBoth(later(1, { strings: 'string S1 .. S9\n  formerly S1\n  modules 6 x M' }));
    expect(run.problems.map(({ id }) => id)).toContain('string/formerly-of-run');
  });
});

describe('the earlier campaign', () => {
  it('that is missing is one problem at its line, and all else is computed', async () => {
    const evaluation = await evaluateBoth(later(1, { campaign: '  compare "../gone/campaign.sweepbook"' }));
    expect(comparing(evaluation).map(({ id }) => id)).toEqual(['compare/unreadable']);
    expect(comparing(evaluation)[0]!.range.start.line).toBe(1);
    expect(evaluation.history).toBeUndefined();
    expect(evaluation.counts.pass).toBe(6);
    expect(evaluation.dataFiles).toContain(inMemory('gone/campaign.sweepbook'));
  });

  it.each([
    ['campaign.sweepbook', 'compare/itself'],
    ['../../../elsewhere/campaign.sweepbook', 'compare/outside'],
  ])('"%s" is %s', async (path, id) => {
    const evaluation = await evaluateBoth(later(1, { campaign: `  compare "${path}"` }));
    expect(comparing(evaluation).map((problem) => problem.id)).toEqual([id]);
  });

  it('that is compared with this one in turn is one problem', async () => {
    const turning = { ...first, campaign: '  compare "../now/campaign.sweepbook"' };
    expect(comparing(await evaluateBoth(later(1), turning)).map(({ id }) => id)).toEqual(['compare/cycle']);
  });

  it('with errors of its own is one warning here, and what it could compute is compared', async () => {
    const evaluation = await evaluateBoth(later(0.99), { ...first, blocks: 'nonsense here\n' });
    expect(comparing(evaluation).map(({ id, severity }) => [id, severity])).toEqual([
      ['compare/errors', 'warning'],
    ]);
    expect(evaluation.history!.strings.length).toBe(6);
  });

  it('is kept as it is while its files stay the same, and computed again when one changes', async () => {
    const files = filesOfBoth(later(0.99));
    const workbook = new Workbook(files);
    const root = inMemory('now/campaign.sweepbook');
    const before = await workbook.evaluate(root);
    const reads = files.reads.length;
    const again = await workbook.evaluate(root);
    expect(files.reads.length).toBe(reads);
    expect(again.history!.strings[0]!.before.analysis).toBe(before.history!.strings[0]!.before.analysis);
    expect(again.history!.strings[0]!.rates).toBe(before.history!.strings[0]!.rates);
    expect(again.dataFiles).toContain(inMemory('then/0.csv'));
    const changed = filesOf({ ...first, sweeps: strings(levels.map((level) => level * 1.01)) }, 'then/');
    files.write('then/0.csv', changed['then/0.csv']!);
    workbook.fileChanged(inMemory('then/0.csv'));
    const after = await workbook.evaluate(root);
    expect(after.history!.strings[0]!.rates.isc!.perYear).toBeCloseTo(-0.01, 3);
    expect(after.history!.strings[1]!.rates).toBe(before.history!.strings[1]!.rates);
  });
});
