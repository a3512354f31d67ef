/** Results that are committed beside a campaign, and what is said where those of now differ. */
import { cpSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { compareResults } from '../../src/results/compareResults.js';
import { resultLines, resultsText } from '../../src/results/resultsText.js';
import { rulesVersion } from '../../src/results/rulesVersion.js';
import { generated } from '../report/campaigns.js';
import { folderOf, shell } from '../cli/runInFolder.js';

/** How the results say by which rules they were computed. */
const ruled = `rules ${rulesVersion}`;

let before: Evaluation;
let after: Evaluation;

const named = (evaluation: Evaluation, name = 'fen/campaign.sweepbook') => [
  { name, lines: resultLines(evaluation) },
];

beforeAll(async () => {
  before = await generated(3);
  after = await generated(3, (text) => text.replace('gamma  -0.35 %/K', 'gamma  -0.37 %/K'));
});

describe('the text', () => {
  it('has one line a sweep and one a case, with the version of the rules', () => {
    const lines = resultsText(named(before)).split('\n');
    expect(lines[0]).toBe(`# Sweepbook results, ${ruled}`);
    expect(lines).toContain('campaign\tfen/campaign.sweepbook');
    expect(lines.filter((line) => line.startsWith('sweep\t'))).toHaveLength(3);
    expect(lines.filter((line) => line.startsWith('case\t'))).toHaveLength(3);
    expect(lines.find((line) => line.startsWith('sweep\tS00001'))).toMatch(
      /^sweep\tS00001\t2026-\d\d-\d\d \d\d:\d\d\t[a-z ]+\tprocedure IEC60891-1\tPmax \d+(\.\d+)? W -?\d+\.\d{3} % ± \d\.\d{3} %\tIsc /,
    );
  });

  it('names campaigns in one order, whatever order they come in', () => {
    const [a, b] = [named(before, 'a')[0]!, named(after, 'b')[0]!];
    expect(resultsText([b, a])).toBe(resultsText([a, b]));
  });
});

describe('held against those of now', () => {
  it('does not differ from itself, with either kind of line ends', () => {
    const text = resultsText(named(before));
    for (const each of [text, text.replaceAll('\n', '\r\n'), `\ufeff${text}`])
      expect(compareResults(each, named(before))).toEqual({
        differences: [],
        notComputed: [],
        otherRules: undefined,
      });
  });

  it('says each value that a changed coefficient moved, at the line of the file', () => {
    const text = resultsText(named(before));
    const { differences } = compareResults(text, named(after));
    const lines = text.split('\n');
    expect(differences.map(({ text: each }) => each.split(':')[0])).toEqual(
      ['S00001', 'S00002', 'S00003'].map((name) => expect.stringContaining(`sweep ${name} 2026`)),
    );
    for (const { line, text: each } of differences) {
      expect(lines[line - 1]).toContain(each.split(' ')[1]);
      expect(each).toMatch(/Pmax [\d.]+ W .* -> Pmax [\d.]+ W/);
      expect(each).not.toContain('Isc');
    }
  });

  it('says results that came and went, and what a merge left twice', () => {
    const lines = resultsText(named(before)).split('\n');
    const [second] = lines.filter((line) => line.startsWith('sweep\tS00002'));
    const without = lines.filter((line) => line !== second);
    expect(compareResults(without.join('\n'), named(before)).differences.map(({ text }) => text)).toEqual([
      expect.stringMatching(/^sweep S00002 .*: not in the file; now /),
    ]);
    const more = [...without, second!, second!.replace('S00002', 'S00009'), second!];
    expect(compareResults(more.join('\n'), named(before)).differences.map(({ text }) => text)).toEqual([
      expect.stringMatching(/^sweep S00009 .*: no such result now$/),
      expect.stringMatching(/^sweep S00002 .*: stands in the file twice$/),
    ]);
  });

  it('knows a campaign that it has no results of, one that was not computed, and other rules', () => {
    const text = resultsText(named(before));
    const found = compareResults(text.replace(ruled, 'rules 7'), named(before, 'other'));
    expect(found.differences).toEqual([
      { campaign: 'other', line: 1, text: 'the file has no results of this campaign' },
    ]);
    expect(found.notComputed.map(({ name }) => name)).toEqual(['fen/campaign.sweepbook']);
    expect(found.otherRules).toBe(7);
    expect(compareResults('hello', named(before)).unreadable).toContain(`# Sweepbook results, ${ruled}`);
  });
});

describe('check', () => {
  const read = (file: string) =>
    readFileSync(new URL(`../../examples/harrow-fen/${file}`, import.meta.url), 'utf8');
  const parts = ['campaign.sweepbook', 'array.sweepbook', 'modules.sweepbook'];
  const tables = ['1.01.csv'];
  const folder = () =>
    folderOf({
      ...Object.fromEntries(parts.map((name) => [`fen/${name}`, read(name)])),
      ...Object.fromEntries(tables.map((name) => [`fen/sweeps/${name}`, read(`sweeps/${name}`)])),
      'fen/campaign.sweepbook': read('campaign.sweepbook').split(/\nsweep 1\.02/)[0]!,
    });

  it('--write-results writes what --against then finds, from any folder', async () => {
    const place = folder();
    expect((await shell(place, ['check', 'fen', '--write-results', 'fen/results'])).status).toBe(0);
    const again = await shell(`${place}/fen`, ['check', 'campaign.sweepbook', '--against', 'results']);
    expect(again).toMatchObject({ status: 0, error: '' });
  });

  it('--against fails where a result differs, and says what and where', async () => {
    const place = folder();
    await shell(place, ['check', 'fen', '--write-results', 'results']);
    const file = `${place}/fen/modules.sweepbook`;
    writeFileSync(file, readFileSync(file, 'utf8').replace(/gamma .*/, 'gamma -0.30 %/K'));
    const { status, error } = await shell(place, ['check', 'fen', '--against', 'results']);
    expect(status).toBe(1);
    expect(error).toMatch(
      /^results:\d+: fen\/campaign\.sweepbook: sweep 1\.01 2026-05-14 11:22: Pmax .* -> Pmax /m,
    );
    expect(error).toContain('write it anew with --write-results and commit it');
  });

  it('--write-results keeps what the file holds of campaigns that are not checked, while they are there', async () => {
    const place = folder();
    await shell(place, ['check', 'fen', '--write-results', 'results']);
    cpSync(`${place}/fen`, `${place}/other`, { recursive: true });
    expect((await shell(place, ['check', 'other', '--write-results', 'results'])).status).toBe(0);
    const both = readFileSync(`${place}/results`, 'utf8');
    expect(both.match(/^campaign\t.*/gm)).toEqual([
      'campaign\tfen/campaign.sweepbook',
      'campaign\tother/campaign.sweepbook',
    ]);
    expect((await shell(place, ['check', '.', '--against', 'results'])).status).toBe(0);
    rmSync(`${place}/fen`, { recursive: true });
    await shell(place, ['check', 'other', '--write-results', 'results']);
    expect(readFileSync(`${place}/results`, 'utf8')).not.toContain('fen/');
    const old = both.replace(ruled, 'rules 0');
    writeFileSync(`${place}/old`, old);
    cpSync(`${place}/other`, `${place}/fen`, { recursive: true });
    const { status, error } = await shell(place, ['check', 'other', '--write-results', 'old']);
    expect([status, readFileSync(`${place}/old`, 'utf8')]).toEqual([3, old]);
    expect(error).toContain('has results of fen/campaign.sweepbook by rules 0; check them too');
  });

  it('--against answers 0 while a case is open, which check alone does not', async () => {
    const place = folder();
    const criteria = `${place}/fen/campaign.sweepbook`;
    writeFileSync(criteria, readFileSync(criteria, 'utf8').replace(/Pmax +-5 % \.\./, 'Pmax 5 % ..'));
    expect((await shell(place, ['check', 'fen'])).status).toBe(1);
    expect((await shell(place, ['check', 'fen', '--write-results', 'results'])).status).toBe(0);
    expect((await shell(place, ['check', 'fen', '--against', 'results'])).status).toBe(0);
    expect((await shell(place, ['check', 'fen', 'gone', '--against', 'results'])).status).toBe(2);
  });

  it('--against says what is wrong with the file itself', async () => {
    const place = folder();
    const missing = await shell(place, ['check', 'fen', '--against', 'none']);
    expect(missing.status).toBe(2);
    expect(missing.error).toContain('write it with "sweepbook check --write-results none"');
    const wrong = await shell(place, ['check', 'fen', '--against', 'fen/array.sweepbook']);
    expect(wrong.error).toContain('is no results file');
  });

  it('--against says campaigns that are gone', async () => {
    const place = folder();
    await shell(place, ['check', 'fen', '--write-results', 'results']);
    renameSync(`${place}/fen`, `${place}/new`);
    const { status, error } = await shell(place, ['check', 'new', '--against', 'results']);
    expect(status).toBe(1);
    expect(error).toContain('has results of fen/campaign.sweepbook, which is there no more');
  });

  it('--write-results does not write over a file of the campaign', async () => {
    const place = folder();
    const { status, error } = await shell(place, ['check', 'fen', '--write-results', 'fen/sweeps/1.01.csv']);
    expect(status).toBe(3);
    expect(error).toContain('is a file of the campaign itself');
  });

  it('--write-results does not write over what is no results file, as where its name was forgotten', async () => {
    const place = folder();
    const other = `${place}/other.sweepbook`;
    writeFileSync(other, 'campaign other\n');
    const { status, error } = await shell(place, ['check', '--write-results', 'other.sweepbook', 'fen']);
    expect(status).toBe(3);
    expect(error).toContain('other.sweepbook: is there already and is no results file');
    expect(readFileSync(other, 'utf8')).toBe('campaign other\n');
  });

  it('--against with --write-results of the same file compares before it writes', async () => {
    const place = folder();
    await shell(place, ['check', 'fen', '--write-results', 'results']);
    const former = readFileSync(`${place}/results`, 'utf8');
    writeFileSync(`${place}/results`, former.replace(/Pmax \d/, 'Pmax 1'));
    const both = ['check', 'fen', '--against', 'results', '--write-results', 'results'];
    expect((await shell(place, both)).status).toBe(1);
    expect(readFileSync(`${place}/results`, 'utf8')).toBe(former);
  });
});
