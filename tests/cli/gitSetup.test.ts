/** What git itself shows with the settings of `git-setup`: real git, and the program as it is shipped. The campaigns are invented. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { withLine, withoutLine } from '../../src/cli/gitSetup.js';
import { edited, harrowFen, type Files } from '../difference/campaigns.js';
import { Repository } from './repository.js';
import { folderOf, inFolder, shell } from './runInFolder.js';

let built: string;
let program: string;
beforeAll(() => {
  built = mkdtempSync(path.join(tmpdir(), 'sweepbook built '));
  const file = path.join(built, 'cli.mjs');
  const build = ['esbuild.mjs', '--only', 'cli', '--quiet', '--into', built];
  const cwd = fileURLToPath(new URL('../..', import.meta.url));
  expect(spawnSync(process.execPath, build, { cwd, encoding: 'utf8' })).toMatchObject({ status: 0 });
  program = `'${process.execPath}' '${file}'`;
});
afterAll(() => rmSync(built, { recursive: true, force: true }));

const site = (files: Files): Files => inFolder('site', files);
const setUp = (own: Repository, ...more: string[]) =>
  shell(own.folder, ['git-setup', '--program', program, ...more]);

async function repository(): Promise<Repository> {
  const own = new Repository(site(harrowFen));
  expect((await setUp(own)).status).toBe(0);
  own.commit('Attributes');
  return own;
}

/** Lines of a diff that are gone and that came, the names of the files left out. */
const changedLines = (diff: string): string[] =>
  diff.split('\n').filter((line) => /^[-+](?![-+])/.test(line));

const brighter = edited(harrowFen, 'campaign.sweepbook', 'irradiance  809 W/m2', 'irradiance  859 W/m2');
const turned = [
  '-  irradiance  809 W/m2',
  '+  irradiance  859 W/m2',
  '-# 1.02 at 2026-05-14 11:31: pass, Pmax at STC 7340 W, -0.2 % ± 1.4 % from nameplate',
  '+# 1.02 at 2026-05-14 11:31: fail, Pmax at STC 6905 W, -6.1 % ± 1.3 % from nameplate',
  '+# case of string 1.02: open',
];

