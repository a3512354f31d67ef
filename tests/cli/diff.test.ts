/**
 * `diff` on files, folders and a repository that real git built: branches, a rename, a changed table, a changed coefficient, a merge.
 * The campaigns are those of the examples, which are invented.
 */
import { mkdirSync, readFileSync, realpathSync, symlinkSync } from 'node:fs';
import path from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it, vi } from 'vitest';
import { workTreeOf } from '../../src/cli/git.js';
import type { DifferenceResult } from '../../src/presentation/differenceResultSchema.js';
import { edited, harrowFen, type Files } from '../difference/campaigns.js';
import { Repository } from './repository.js';
import { folderOf, inFolder, shell } from './runInFolder.js';

const schemaText = readFileSync(new URL('../../syntaxes/diff-result.schema.json', import.meta.url), 'utf8');
const validate = new Ajv2020({ allErrors: true }).compile(JSON.parse(schemaText) as object);

const betaMoved = edited(harrowFen, 'modules.sweepbook', 'beta   -0.27 %/K', 'beta   -0.29 %/K');
const betaLine = harrowFen['modules.sweepbook']!.split('\n').findIndex((line) => line.includes('beta')) + 1;

/** The current of every point less by a share, as a dirty reference would give it the other way round. */
const dimmed = (text: string, factor: number): string =>
  text.replace(
    /^([-\d.]+),([-\d.]+)/gm,
    (_, v: string, i: string) => `${v},${(Number(i) * factor).toFixed(4)}`,
  );
const tableMoved: Files = {
  ...harrowFen,
  'sweeps/1.04.csv': dimmed(harrowFen['sweeps/1.04.csv']!, 0.9),
};

const two = (before: Files, after: Files): string =>
  folderOf({ ...inFolder('old', before), ...inFolder('new', after) });

async function result(folder: string, ...args: string[]): Promise<DifferenceResult> {
  const { out } = await shell(folder, ['diff', ...args, '--format', 'json']);
  const json = JSON.parse(out) as DifferenceResult;
  expect(validate(json), JSON.stringify(validate.errors)).toBe(true);
  return json;
}

const causesOf = ({ campaigns }: DifferenceResult): string[] =>
  campaigns.flatMap(({ causes, changes }) =>
    causes.map(({ change }) => {
      const { subject, property } = changes[change]!;
      return [subject.kind, subject.name, property ?? ''].join(' ').trim();
    }),
  );

