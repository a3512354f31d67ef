import { existsSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { campaign, folderOf, inFolder, shell } from './runInFolder.js';

const schemaFile = new URL('../../syntaxes/check-result.schema.json', import.meta.url);
const schema = readFileSync(schemaFile, 'utf8');

describe('exit status', () => {
  it('0: everything judged passes', async () => {
    const { status, out, error } = await shell(folderOf(campaign()), ['check', 'c.sweepbook']);
    expect(status).toBe(0);
    expect(out).toMatch(/S .*850 W\/m2.*pass/);
    expect(error).toBe('');
  });

  it('1: one fails, also beside errors in the files', async () => {
    expect((await shell(folderOf(campaign({ level: 0.9 })), ['check', 'c.sweepbook'])).status).toBe(1);
    const more = 'swep S at 2026-05-14 12:00';
    expect((await shell(folderOf(campaign({ level: 0.9, more })), ['check', 'c.sweepbook'])).status).toBe(1);
  });

  it('0: what failed was accepted; 1: it was replaced and not swept since', async () => {
    const accepted = campaign({ level: 0.9, more: 'accept S "shaded until the tree is cut" by "owner"' });
    expect((await shell(folderOf(accepted), ['check', 'c.sweepbook'])).status).toBe(0);
    const swapped = campaign({ level: 0.9, more: 'replace S/1 at 2027-05-14 12:00\n  serial "A" -> "B"' });
    const { status, out } = await shell(folderOf(swapped), ['check', 'c.sweepbook']);
    expect(status).toBe(1);
    expect(out).toMatch(/S replaced: .*S\/1 replaced at 2027-05-14 12:00/);
    expect(out).toMatch(/Never unmate a connector/);
  });

  it('2: an error in the files, a missing file, nothing judged', async () => {
    const wrong = folderOf(campaign({ more: 'swep S at 2026-05-14 12:00' }));
    const { status, out } = await shell(wrong, ['check', 'c.sweepbook']);
    expect(status).toBe(2);
    expect(out).toMatch(/^c\.sweepbook:\d+:1: error: .*swep/m);
    const gone = await shell(folderOf(), ['check', 'gone.sweepbook']);
    expect(gone).toMatchObject({ status: 2, out: '' });
    expect(gone.error).toContain('gone.sweepbook');
    const empty = folderOf({ 'c.sweepbook': '' });
    expect((await shell(empty, ['check', 'c.sweepbook'])).status).toBe(2);
  });

  it('2: a table named in place of a campaign is one sentence, not an error for each of its lines', async () => {
    const folder = folderOf({ 'a.csv': 'V,A\n1,2\n'.repeat(50) });
    const { status, out, error } = await shell(folder, ['check', 'a.csv']);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(error).toBe(
      'a.csv: no campaign file there (looked for *.sweepbook); a table belongs to a sweep of a campaign: data "a.csv"\n',
    );
  });

  it('2: one of several is missing, though the other passes', async () => {
    const { status, out, error } = await shell(folderOf(campaign()), ['check', 'c.sweepbook', 'gone']);
    expect(status).toBe(2);
    expect(out).toContain('pass');
    expect(error).toContain('gone');
  });

  it.each([
    [[]],
    [['check']],
    [['chek', '.']],
    [['check', '--fromat', 'json', '.']],
    [['check', '--format', 'yaml', '.']],
    [['report']],
    [['check', '.', '--root']],
  ])('3: %o', async (args) => {
    const { status, out, error } = await shell(folderOf(campaign()), args);
    expect(status).toBe(3);
    expect(out).toBe('');
    expect(error).not.toBe('');
  });

  it('0: help and version', async () => {
    const help = await shell(folderOf(), ['--help']);
    expect(help).toMatchObject({ status: 0, error: '' });
    expect(help.out).toContain('Exit status');
    const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));
    expect((await shell(folderOf(), ['--version'])).out.trim()).toBe(version);
  });
});

