import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { includesOf, type CampaignFile } from '../../src/campaign/campaignFile.js';
import { decodeBlock } from '../../src/campaign/decodeBlock.js';
import { resolveCampaign } from '../../src/campaign/resolveCampaign.js';
import { targetOf } from '../../src/campaign/sweepTarget.js';
import { parseDocument } from '../../src/syntax/document.js';

const sample = readFileSync('examples/harrow-fen-sample/campaign.sweepbook', 'utf8');

function resolve(text: string, ...includes: CampaignFile['includes']) {
  return resolveCampaign({ file: 'root', document: parseDocument(text), includes });
}

function file(name: string, text: string): CampaignFile {
  return { file: name, document: parseDocument(text), includes: [] };
}

const ids = (problems: readonly { id: string }[]) => problems.map(({ id }) => id);

describe('the sample', () => {
  const { campaign, problems } = resolve(sample);

  test('says what it says', () => {
    expect(problems).toEqual([]);
    expect(campaign.campaign!.record.name.text).toBe('harrow-fen-2026');
    expect(campaign.campaign!.record.title).toBe('Harrow Fen packing house, commissioning');
    const { latitude, longitude, timezone } = campaign.sites.get('harrow-fen')!.record;
    expect([latitude, longitude, timezone]).toEqual([52.4012, 0.2618, 'Europe/London']);
    const module = campaign.modules.get('KF108M')!.record;
    // Relative coefficients become absolute with the nameplate value at STC (IEC 60891).
    expect(module.alpha).toBeCloseTo(0.00045 * 13.9, 12);
    expect(module.beta).toBeCloseTo(-0.0027 * 37.2, 12);
    expect(module.gamma).toBeCloseTo(-0.0035 * 408.4, 12);
    expect(module.pmax!.uncertainty).toEqual({ value: 0.03, relative: true, coverageFactor: 2 });
    const { cable, modules } = campaign.strings.get('1.03')!.record;
    expect(modules).toMatchObject({ count: 18, type: { text: 'KF108M' } });
    expect([cable!.length.value, cable!.crossSection.value, cable!.conductor]).toEqual([48, 4e-6, 'copper']);
    const { limits, incidence, procedure, decision } = campaign.criteria.get('acceptance')!.record;
    expect([limits.pmax!.least!.value, limits.pmax!.most]).toEqual([-0.05, undefined]);
    expect([incidence!.most!.value, procedure, decision]).toEqual([45, 'IEC60891-1', 'guarded']);
    expect(
      campaign.sweeps.map(({ record }) => [record.address.text, record.time!.iso, record.data!.text]),
    ).toEqual([
      ['1.03', '2026-05-14T11:42:00', 'sweeps/1.03-first.csv'],
      ['1.03/11', '2026-05-14T12:31:00', 'sweeps/1.03-m11.csv'],
      ['1.03', '2026-05-14T13:42:00', 'sweeps/1.03-after.csv'],
    ]);
  });

  test('finds what each sweep was taken on', () => {
    const [string, module] = campaign.sweeps.map(({ record }) => targetOf(record, campaign));
    expect(string).toMatchObject({
      seriesModules: 18,
      parallelStrings: 1,
      tracer: { kind: 'tracer' },
      reference: { kind: 'reference' },
    });
    expect(string!.module!.name.text).toBe('KF108M');
    expect(string!.plane!.name.text).toBe('south');
    expect(string!.site!.name.text).toBe('harrow-fen');
    expect(string!.criteria!.name.text).toBe('acceptance');
    expect(module!.seriesModules).toBe(1);
  });

  test('keeps the records that an edit did not touch', () => {
    const before = parseDocument(sample);
    const after = parseDocument(sample.replace('812 W/m2', '813 W/m2\n  remark "x"'), before);
    const records = (document: typeof before) =>
      resolveCampaign({ file: 'root', document, includes: [] }).campaign;
    const [first, second] = [records(before), records(after)];
    const changed = second.entries.filter(({ record }, index) => record !== first.entries[index]!.record);
    expect(changed.map(({ record }) => record)).toEqual([second.sweeps[0]!.record]);
    expect(second.sweeps[1]!.block.startLine).toBe(first.sweeps[1]!.block.startLine + 1);
  });
});

