/**
 * What moved, and by which of the changed inputs. The campaigns are those of the examples, which are invented. Expected effects
 * are not those of this code: they are told from the two evaluations themselves, or from the arithmetic that stands beside them.
 */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Change } from '../../src/difference/changes.js';
import type { Difference, SweepTurn } from '../../src/difference/difference.js';
import { demoEvaluation, difference, edited, evaluated, harrowFen, type Files } from './campaigns.js';

const modules = 'modules.sweepbook';
const campaign = 'campaign.sweepbook';
const array = 'array.sweepbook';

const named = ({ subject, property }: Change): string =>
  [subject.kind, subject.name, property].filter((part) => part !== undefined).join(' ');
const causesOf = ({ causes }: Difference): string[] => causes.map(({ change }) => named(change));
const turnOf = ({ sweeps, before, after }: SweepTurn): string =>
  `${sweeps.after.address} ${before} -> ${after}`;

describe('campaigns that say the same', () => {
  it('differ in nothing', async () => {
    const found = await difference(demoEvaluation(), harrowFen);
    expect(found).toMatchObject({ changes: [], causes: [], moved: [], movedLess: 0, isChanged: false });
  });

  it('in other words: comments, spaces, spellings of units, order of lines and blocks', async () => {
    let files = edited(harrowFen, campaign, /^sweep 1\.01[^]*?(?=^sweep 1\.03 )/m, '');
    const moved = /^sweep 1\.01[^]*?(?=^sweep 1\.03 )/m.exec(harrowFen[campaign]!)![0];
    files = edited(files, campaign, /$/, `\n${moved}`);
    files = edited(files, campaign, /irradiance  812 W\/m2/, '  irradiance 812.0 W/m²   # as read');
    files = edited(files, modules, /( {2}cells.*\n)( {2}substrings.*\n)/, '$2\n# A remark.\n$1');
    files = edited(files, modules, 'Kestrel Foundry 108M', 'Another title');
    const found = await difference(demoEvaluation(), files);
    expect(found.isChanged).toBe(false);
    expect(found.movedLess).toBe(0);
    expect(found.changes.map(named)).toEqual(['module KF108M header']);
    expect(found.changes[0]).toMatchObject({ wordsOnly: true });
  });

  it('with blocks and tables in other files and folders', async () => {
    const files: Files = {
      ...Object.fromEntries(Object.entries(harrowFen).filter(([name]) => name !== array)),
      'roof/array.sweepbook': harrowFen[array]!,
      [campaign]: harrowFen[campaign]!.replace('"array.sweepbook"', '"roof/array.sweepbook"'),
    };
    const text = /^sweep 1\.06[^]*?\n\n/m.exec(files[campaign]!)![0];
    const away = {
      ...files,
      [campaign]: files[campaign]!.replace(text, ''),
      'roof/array.sweepbook': `${files['roof/array.sweepbook']!}\n${text.replace('sweeps/', '../sweeps/')}`,
    };
    const found = await difference(demoEvaluation(), away);
    expect(found).toMatchObject({ changes: [], isChanged: false });
  });
});