describe('with the settings', () => {
  it('git diff shows what a change of the working tree does to the results', async () => {
    const own = await repository();
    own.write(site(brighter));
    const diff = own.git('diff');
    expect(changedLines(diff)).toEqual(turned);
    expect(diff).toMatch(/^@@ .* @@ sweep 1\.01 at 2026-05-14 11:22$/m);
    own.git('add', 'site');
    expect(changedLines(own.git('diff', '--cached'))).toEqual(turned);
    const blamed = (...more: string[]): string =>
      own.git('blame', ...more, 'HEAD', '--', 'site/campaign.sweepbook');
    expect(blamed()).toMatch(/\(A .*\) # 1\.02 at 2026-05-14 11:31: pass/);
    expect(blamed('--no-textconv')).not.toContain('# 1.02 at');
    // A campaign cannot be taken back from such a diff; git has the switch for it.
    expect(changedLines(own.git('diff', '--cached', '--no-textconv'))).toEqual(turned.slice(0, 2));
  });

  it('git log -p and git show too, each commit with the files that it had; included files with the results of their campaign', async () => {
    const own = await repository();
    own.commit('Brighter', site(brighter));
    own.commit(
      'Another beta',
      site({
        ...edited(brighter, 'modules.sweepbook', 'beta   -0.27 %/K', 'beta   -0.35 %/K'),
        'campaign.sweepbook': `# Beta as the maker corrected it.\n${brighter['campaign.sweepbook']!}`,
      }),
    );
    own.commit('Taken back', {
      'site/campaign.sweepbook': `# Taken back.\n${harrowFen['campaign.sweepbook']!}`,
      'site/modules.sweepbook': `# Taken back.\n${harrowFen['modules.sweepbook']!}`,
    });
    expect(changedLines(own.git('log', '-p', '-1', '--skip=2', '--format='))).toEqual(turned);
    const beta = changedLines(own.git('show', '--format=', 'HEAD~1', '--', 'site/modules.sweepbook'));
    expect(beta.slice(0, 2)).toEqual(['-  beta   -0.27 %/K', '+  beta   -0.35 %/K']);
    expect(beta).toContain(
      '-# 1.02 at 2026-05-14 11:31: fail, Pmax at STC 6905 W, -6.1 % ± 1.3 % from nameplate',
    );
    expect(beta.find((line) => line.startsWith('+# 1.02 at'))).toMatch(
      /fail, Pmax at STC 69\d\d W, -5\.\d %/,
    );
  });

  it('says where one text has had several results', async () => {
    const own = await repository();
    const table = harrowFen['sweeps/1.02.csv']!.replace(/,([\d.]+)$/gm, (_, current: string) =>
      [',', (Number(current) * 0.9).toFixed(4)].join(''),
    );
    own.commit('A table alone', site({ 'sweeps/1.02.csv': table }));
    own.commit('Text', site({ 'campaign.sweepbook': `# Read.\n${harrowFen['campaign.sweepbook']!}` }));
    const lines = changedLines(own.git('log', '-p', '-1', '--format=', '--', '*.sweepbook'));
    // The results before the last commit are those of the table that stood beside the text then.
    expect(lines).toEqual([
      '+# Read.',
      '-# results of site/campaign.sweepbook, with its other files as the last commit with this text has them',
      '+# results of site/campaign.sweepbook',
    ]);
  });

  it('a text that no commit holds is shown without results, and so is one outside of a repository', async () => {
    const own = await repository();
    const copy = path.join(folderOf({ 'c.sweepbook': 'campaign c\n' }), 'c.sweepbook');
    const lost = await shell(own.folder, ['with-results', copy]);
    expect(lost).toMatchObject({
      status: 0,
      out: 'campaign c\n# results: not computed, no commit of this repository holds this text\n',
    });
    const outside = await shell(folderOf(), ['with-results', copy]);
    expect(outside.out).toMatch(/^campaign c\n# results: not computed, .* is in no git repository\n$/);
    expect((await shell(own.folder, ['with-results', 'gone.sweepbook'])).status).toBe(2);
  });
});

describe('git-setup', () => {
  const state = (own: Repository) => ({
    attributes: existsSync(path.join(own.folder, '.gitattributes'))
      ? readFileSync(path.join(own.folder, '.gitattributes'), 'utf8')
      : undefined,
    config: readFileSync(path.join(own.folder, '.git/config'), 'utf8'),
  });

  it('prints each thing that it changes; --dry-run changes nothing; twice is once', async () => {
    const own = new Repository({ 'c.sweepbook': 'campaign c\n' });
    const before = state(own);
    const dry = await setUp(own, '--dry-run');
    expect(state(own)).toEqual(before);
    expect(dry.out).toBe(
      `would be added to ${own.folder}/.gitattributes: *.sweepbook diff=sweepbook\n` +
        `would be set for this clone: diff.sweepbook.textconv = ${program} with-results\n` +
        'would be set for this clone: diff.sweepbook.xfuncname = ^[a-z].*$\nNothing was changed.\n',
    );
    const { out } = await setUp(own);
    expect(out).toBe(
      dry.out
        .replaceAll('would be ', '')
        .replace(
          'Nothing was changed.\n',
          '.gitattributes can be committed; the settings are of this clone alone, so others run this too.\n' +
            'git blame of campaign files now counts results as lines that somebody wrote; git blame --no-textconv leaves them out.\n',
        ),
    );
    const after = state(own);
    expect(await setUp(own)).toMatchObject({ status: 0, out: 'All is set already.\n' });
    expect(state(own)).toEqual(after);
    expect(own.git('config', '--local', 'diff.sweepbook.textconv').trim()).toBe(`${program} with-results`);
  });

  it.each(['', '*.csv text\n', '*.csv text', '*.csv text\r\n# end\r\n', '\n\n'])(
    '--undo takes its own lines back, and no other: %j',
    async (attributes) => {
      const own = new Repository({ 'c.sweepbook': 'campaign c\n' });
      if (attributes !== '') own.write({ '.gitattributes': attributes });
      own.git('config', 'diff.sweepbook.binary', 'false');
      const before = state(own);
      await setUp(own);
      expect(state(own).attributes).toContain('*.sweepbook diff=sweepbook');
      const { status } = await setUp(own, '--undo');
      expect(status).toBe(0);
      expect(state(own).attributes).toEqual(before.attributes);
      expect(own.git('config', '--local', '--get-regexp', 'sweepbook')).toBe('diff.sweepbook.binary false\n');
      expect((await setUp(own, '--undo')).out).toBe('Nothing of this program is set.\n');
    },
  );

  it('leaves what others set, and says so', async () => {
    const own = new Repository({ '.gitattributes': '*.sweepbook diff=other\n' });
    own.git('config', 'diff.sweepbook.textconv', 'cat');
    const { out } = await setUp(own, '--undo');
    expect(out).toBe('left as it is, since another program set it: diff.sweepbook.textconv = cat\n');
    const before = state(own);
    const set = await setUp(own);
    expect(set).toMatchObject({ status: 2, out: '' });
    expect(set.error).toMatch(/^another program set diff\.sweepbook\.textconv = cat; nothing was changed\./);
    expect(state(own)).toEqual(before);
    own.git('config', '--unset', 'diff.sweepbook.textconv');
    own.git('config', 'diff.sweepbook.xfuncname', '^own');
    const rest = await setUp(own);
    expect(rest.out).toMatch(/^left as it is: .*has the line "\*\.sweepbook diff=other"; with it/);
    expect(rest.out).toContain(
      'left as it is, since another program set it: diff.sweepbook.xfuncname = ^own\n',
    );
    expect(own.git('config', 'diff.sweepbook.xfuncname')).toBe('^own\n');
  });

  it('keeps every byte of other lines, in whatever encoding they are', async () => {
    const own = new Repository({ 'c.sweepbook': 'campaign c\n' });
    const file = path.join(own.folder, '.gitattributes');
    const bytes = Buffer.from('# Pr\xfcfung\n*.csv text\n', 'latin1');
    writeFileSync(file, bytes);
    await setUp(own);
    expect(readFileSync(file).subarray(0, bytes.length)).toEqual(bytes);
    await setUp(own, '--undo');
    expect(readFileSync(file)).toEqual(bytes);
  });

  it('attributes that cannot be read or written are said, with status 2', async () => {
    const own = new Repository({ 'c.sweepbook': 'campaign c\n' });
    const file = path.join(own.folder, '.gitattributes');
    mkdirSync(file);
    const config = readFileSync(path.join(own.folder, '.git/config'), 'utf8');
    for (const more of [[], ['--undo'], ['--dry-run']])
      expect(await setUp(own, ...more)).toMatchObject({
        status: 2,
        out: '',
        error: `${file} is not a file; nothing was changed\n`,
      });
    expect(readFileSync(path.join(own.folder, '.git/config'), 'utf8')).toBe(config);
  });

  it('needs a repository', async () => {
    const { status, error } = await shell(folderOf(), ['git-setup']);
    expect(status).toBe(2);
    expect(error).toMatch(/ is in no git repository\n$/);
  });

  it('a line is taken out where it was put in', () => {
    for (const text of ['', 'a\n', 'a', 'a\r\nb\r\n', 'a\r\nb'])
      expect(withoutLine(withLine(text))).toBe(text);
  });
});