describe('a run of strings', () => {
  const names = (header: string) => {
    const { entry } = decodeBlock(parseDocument(`string ${header}\n`).blocks[0]!.block);
    return entry?.kind === 'string' ? entry.names : [];
  };

  test.each([
    ['1.08 .. 1.12', ['1.08', '1.09', '1.10', '1.11', '1.12']],
    ['S8..S11', ['S8', 'S9', 'S10', 'S11']],
    ['INV2-S07 .. INV2-S09', ['INV2-S07', 'INV2-S08', 'INV2-S09']],
    ['A1 .. A1', ['A1']],
  ])('%s', (header, expected) => {
    expect(names(header)).toEqual(expected);
  });
});

describe('sections, parallel strings and replaced types', () => {
  const [head] = sample.split('sweep 1.03 at');
  const type = head!
    .slice(head!.indexOf('module KF108M'), head!.indexOf('string 1.03'))
    .replace('KF108M', 'KF109M');
  const text = `${head!.replace('modules 18 x KF108M', 'modules 18 x KF108M\n  parallel 2')}${type}
sweep 1.03/1-9 at 2026-05-14 11:42
  data "a.csv"
sweep 1.03/11 at 2026-05-14 11:42
  data "b.csv"
replace 1.03/11 at 2026-05-14 12:00
  type KF108M -> KF109M
sweep 1.03/11 at 2026-05-14 12:42
  data "c.csv"
sweep 1.03 at 2026-05-14 13:42
  data "d.csv"
`;
  const { campaign, problems } = resolve(text);
  const targets = campaign.sweeps.map(({ record }) => targetOf(record, campaign));

  test('are told apart', () => {
    expect(problems).toEqual([]);
    expect(targets.map((each) => [each.seriesModules, each.parallelStrings, each.module!.name.text])).toEqual(
      [
        [9, 1, 'KF108M'],
        [1, 1, 'KF108M'],
        [1, 1, 'KF109M'],
        [18, 2, 'KF108M'],
      ],
    );
  });
});

describe('included files', () => {
  const start = sample.indexOf('module KF108M');
  const library = sample.slice(start, sample.indexOf('string 1.03'));
  const root = sample.replace(library, 'include "library.sweepbook"\n\n');

  test('stand where their line stands', () => {
    expect(includesOf(parseDocument(root)).map(({ path }) => path)).toEqual(['library.sweepbook']);
    const { campaign, problems } = resolve(root, file('library', library));
    expect(problems).toEqual([]);
    expect(campaign.modules.get('KF108M')!.block).toMatchObject({ file: 'library', startLine: 0 });
    expect(campaign.entries.map(({ record }) => record.kind).slice(2, 5)).toEqual([
      'plane',
      'module',
      'string',
    ]);
  });

  test('that cannot be had do not make every name unknown', () => {
    expect(resolve(root, 'unavailable').problems).toEqual([]);
    expect(ids(resolve(root, 'already-read').problems)).toEqual(['name/unknown']);
  });

  test('keep their problems, with the place of the first', () => {
    const { problems } = resolve(`${library}include "library.sweepbook"\n`, file('library', `\n${library}`));
    expect(problems).toMatchObject([{ id: 'name/twice', file: 'library', range: { start: { line: 1 } } }]);
    expect(problems[0]!.related![0]!.place).toMatchObject({ file: 'root', range: { start: { line: 0 } } });
  });
});

describe('one mistake is one problem', () => {
  test('an unknown module type on a string with many sweeps', () => {
    const text = sample.replace('18 x KF108M', '18 x KF109M');
    const { problems } = resolve(text);
    expect(ids(problems)).toEqual(['name/unknown']);
    expect(problems[0]!.mends![0]!.text).toBe('KF108M');
  });

  test.each(['modul', 'strin', 'trcaer', 'sit', 'plan'])('a header misspelt as %s', (word) => {
    const keyword = { modul: 'module', strin: 'string', trcaer: 'tracer', sit: 'site', plan: 'plane' }[word]!;
    const text = sample.replace(new RegExp(`^${keyword}(?= )`, 'm'), word);
    expect(ids(resolve(text).problems)).toEqual(['syntax/unknown-block']);
    expect(resolve(text).problems[0]!.mends![0]!.text).toBe(keyword);
  });

  test('a hundred thousand strings and more', () => {
    const runs = Array.from(
      { length: 102 },
      (_, index) => `string ${index}.001 .. ${index}.999\n  modules 1 x M\n`,
    );
    const module = sample
      .slice(sample.indexOf('module KF108M'), sample.indexOf('string 1.03'))
      .replace('KF108M', 'M');
    expect(ids(resolve(module + runs.join('')).problems)).toEqual(['string/too-many', 'string/too-many']);
  });
});