describe('a changed input', () => {
  it('beta: each sweep of the module moves, with the line on both sides', async () => {
    const files = edited(harrowFen, modules, 'beta   -0.27 %/K', 'beta   -0.29 %/K');
    const found = await difference(demoEvaluation(), files);
    expect(causesOf(found)).toEqual(['module KF108M beta']);
    const [{ change, movements }] = found.causes as [Difference['causes'][0]];
    const line = harrowFen[modules]!.split('\n').findIndex((each) => each.includes('beta'));
    for (const side of [change.before!, change.after!]) expect(side.place.range.start.line).toBe(line);
    expect([change.before!.text, change.after!.text]).toEqual(['-0.27 %/K', '-0.29 %/K']);
    // Voc at STC by IEC 60891 procedure 1: V2 = V1 + beta (25 degC - T), beta in % of the nameplate Voc. Of 20 K and 18 modules of
    // 37.2 V, 0.02 %/K are 2.7 V of some 670 V: 0.4 %, with the spread of the cell temperatures from 36.4 to 47.2 degC.
    const voc = movements.find(({ parameter }) => parameter === 'voc')!;
    expect(voc.sweeps).toBe(found.after.sweeps.length);
    expect(voc.change!.median).toBeGreaterThan(0.0035);
    expect(voc.change!.median).toBeLessThan(0.0055);
    for (const { remainder } of found.moved) expect(Math.abs(remainder!)).toBeLessThan(1e-9);
  });

  it('one sweep: nothing else moves, and what the table held is told by its line', async () => {
    const table = 'sweeps/1.02.csv';
    const lines = harrowFen[table]!.split('\n');
    const at = 40;
    const [voltage, current] = lines[at]!.split(',');
    lines[at] = `${voltage},${(Number(current) * 0.5).toFixed(3)}`;
    const found = await difference(demoEvaluation(), { ...harrowFen, [table]: lines.join('\n') });
    expect(found.changes.map(named)).toEqual(['table sweeps/1.02.csv']);
    const [change] = found.changes as [Change];
    expect(change.detail).toBe(`1 line differs of ${lines.length - 1}`);
    expect(change.after!.place.range.start.line).toBe(at);
    for (const { after } of found.moved) expect(after.address).toBe('1.02');
  });

  it('a limit turns verdicts and moves no number', async () => {
    const files = edited(harrowFen, campaign, 'Pmax       -5 % ..', 'Pmax       -1 % ..');
    const found = await difference(demoEvaluation(), files);
    expect(found.moved).toEqual([]);
    expect(causesOf(found)).toEqual(['criteria acceptance Pmax']);
    expect(found.verdicts.length).toBeGreaterThan(5);
    const verdicts = ({
      sweeps,
    }: {
      sweeps: readonly { address: string; analysis: { verdict: string } }[];
    }) => sweeps.map(({ address, analysis }) => `${address} ${analysis.verdict}`);
    const other = verdicts(found.after).filter((each, index) => each !== verdicts(found.before)[index]);
    expect(found.verdicts.map(({ sweeps, after }) => `${sweeps.after.address} ${after}`)).toEqual(other);
  });

  it('two that turn a verdict only together are told together, each with its own share', async () => {
    let files = edited(harrowFen, campaign, 'Pmax       -5 % ..', 'Pmax       -1 % ..');
    files = edited(files, campaign, 'irradiance  809 W/m2', 'irradiance  830 W/m2');
    const found = await difference(demoEvaluation(), files);
    const turn = found.verdicts.find(({ sweeps }) => sweeps.after.address === '1.02')!;
    expect(turnOf(turn)).toBe('1.02 pass -> fail');
    expect(turn.traced).toBe('together');
    expect(turn.changes.map(named).sort()).toEqual([
      'criteria acceptance Pmax',
      'sweep 1.02 at 2026-05-14 11:31 irradiance',
    ]);
    const moved = found.moved.filter(({ after }) => after.address === '1.02');
    expect(moved.map(({ shares }) => shares.map(({ change }) => named(change)))).toEqual([
      ['sweep 1.02 at 2026-05-14 11:31 irradiance'],
    ]);
    // 830 for 809 W/m2 is 2.6 % more light for the same current.
    const pmax = moved[0]!.movements.find(({ parameter }) => parameter === 'pmax')!;
    expect(pmax.change).toBeCloseTo(809 / 830 - 1, 3);
    expect(pmax.beyondUncertainty).toBe(true);
  });

  it('two that cancel are told, though nothing moved', async () => {
    let files = edited(harrowFen, campaign, 'irradiance  809 W/m2', 'irradiance  830 W/m2');
    const table = 'sweeps/1.02.csv';
    const scaled = harrowFen[table]!.replace(
      /^([-\d.]+),([-\d.]+)/gm,
      (_, voltage: string, current: string) =>
        [voltage, (Number(current) * (830 / 809)).toFixed(5)].join(','),
    );
    files = { ...files, [table]: scaled };
    const found = await difference(demoEvaluation(), files, { threshold: 0.005 });
    expect(found.moved).toEqual([]);
    expect(found.causes.map(({ cancelled }) => cancelled)).toEqual([1, 1]);
  });
});

