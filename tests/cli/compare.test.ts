/** Two visits side by side: the examples of 2026 and 2027, which are invented. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import type { VisitResult } from '../../src/presentation/visitResult.js';
import { readRenamedStrings } from '../../src/sweeps/renamedStrings.js';
import { campaign, folderOf, inFolder, shell } from './runInFolder.js';

const examples = fileURLToPath(new URL('../../examples/', import.meta.url));
const schemaText = readFileSync(
  new URL('../../syntaxes/compare-result.schema.json', import.meta.url),
  'utf8',
);
const validate = new Ajv2020({ allErrors: true }).compile(JSON.parse(schemaText) as object);

async function result(folder: string, ...args: string[]): Promise<VisitResult & { status: number }> {
  const { out, error, status } = await shell(folder, ['compare', ...args, '--format', 'json']);
  expect(error).toBe('');
  const json = JSON.parse(out) as VisitResult;
  expect(validate(json), JSON.stringify(validate.errors)).toBe(true);
  return { ...json, status };
}

describe('commissioning against year one', () => {
  it('named the wrong way round is said to be so', async () => {
    expect(await shell(examples, ['compare', 'harrow-fen-2027', 'harrow-fen'])).toEqual({
      status: 2,
      out: '',
      error:
        'harrow-fen-2027, harrow-fen: all of the first was measured after all of the second; name the earlier visit first\n',
    });
  });

  it('tells what the later campaign tells of itself, which names the earlier one', async () => {
    const [found, check] = await Promise.all([
      result(examples, 'harrow-fen', 'harrow-fen-2027'),
      shell(examples, ['check', 'harrow-fen-2027', '--format', 'json']),
    ]);
    const [{ history }] = [JSON.parse(check.out)].flat() as [Pick<VisitResult, 'history'>];
    expect(found.history.strings).toEqual(history.strings);
    expect(found).toMatchObject({ status: 0, newFailures: [], onlyEarlier: [], onlyLater: [] });
    const replaced = found.history.strings.filter((each) => each.replaced.length > 0);
    expect(replaced.map(({ string }) => string)).toEqual(['1.05', '2.02']);
  });

  it('in words: how many, the rates with their uncertainty, what was replaced, what is in one alone', async () => {
    const { out, status } = await shell(examples, ['compare', 'harrow-fen', 'harrow-fen-2027']);
    expect(status).toBe(0);
    expect(out).toMatch(
      /^.*commissioning -> .*after one year\n1\d strings are judged in both, no new failure/,
    );
    expect(out).toMatch(/^Pmax at STC changed by -\d\.\d %\/a in the median of 1\d strings/m);
    expect(out).toMatch(/^1\.01 +1\.0 +[-+]\d\.\d %\/a +± \d\.\d %\/a/m);
    expect(out).toMatch(
      /new since then \(1\.05\/4: KF-22846 -> KF-41107; 2\.02\/17: .*: the rate is that of the string/,
    );
    const markdown = await shell(examples, [
      'compare',
      'harrow-fen',
      'harrow-fen-2027',
      '--format',
      'markdown',
    ]);
    expect(markdown.out).toMatch(/^### .*\n\n.*\n\n\*\*Mended|^### /);
    expect(markdown.out).toContain('| string | years | Pmax |');
  });
});

/** The same string a year apart, under another name. */
const visits = (level: number, name: string): string => {
  const before = campaign();
  const now = Object.fromEntries(
    Object.entries(campaign({ level })).map(([file, text]) => [
      file,
      text.replace(/\b(string|sweep) S\b/g, `$1 ${name}`).replace('2026-05-14', '2027-05-14'),
    ]),
  );
  return folderOf({ ...inFolder('a', before), ...inFolder('b', now), 'map.csv': `old,new\nS,${name}\n` });
};

describe('a string under another name', () => {
  it('is another string without a map, and the same with one: a new failure, with its reason and status 1', async () => {
    const folder = visits(0.9, 'T-1');
    expect(await result(folder, 'a', 'b')).toMatchObject({
      status: 0,
      onlyEarlier: ['S'],
      onlyLater: ['T-1'],
    });
    const found = await result(folder, 'a', 'b', '--renamed', 'map.csv');
    expect(found).toMatchObject({
      status: 1,
      newFailures: [{ string: 'T-1', formerly: 'S', before: 'pass', now: 'fail' }],
      onlyEarlier: [],
      onlyLater: [],
    });
    // A tenth of the light is missing after a year.
    expect(found.history.strings[0]!.rates.isc!.perYear).toBeCloseTo(-0.1, 2);
    const { out } = await shell(folder, ['compare', 'a', 'b', '--renamed', 'map.csv']);
    expect(out).toMatch(/\nNew failures\n- T-1 \(S\): pass -> fail\. Pmax /);
  });

  it.each([
    ['old,new\nS,T-9\n', 'the later campaign has no string T-9'],
    ['S;T-1\nX;Y\n', 'the earlier campaign has no string X'],
    ['S\n', 'line 1: two names are expected, the old and the new one'],
    ['S,T-1\nS,T-2\n', 'line 2: S stands in a line above already'],
  ])('a map that is wrong is told: %j', async (map, message) => {
    const folder = visits(1, 'T-1');
    const wrong = folderOf({ 'map.csv': map });
    const args = ['compare', 'a', 'b', '--renamed', `${wrong}/map.csv`];
    const { status, error, out } = await shell(folder, args);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(error).toContain(message);
  });

  it('a map that is a folder, or is not there, is told as such', async () => {
    const folder = visits(1, 'T-1');
    const errorOf = async (map: string): Promise<string> =>
      (await shell(folder, ['compare', 'a', 'b', '--renamed', map])).error;
    expect(await errorOf('a')).toBe('--renamed a: it is not a file\n');
    expect(await errorOf('gone.csv')).toBe('--renamed gone.csv: it does not exist\n');
  });

  it('quotes, blank lines and other delimiters are read', () => {
    const names = (text: string) => [...readRenamedStrings(new TextEncoder().encode(text)).formerNames];
    expect(names('"1.03","E-3"\n\n1.04,E-4\n')).toEqual([
      ['E-3', '1.03'],
      ['E-4', '1.04'],
    ]);
    expect(names('\uFEFFOld;New\r\n1.03;E-3\r\n')).toEqual([['E-3', '1.03']]);
    expect(names('1.03\tE-3')).toEqual([['E-3', '1.03']]);
  });
});

describe('what cannot be compared', () => {
  it('a campaign that is not there, several in one folder', async () => {
    const folder = folderOf({ ...inFolder('a', campaign()), ...inFolder('a/b', campaign()) });
    expect(await shell(folder, ['compare', 'gone', 'a'])).toMatchObject({ status: 2, out: '' });
    const { status, error } = await shell(folder, ['compare', 'a', 'a/b']);
    expect({ status, error }).toEqual({ status: 2, error: 'a: holds several campaigns; name one file\n' });
  });
});

it('the schema is the one that is published', async () => {
  const { out } = await shell(folderOf(), ['schema', '--compare']);
  expect(out).toBe(schemaText);
});