describe('hostile names', () => {
  test.each(['__proto__', 'constructor', 'toString', 'hasOwnProperty'])(
    '%s is a name like another',
    (name) => {
      const { campaign, problems } = resolve(
        sample.replaceAll('KF108M', name).replaceAll('acceptance', name),
      );
      expect(problems).toEqual([]);
      expect(targetOf(campaign.sweeps[0]!.record, campaign).module!.name.text).toBe(name);
      expect(targetOf(campaign.sweeps[0]!.record, campaign).criteria!.name.text).toBe(name);
    },
  );

  test.each(['__proto__', 'constructor', 'toString'])('%s is no keyword, property, unit or word', (name) => {
    const problems = resolve(
      `${name} a\nplane p\n  ${name} 1\n  tilt 1 ${name}\n  azimuth 1 deg\n  mounting ${name}\n`,
    ).problems;
    expect(ids(problems)).toEqual([
      'syntax/unknown-block',
      'property/unknown',
      'unit/unknown',
      'value/unknown-word',
    ]);
  });

  test.each(['a\u202eb', 'a\u0007b', 'a\u200bb', 'a\u2066b'])('%j is refused', (name) => {
    expect(resolve(`plane ${name}\n  tilt 1 deg\n  azimuth 2 deg\n`).problems.length).toBe(1);
  });

  test('two spellings of one letter are one name', () => {
    const text = sample.replace('module KF108M', 'module Ka\u0301').replace('18 x KF108M', '18 x K\u00e1');
    expect(resolve(text).problems).toEqual([]);
  });
});

describe('a mutated sample', () => {
  const words = sample.split(/(\s+)/);
  const junk = fc.oneof(
    fc.constantFrom(
      '"',
      '#',
      '..',
      '±',
      ',',
      '->',
      '\n',
      '\n  ',
      '\0',
      '\u202e',
      '1e999',
      'NaN',
      '8,5',
      '1.03/0',
      '__proto__',
    ),
    fc.constantFrom(...words),
    fc.string({ unit: 'binary', maxLength: 6 }),
  );
  const mutation = fc.record({
    at: fc.nat(words.length - 1),
    remove: fc.nat(3),
    insert: fc.array(junk, { maxLength: 3 }),
  });

  test('is read without a throw, each problem within its file and line', () => {
    fc.assert(
      fc.property(fc.array(mutation, { minLength: 1, maxLength: 8 }), (mutations) => {
        const mutated = [...words];
        for (const { at, remove, insert } of mutations) mutated.splice(at, remove, ...insert);
        const text = mutated.join('');
        const document = parseDocument(text);
        const { campaign, problems } = resolveCampaign({ file: 'root', document, includes: [] });
        const lines = text.split(/\r\n|\r|\n/);
        for (const { range } of problems) {
          expect(range.start.line).toBeLessThan(document.lineCount);
          expect(range.end.character).toBeLessThanOrEqual(lines[range.end.line]!.length + 1);
          expect(range.end.line > range.start.line || range.end.character >= range.start.character).toBe(
            true,
          );
        }
        for (const { record } of campaign.sweeps) targetOf(record, campaign);
        for (const { record } of campaign.sweepTables) targetOf(record, campaign);
      }),
      { numRuns: 200 },
    );
  });

  // Two unknown names on one line are two mistakes.
  test('has at most one error a line', () => {
    fc.assert(
      fc.property(mutation, ({ at, remove, insert }) => {
        const text = words.toSpliced(at, remove, ...insert).join('');
        const errors = resolve(text).problems.filter(
          ({ severity, id }) => severity === 'error' && id !== 'name/unknown',
        );
        const lines = errors.map(({ range }) => range.start.line);
        expect(new Set(lines).size, text + JSON.stringify(errors, undefined, 1)).toBe(lines.length);
      }),
      { numRuns: 200 },
    );
  });
});