describe('things that come, go and get other names', () => {
  it('a sweep that is gone, and one that came', async () => {
    const block = /^sweep 2\.03[^]*?\n\n/m.exec(harrowFen[campaign]!)![0];
    const without = edited(harrowFen, campaign, block, '');
    const gone = await difference(demoEvaluation(), without);
    expect(gone.sweepsRemoved.map(({ address }) => address)).toEqual(['2.03']);
    expect(gone.causes[0]).toMatchObject({
      change: { kind: 'removed' },
      sweepsRemoved: [{ address: '2.03' }],
    });
    const came = await difference(evaluated(without), demoEvaluation());
    expect(came.sweepsAdded.map(({ address }) => address)).toEqual(['2.03']);
    expect(came.isChanged).toBe(true);
  });

  it('a renamed string keeps its sweeps', async () => {
    let files = edited(harrowFen, array, 'string 1.01 .. 1.06', 'string 1.01 .. 1.05');
    const own = /^string 1\.01[^]*?\n\n/m.exec(harrowFen[array]!)![0].replace('1.01 .. 1.06', 'E6');
    files = edited(files, array, /$/, `\n${own}`);
    files = edited(files, campaign, 'sweep 1.06 at', 'sweep E6 at');
    const found = await difference(demoEvaluation(), files);
    expect(found.changes.map((change) => `${change.kind} ${named(change)}`)).toEqual([
      'renamed string E6 header',
    ]);
    expect(found.isChanged).toBe(false);
  });

  it('a renamed module with another beta: the beta is the cause', async () => {
    const rename = (files: Files): Files =>
      Object.fromEntries(
        Object.entries(files).map(([name, text]) => [name, text.replaceAll('KF108M', 'KF-108')]),
      );
    const renamed = await difference(demoEvaluation(), rename(harrowFen));
    expect(renamed.isChanged).toBe(false);
    const found = await difference(
      demoEvaluation(),
      edited(rename(harrowFen), modules, 'beta   -0.27', 'beta   -0.29'),
    );
    expect(causesOf(found)).toEqual(['module KF-108 beta']);
  });

  it('another module type that the same change brings: the string is the cause, not the block', async () => {
    const block = harrowFen[modules]!.slice(harrowFen[modules]!.indexOf('module'));
    const other = block
      .replace('KF108M', 'KF112M')
      .replace('408.4 W', '430.0 W')
      .replace('13.90 A', '14.40 A');
    let files = edited(harrowFen, modules, /$/, `\n${other.replace('13.09 A', '13.79 A')}`);
    files = edited(files, array, /(string 2\.01[^]*?18 x )KF108M/, '$1KF112M');
    const found = await difference(demoEvaluation(), files);
    expect(causesOf(found)).toEqual(['string 2.01 .. 2.08 modules']);
    expect(found.verdicts.every(({ traced }) => traced === 'alone')).toBe(true);
    const back = await difference(evaluated(files), demoEvaluation());
    expect(causesOf(back)).toEqual(['string 2.01 .. 2.08 modules']);
  });

  it('an error that came is told, with what it costs', async () => {
    const files = edited(harrowFen, modules, 'Voc    37.20 V', 'Voc    37.20 A');
    const found = await difference(demoEvaluation(), files);
    expect(found.problemsAdded.map(({ id }) => id)).toEqual(['unit/wrong-dimension']);
    expect(causesOf(found)).toEqual(['module KF108M Voc']);
    expect(found.verdicts.every(({ after }) => after === 'not judged')).toBe(true);
    expect(found.verdicts.length).toBeGreaterThan(15);
  });

  it('a campaign that cannot be read is one that says nothing', async () => {
    const found = await difference(demoEvaluation(), {});
    expect(found.sweepsRemoved).toHaveLength(found.before.sweeps.length);
    const none = await difference({}, {});
    expect(none.isChanged).toBe(false);
  });
});