describe('what is named', () => {
  const many = {
    ...inFolder('north', campaign()),
    ...inFolder('south/roof', campaign()),
    ...inFolder('node_modules/x', campaign()),
    'south/notes.txt': 'not a campaign',
  };

  it.each([
    [['.'], 2],
    [['north', 'south'], 2],
    [['north/c.sweepbook', 'north'], 1],
    [['**/*.sweepbook'], 2],
    [['south/**'], 1],
    [['*/c.sweepbook'], 1],
    [['north/c.sweepbook', 'south/roof/c.sweepbook'], 2],
  ])('%o: %i campaigns', async (args, count) => {
    const { out, status } = await shell(folderOf(many), ['check', '--format', 'json', ...args]);
    expect(status).toBe(0);
    const answer: unknown = JSON.parse(out);
    expect([answer].flat()).toHaveLength(count);
  });

  it('a part that another file of the folder includes is not a campaign of its own', async () => {
    const files = campaign();
    const [first, ...rest] = files['c.sweepbook']!.split('\n\n');
    const split = {
      'c.sweepbook': `include "lib.sweepbook"\n${first}`,
      'lib.sweepbook': rest.join('\n\n'),
      's.csv': files['s.csv']!,
    };
    const folder = folderOf(split);
    const { out, status } = await shell(folder, ['check', '.']);
    expect(status).toBe(0);
    expect(out.match(/A campaign/g)).toHaveLength(1);
    // Named, it is.
    expect((await shell(folder, ['check', 'lib.sweepbook'])).out).toContain('pass');
  });

  it('of files that include each other the first is the campaign', async () => {
    const files = campaign();
    const folder = folderOf({
      'c.sweepbook': `include "d.sweepbook"\n${files['c.sweepbook']!}`,
      'd.sweepbook': 'include "c.sweepbook"\n',
      's.csv': files['s.csv']!,
    });
    const { out } = await shell(folder, ['check', '.']);
    expect(out.match(/A campaign/g)).toHaveLength(1);
  });

  it.each(['with space/and [brackets]', "it's (1) {x,y}", 'ümläut 測定', '-dash', '!bang', '..dots'])(
    'folders like "%s"',
    async (name) => {
      const folder = folderOf(inFolder(name, campaign({ data: 'data [1]/s, 2.csv' })));
      for (const argument of [name, `${name}/c.sweepbook`]) {
        const { status, out, error } = await shell(folder, ['check', '--', argument]);
        expect(error).toBe('');
        expect(out).toContain('pass');
        expect(status).toBe(0);
      }
    },
  );

  it('places are shown relative to the working folder, or to the campaign where that is elsewhere', async () => {
    const folder = folderOf(inFolder('a/b', campaign({ data: 's.csv', more: 'swep' })));
    expect((await shell(folder, ['check', 'a'])).out).toMatch(/^a\/b\/c\.sweepbook:\d+:1: error/m);
    expect((await shell(path.join(folder, 'a'), ['check', '.'])).out).toMatch(
      /^b\/c\.sweepbook:\d+:1: error/m,
    );
    expect((await shell(folderOf(), ['check', path.join(folder, 'a/b')])).out).toMatch(
      /^c\.sweepbook:\d+:1: error/m,
    );
  });
});

describe('text', () => {
  const escape = String.fromCharCode(27);

  it('has colour on a terminal alone, and none with NO_COLOR', async () => {
    const folder = folderOf(campaign());
    const check = (options: Parameters<typeof shell>[2]) => shell(folder, ['check', 'c.sweepbook'], options);
    expect((await check({ isTerminal: true })).out).toContain(escape);
    for (const options of [
      { isTerminal: false },
      { isTerminal: true, environment: { NO_COLOR: '1' } },
      { isTerminal: true, environment: { TERM: 'dumb' } },
    ])
      expect((await check(options)).out).not.toContain(escape);
    // no-color.org: an empty value does not count.
    expect((await check({ isTerminal: true, environment: { NO_COLOR: '' } })).out).toContain(escape);
  });

  it('is plain ASCII where asked', async () => {
    const { out } = await shell(folderOf(campaign({ level: 0.9 })), ['check', '--ascii', 'c.sweepbook']);
    expect([...out].filter((character) => character.charCodeAt(0) > 126)).toEqual([]);
  });

  it('lets no control character of a file through to the terminal', async () => {
    const files = campaign({ more: `sweep ${escape}[31mX at now` });
    const titled = files['c.sweepbook']!.replace('A campaign', `A ${escape}]0;owned\u0007 campaign`);
    const { out } = await shell(folderOf({ ...files, 'c.sweepbook': titled }), ['check', 'c.sweepbook']);
    expect(out).not.toContain(escape);
    expect(out).not.toContain('\u0007');
  });
});