describe('two folders', () => {
  it('that are alike: status 0', async () => {
    const { status, out } = await shell(two(harrowFen, harrowFen), ['diff', 'old', 'new']);
    expect({ status, out }).toEqual({ status: 0, out: 'No change of results.\n' });
  });

  it('with other comments: status 0, and that nothing changed', async () => {
    const after = edited(harrowFen, 'campaign.sweepbook', /^/, '# Read again.\n');
    const { status, out } = await shell(two(harrowFen, after), ['diff', 'old', 'new']);
    expect(status).toBe(0);
    expect(out).toMatch(/^old\/campaign\.sweepbook -> new\/campaign\.sweepbook\nNo change of results\.\n$/);
  });

  it('with another beta: status 1, first what moved, then why, with the line on both sides', async () => {
    const { status, out } = await shell(two(harrowFen, betaMoved), ['diff', 'old', 'new']);
    expect(status).toBe(1);
    expect(out).toMatch(/^.*\n23 sweeps moved by more than 0\.05 %/);
    expect(out).toMatch(
      /\n- beta of module KF108M from -0\.27 %\/K to -0\.29 %\/K moved Pmax of 23 sweeps by \+\d/,
    );
    expect(out).toContain(`\n    old/modules.sweepbook:${betaLine} -> new/modules.sweepbook:${betaLine}\n`);
    expect(out).not.toContain('\u001b');
    const coloured = await shell(two(harrowFen, betaMoved), ['diff', 'old', 'new'], { isTerminal: true });
    expect(coloured.out).toContain('\u001b[1mWhy');
  });

  it('below the threshold that is asked for: status 0, and how many moved less', async () => {
    const args = ['diff', 'old', 'new', '--threshold', '2%'];
    const { status, out } = await shell(two(harrowFen, tableMoved), args);
    expect(status).toBe(1);
    const beta = edited(harrowFen, 'modules.sweepbook', 'beta   -0.27 %/K', 'beta   -0.271 %/K');
    const small = await shell(two(harrowFen, beta), args);
    expect(small.status).toBe(0);
    expect(small.out).toContain('23 sweeps moved by less than 2 %, which is not told.');
    expect(small.out).toMatch(/\nMoved sweeps by less than 2 % only\n- beta of module KF108M from /);
    expect(small.out).not.toContain('without effect');
    expect(out).toContain('1.04 at 2026-05-14 11:50: pass -> fail');
  });

  it('with campaigns that only one of them has', async () => {
    const folder = two({ ...harrowFen, 'b/gone.sweepbook': 'campaign gone\n' }, harrowFen);
    const { status, out } = await shell(folder, ['diff', 'old', 'new']);
    expect(status).toBe(1);
    expect(out).toBe(
      'old/b/gone.sweepbook\nCampaign removed. No sweeps.\n\n2 campaigns: 1 with other results, 1 without.\n',
    );
  });

  it('as Markdown: what a user wrote does nothing there', async () => {
    const after = edited(betaMoved, 'campaign.sweepbook', 'Client asked', '<img src=x> [a](b) @all');
    const { out } = await shell(two(harrowFen, after), ['diff', 'old', 'new', '--format', 'markdown']);
    expect(out).toMatch(/^### old\\\/campaign\\\.sweepbook/);
    expect(out).toContain('<details><summary>Sweeps that moved, at STC</summary>\n\n| sweep |');
    expect(out).not.toMatch(/(?<!\\)<img|(?<!\\)\[a/);
  });
});

describe('a file without sweeps', () => {
  it('is compared through the campaigns beside it that include it', async () => {
    const folder = two(harrowFen, betaMoved);
    const library = await result(folder, 'old/modules.sweepbook', 'new/modules.sweepbook');
    expect(library.campaigns).toMatchObject([
      { file: 'old/campaign.sweepbook -> new/campaign.sweepbook', state: 'changed' },
    ]);
    expect(causesOf(library)).toEqual(['module KF108M beta']);
  });

  it('that no campaign includes is refused', async () => {
    const folder = two(harrowFen, { 'modules.sweepbook': betaMoved['modules.sweepbook']! });
    const { status, out, error } = await shell(folder, [
      'diff',
      'old/modules.sweepbook',
      'new/modules.sweepbook',
    ]);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(error).toMatch(
      /^new\/modules\.sweepbook: it holds no sweeps, and no campaign in .*new includes it; name a campaign that does\n$/,
    );
  });
});

describe('what cannot be compared', () => {
  it.each([
    [['old', 'gone'], 2, 'gone: no campaign file there (looked for *.sweepbook)\n'],
    [['old', 'new/campaign.sweepbook'], 2, 'one is a file and the other a folder'],
    [[], 3, 'diff compares two files, two folders'],
    [['old'], 2, 'old: there is no merge conflict in it whose sides could be compared'],
    [['old', 'new', '--threshold', 'much'], 3, '--threshold much: write a percentage, such as 0.5%\n'],
    [['--rev', 'HEAD'], 2, 'is in no git repository'],
    [['--rev', ''], 3, '--rev: name a revision, such as HEAD'],
  ])('%j: status %i', async (args, status, error) => {
    const answer = await shell(two(harrowFen, harrowFen), ['diff', ...args]);
    expect(answer.status).toBe(status);
    expect(answer.error).toContain(error);
    expect(answer.out).toBe('');
  });

  it('revisions without a git program', async () => {
    const { folder } = new Repository({ 'c.sweepbook': 'campaign c\n' });
    vi.stubEnv('PATH', folder);
    const { status, error } = await shell(folder, ['diff', '--rev', 'HEAD']);
    vi.unstubAllEnvs();
    expect(status).toBe(2);
    expect(error).toBe(
      '--rev HEAD: the git program was not found; install it, or put its folder on the PATH\n',
    );
  });

  it('a folder whose name ends in a blank, a commit by its message, and not a file of one', async () => {
    const folder = path.join(realpathSync(folderOf({ 'sp /c.sweepbook': 'campaign c\n' })), 'sp ');
    const own = new Repository({ 'c.sweepbook': 'campaign c\n' }, folder);
    own.commit('The beta of all', { 'c.sweepbook': 'campaign d\n' });
    own.commit('Last', { 'c.sweepbook': 'campaign e\n' });
    const answer = await shell(folder, ['diff', '--rev', ':/beta', '--format', 'json']);
    expect(answer).toMatchObject({ error: '' });
    expect(answer.out).toContain('campaign d');
    expect((await shell(folder, ['diff', '--rev', 'HEAD:c.sweepbook'])).error).toMatch(
      /there is no revision/,
    );
    await expect(workTreeOf(path.join(folder, 'gone'))).rejects.toThrow(/^there is no folder .*gone$/);
  });

  it('a revision that is not there, or looks like an option', async () => {
    const { folder } = new Repository({ 'c.sweepbook': 'campaign c\n' });
    for (const rev of ['nowhere', 'HEAD..nowhere', '--output=x', 'HEAD..-x']) {
      const { status, error } = await shell(folder, ['diff', `--rev=${rev}`]);
      expect(status).toBe(2);
      expect(error).toMatch(/^--rev .*: there is no revision `.*`\n$/);
    }
  });
});

describe('revisions of a repository', () => {
  const repository = (): Repository => new Repository(inFolder('site', harrowFen));

  it('a changed coefficient on a branch, a changed table on another, both after the merge', async () => {
    const own = repository();
    own.git('checkout', '-q', '-b', 'beta');
    own.commit('Another beta', inFolder('site', betaMoved));
    own.git('checkout', '-q', '-b', 'table', 'main');
    own.commit('Another table', inFolder('site', tableMoved));
    const beta = await result(own.folder, '--rev', 'main..beta');
    expect(causesOf(beta)).toEqual(['module KF108M beta']);
    expect(beta.campaigns[0]!.changes[0]).toMatchObject({
      before: { file: 'site/modules.sweepbook', line: betaLine, text: '-0.27 %/K' },
      after: { file: 'site/modules.sweepbook', line: betaLine, text: '-0.29 %/K' },
    });
    const table = await result(own.folder, '--rev', 'main..table');
    expect(causesOf(table)).toEqual(['table site/sweeps/1.04.csv']);
    expect(
      table.campaigns[0]!.turns.map(({ what, subject, after }) => [what, subject, after]),
    ).toContainEqual(['verdict', '1.04 at 2026-05-14 11:50', 'fail']);
    own.git('merge', '-q', '-m', 'Both', 'beta');
    const both = await result(own.folder, '--rev', 'main..HEAD', 'site');
    expect(causesOf(both)).toEqual(['table site/sweeps/1.04.csv', 'module KF108M beta']);
    const [moved] = both.campaigns[0]!.moved.filter(({ after }) => after.address === '1.04');
    expect(moved!.shares).toHaveLength(2);
    expect(Math.abs(moved!.remainder!)).toBeLessThan(1e-3);
    // From where the two parted: what the other branch did is not told.
    expect(causesOf(await result(own.folder, '--rev', 'beta...table'))).toEqual([
      'table site/sweeps/1.04.csv',
    ]);
  });

  it('another beta in the working tree: what the README quotes', async () => {
    const own = new Repository(inFolder('examples/harrow-fen', harrowFen));
    const after = edited(harrowFen, 'modules.sweepbook', 'beta   -0.27 %/K', 'beta   -0.31 %/K');
    own.write(inFolder('examples/harrow-fen', after));
    const { out } = await shell(own.folder, ['diff', '--rev', 'HEAD', 'examples/harrow-fen']);
    const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
    const [, quoted] = /```\n(\d+ sweeps moved[^]*?)```/.exec(readme)!;
    expect(out).toContain(quoted);
  });

  it('a merge that conflicts: the file is read by its first side, and its sides are compared', async () => {
    const own = repository();
    own.git('checkout', '-q', '-b', 'other');
    own.commit('Another beta', inFolder('site', betaMoved));
    own.git('checkout', '-q', 'main');
    const mine = edited(harrowFen, 'modules.sweepbook', 'beta   -0.27 %/K', 'beta   -0.25 %/K');
    own.commit('My beta', inFolder('site', mine));
    own.tryGit('merge', '-q', 'other');
    const check = await shell(own.folder, ['check', 'site']);
    const marked = check.out.split('\n').filter((line) => /^site\/.*: error/.test(line));
    expect(marked).toHaveLength(1);
    expect(marked[0]).toMatch(
      new RegExp(
        `^site/modules\\.sweepbook:${betaLine}:1: error: This merge conflict, lines .*\\(HEAD\\) is read`,
      ),
    );
    // The first side is what HEAD has.
    expect(await result(own.folder, '--rev', 'HEAD', 'site')).toMatchObject({
      campaigns: [{ changes: [], moved: [], problemsAdded: [{ id: 'syntax/merge-conflict' }] }],
    });
    expect(await result(own.folder, 'site/modules.sweepbook')).toMatchObject({
      before: 'site/modules.sweepbook, first side',
      campaigns: [{ file: 'site/campaign.sweepbook', state: 'changed' }],
    });
    const sides = await result(own.folder, 'site');
    expect(causesOf(sides)).toEqual(['module KF108M beta']);
    expect(sides.campaigns[0]!.changes[0]).toMatchObject({
      before: { text: '-0.25 %/K', line: betaLine + 1 },
      after: { text: '-0.29 %/K', line: betaLine + 3 },
    });
  });

  it('the working tree, saved and not added', async () => {
    const own = repository();
    const { status, out } = await shell(own.folder, ['diff', '--rev', 'HEAD']);
    expect({ status, out }).toEqual({ status: 0, out: 'No change of results.\n' });
    own.write(inFolder('site', betaMoved));
    const library = await result(own.folder, '--rev', 'HEAD', 'site/modules.sweepbook');
    expect(library.campaigns.map(({ file }) => file)).toEqual(['site/campaign.sweepbook']);
    const changed = await shell(own.folder, ['diff', '--rev', 'HEAD', 'site/campaign.sweepbook']);
    expect(changed.status).toBe(1);
    expect(changed.out).toMatch(/^site\/campaign\.sweepbook\n23 sweeps moved/);
    expect(changed.out).toContain(`\n    site/modules.sweepbook:${betaLine}\n`);
  });

  it('of the working tree are what git has or would add: no ignored file, no link, no repository inside', async () => {
    const own = new Repository({ '.gitignore': 'out/\n', 'a.sweepbook': 'campaign a\n' });
    own.write({ 'out/ignored.sweepbook': 'campaign ignored\n', 'notes/draft.sweepbook': 'campaign draft\n' });
    mkdirSync(path.join(own.folder, 'inner'));
    const inner = new Repository({ 'inner.sweepbook': 'campaign inner\n' }, path.join(own.folder, 'inner'));
    const added = ['notes/draft.sweepbook'];
    const files = async (...args: string[]): Promise<string[]> =>
      (await result(own.folder, '--rev', 'HEAD', ...args)).campaigns.map(({ file }) => file);
    expect(await files()).toEqual(added);
    expect(await files('notes')).toEqual(added);
    own.commit('With a repository inside');
    expect(own.git('ls-files', '-s', 'inner')).toMatch(/^160000 /);
    inner.write({ 'another.sweepbook': 'campaign another\n' });
    symlinkSync('a.sweepbook', path.join(own.folder, 'link.sweepbook'));
    expect(await files()).toEqual([]);
    own.commit('With a link');
    expect(await files()).toEqual([]);
    own.remove('a.sweepbook');
    expect(await files()).toEqual(['a.sweepbook']);
  });

  it('a folder that was renamed is the same campaign, and what changed in it is traced', async () => {
    const own = repository();
    own.git('mv', 'site', 'harrow');
    own.commit('Another name');
    const same = await result(own.folder, '--rev', 'HEAD~1..HEAD');
    expect(same.campaigns).toEqual([]);
    own.commit('Another beta', inFolder('harrow', betaMoved));
    const moved = await result(own.folder, '--rev', 'HEAD~2..HEAD');
    expect(moved.campaigns.map(({ file }) => file)).toEqual([
      'site/campaign.sweepbook -> harrow/campaign.sweepbook',
    ]);
    expect(causesOf(moved)).toEqual(['module KF108M beta']);
  });

  it('is read from the revision, whatever the working tree holds', async () => {
    const own = repository();
    own.commit('Another beta', inFolder('site', betaMoved));
    own.remove('site');
    expect(causesOf(await result(own.folder, '--rev', 'HEAD~1..HEAD'))).toEqual(['module KF108M beta']);
    const gone = await shell(own.folder, ['diff', '--rev', 'HEAD', 'site']);
    expect(gone).toMatchObject({ status: 1 });
    expect(gone.out).toMatch(/^site\/campaign\.sweepbook\nCampaign removed\. 23 sweeps: /);
  });
});

it('the schema is the one that is published', async () => {
  const { out } = await shell(folderOf(), ['schema', '--diff']);
  expect(out).toBe(schemaText);
});