describe('random changes of one input', () => {
  const folder = new URL('../../examples/harrow-fen-sample/', import.meta.url);
  const sample: Files = Object.fromEntries(
    [campaign, 'sweeps/1.03-first.csv', 'sweeps/1.03-m11.csv', 'sweeps/1.03-after.csv'].map((name) => [
      name,
      readFileSync(new URL(name, folder), 'utf8'),
    ]),
  );
  const before = evaluated(sample);

  /** Numbers of the campaign that something may be computed from, by the line they stand in. */
  const lines = sample[campaign]!.split('\n');
  const block: string[] = [];
  const inputs = lines.flatMap((line, index) => {
    if (/^\w/.test(line)) block.splice(0, 1, line.replace(/ ".*/, '').replace(/\s+/g, ' '));
    const property = /^ {2}(\S+)/.exec(line)?.[1];
    const isNumber = /^ {2}\S+\s.*?\d+\.?\d* ?(?:W|A|V|%|degC|K|m|mm2|deg|ohm)\b/.test(line);
    return property && isNumber && !line.includes('"') ? [{ index, name: `${block[0]!} ${property}` }] : [];
  });

  const single = fc.oneof(
    fc.record({
      input: fc.constantFrom(...inputs),
      factor: fc.constantFrom(0.9, 0.97, 0.995, 1.004, 1.03, 1.1),
    }),
    fc.record({
      table: fc.constantFrom(...Object.keys(sample).filter((name) => name.endsWith('.csv'))),
      factor: fc.constantFrom(0.9, 0.99, 1.02),
    }),
  );

  const changed = (made: typeof single extends fc.Arbitrary<infer T> ? T : never): [Files, string] => {
    if ('table' in made) {
      const scaled = sample[made.table]!.replace(/^([-\d.]+),([-\d.]+)/gm, (_, v: string, i: string) =>
        [v, (Number(i) * made.factor).toFixed(5)].join(','),
      );
      return [{ ...sample, [made.table]: scaled }, `table ${made.table}`];
    }
    const { index, name } = made.input;
    const text = lines.with(
      index,
      lines[index]!.replace(/(\d+(?:\.\d+)?)(?= ?(?:W|A|V|%|degC|K|m|mm2|deg|ohm)\b)/, (number) =>
        String(Number((Number(number) * made.factor).toPrecision(8))),
      ),
    );
    return [{ ...sample, [campaign]: text.join('\n') }, name];
  };

  it('are traced to exactly that input, and turn back when read backwards', async () => {
    await fc.assert(
      fc.asyncProperty(single, async (made) => {
        const [files, name] = changed(made);
        const after = evaluated(files);
        const found = await difference(before, after);
        expect(found.changes.map(named)).toEqual([name]);
        const moves =
          found.moved.length + found.verdicts.length + found.diagnoses.length + found.cases.length;
        expect(causesOf(found)).toEqual(moves > 0 ? [name] : []);
        for (const { remainder } of found.moved)
          if (remainder !== undefined) expect(remainder).toBeCloseTo(0, 9);
        for (const turn of [...found.verdicts, ...found.diagnoses, ...found.cases])
          expect(turn.traced).toBe('alone');
        const back = await difference(after, before);
        expect(back.verdicts.map(({ sweeps, before: a, after: b }) => [sweeps.after.address, b, a])).toEqual(
          found.verdicts.map(({ sweeps, before: a, after: b }) => [sweeps.after.address, a, b]),
        );
        expect(await difference(after, evaluated(files))).toMatchObject({ changes: [], isChanged: false });
      }),
      { numRuns: 20 },
    );
  }, 300_000);

  it('two at a time: the share of each is what it does when it is the only one', async () => {
    const pair = fc.tuple(single, single).filter(([a, b]) => changed(a)[1] !== changed(b)[1]);
    await fc.assert(
      fc.asyncProperty(pair, async ([one, other]) => {
        const [first, second] = [changed(one), changed(other)];
        const found = await difference(before, bothOf(first[0], second[0]));
        expect(found.changes.map(named).sort()).toEqual([first[1], second[1]].sort());
        for (const [files, name] of [first, second]) {
          const alone = await difference(before, evaluated(files), { threshold: 0 });
          for (const { after, shares } of found.moved) {
            const own = alone.moved.find((moved) => moved.after.time === after.time);
            const share = shares.find(({ change }) => named(change) === name);
            expect(share?.movements.map(({ parameter, change }) => [parameter, change])).toEqual(
              own?.movements.map(({ parameter, change }) => [parameter, change]),
            );
          }
        }
      }),
      { numRuns: 8 },
    );
  }, 300_000);

  /** Both changes, line by line: they never stand in one. */
  function bothOf(one: Files, other: Files): Files {
    return Object.fromEntries(
      Object.keys(sample).map((name) => {
        const [base, a, b] = [sample, one, other].map((files) => files[name]!.split('\n'));
        return [name, base!.map((line, index) => (a![index] === line ? b![index]! : a![index]!)).join('\n')];
      }),
    );
  }
});