describe('json', () => {
  it('is valid by the published schema, for good and bad campaigns', async () => {
    const validate = new Ajv2020({ strict: false }).compile(JSON.parse(schema));
    for (const files of [
      campaign(),
      campaign({ level: 0.9, more: 'swep' }),
      { 'c.sweepbook': '' },
      { 'c.sweepbook': 'sweep X at never\n  data "../../x"' },
    ]) {
      const { out } = await shell(folderOf(files), ['check', '--format', 'json', 'c.sweepbook']);
      expect(validate(JSON.parse(out)), JSON.stringify(validate.errors)).toBe(true);
    }
  });

  it('`schema` prints the schema that is published', async () => {
    const { status, out } = await shell(folderOf(), ['schema']);
    expect(status).toBe(0);
    expect(JSON.parse(out)).toEqual(JSON.parse(schema));
    expect(out.trim()).toBe(schema.trim());
  });
});

describe('report', () => {
  it('writes one page beside the campaign that needs nothing else', async () => {
    const folder = folderOf(campaign());
    const { status, out } = await shell(folder, ['report', 'c.sweepbook']);
    expect(status).toBe(0);
    expect(out).toContain(path.join(folder, 'c.html'));
    const page = readFileSync(path.join(folder, 'c.html'), 'utf8');
    expect(page).toMatch(/<svg/);
    expect(page.replaceAll('http://www.w3.org/', '')).not.toMatch(/https?:|\/\/[a-z]+\./);
    expect(page).not.toMatch(/<script|<link|@import|url\(|<iframe|\son[a-z]+=/i);
    expect(readdirSync(folder).sort()).toEqual(['c.html', 'c.sweepbook', 's.csv']);
  });

  it('answers as check does, and makes folders on the way', async () => {
    const folder = folderOf(campaign({ level: 0.9 }));
    expect((await shell(folder, ['report', 'c.sweepbook', '-o', 'new folder/deep/page.html'])).status).toBe(
      1,
    );
    expect(existsSync(path.join(folder, 'new folder/deep/page.html'))).toBe(true);
  });

  it('that cannot be written: a sentence, status 2, and nothing left behind', async () => {
    const folder = folderOf({ ...campaign(), 'taken/x': '' });
    for (const out of ['taken', 's.csv/page.html']) {
      const { status, error } = await shell(folder, ['report', 'c.sweepbook', '--out', out]);
      expect(status).toBe(2);
      expect(error).toContain('could not be written');
    }
    expect(readdirSync(folder).sort()).toEqual(['c.sweepbook', 's.csv', 'taken']);
  });

  it('never overwrites the campaign or its data', async () => {
    const files = campaign();
    const folder = folderOf(files);
    for (const name of ['c.sweepbook', 's.csv']) {
      expect((await shell(folder, ['report', 'c.sweepbook', '--out', name])).status).toBe(3);
      expect(readFileSync(path.join(folder, name), 'utf8')).toBe(files[name]);
    }
  });

  it('replaces an older page whole', async () => {
    const folder = folderOf(campaign());
    writeFileSync(path.join(folder, 'c.html'), 'old '.repeat(1e6));
    await shell(folder, ['report', 'c.sweepbook']);
    expect(readFileSync(path.join(folder, 'c.html'), 'utf8')).not.toContain('old old');
  });

  it.each([['gone.sweepbook'], ['.']])('of %s: says what it needs', async (name) => {
    const folder = folderOf({ ...inFolder('a', campaign()), ...inFolder('b', campaign()) });
    const { status, error } = await shell(folder, ['report', name]);
    expect(status).toBe(2);
    expect(error).toContain(name);
  });
});
