/** Paths that are not what they seem, and files that do not stay as they are. */
import { execFileSync } from 'node:child_process';
import {
  appendFileSync,
  chmodSync,
  mkdirSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { NodeFiles } from '../../src/cli/nodeFiles.js';
import { asNobody } from './disks.js';
import { campaign, folderOf, inFolder, shell } from './runInFolder.js';

describe.skipIf(process.platform === 'win32')('a data file that', () => {
  const files = campaign({ data: 'data.csv' });
  const text = files['c.sweepbook']!;

  async function problemsWith(prepare: (folder: string) => void, data = 'data.csv') {
    const folder = folderOf({ 'c.sweepbook': text.replace('data.csv', data) });
    prepare(folder);
    const { status, out } = await shell(folder, ['check', '--format', 'json', 'c.sweepbook']);
    expect(status).toBe(2);
    const { diagnostics } = JSON.parse(out) as { diagnostics: { id: string; message: string }[] };
    return diagnostics.map(({ id }) => id);
  }

  it('is a folder', async () => {
    expect(await problemsWith(() => undefined, '.')).toEqual(['data/not-a-file']);
  });

  it('is a link out of the workspace is not read', async () => {
    const outside = path.join(folderOf({ 'secret.csv': files['data.csv']! }), 'secret.csv');
    expect(await problemsWith((folder) => symlinkSync(outside, path.join(folder, 'data.csv')))).toEqual([
      'data/unreadable',
    ]);
  });

  it('goes through a linked folder out of the workspace', async () => {
    const outside = folderOf({ 'data.csv': files['data.csv']! });
    const found = await problemsWith(
      (folder) => symlinkSync(outside, path.join(folder, 'in')),
      'in/data.csv',
    );
    expect(found).toEqual(['data/unreadable']);
  });

  it('is a link to a device without end', async () => {
    expect(await problemsWith((folder) => symlinkSync('/dev/zero', path.join(folder, 'data.csv')))).toEqual([
      'data/unreadable',
    ]);
  });

  it('is a pipe that nobody writes to', async () => {
    expect(await problemsWith((folder) => execFileSync('mkfifo', [path.join(folder, 'data.csv')]))).toEqual([
      'data/not-a-file',
    ]);
  });

  it('is a link to itself', async () => {
    expect(await problemsWith((folder) => symlinkSync('data.csv', path.join(folder, 'data.csv')))).toEqual([
      'data/unreadable',
    ]);
  });

  it('is larger than any sweep', async () => {
    const large = (folder: string): void => {
      writeFileSync(path.join(folder, 'data.csv'), '');
      truncateSync(path.join(folder, 'data.csv'), 33 * 1024 * 1024);
    };
    expect(await problemsWith(large)).toEqual(['data/too-large']);
  });

  it('is named above the workspace, or absolutely', async () => {
    for (const name of [
      '../data.csv',
      '/etc/hostname',
      'x/../../data.csv',
      '..\\\\data.csv',
      'C:\\\\data.csv',
    ])
      expect(await problemsWith(() => undefined, name), name).toEqual(['data/outside']);
  });

  it('is named on another machine, on a drive, by a device or by an address', async () => {
    for (const name of [
      '\\\\\\\\server\\\\share\\\\data.csv',
      '//server/share/data.csv',
      '\\\\\\\\?\\\\C:\\\\data.csv',
      '\\\\\\\\.\\\\PhysicalDrive0',
      'C:data.csv',
      '/dev/stdin',
    ])
      expect(await problemsWith(() => undefined, name), name).toEqual(['data/outside']);
    for (const name of ['file:///etc/hostname', 'https://example.org/data.csv', 'NUL', '~/data.csv'])
      expect(await problemsWith(() => undefined, name), name).toEqual(['data/missing']);
  });

  it('is a link that stays inside is read', async () => {
    const folder = folderOf({ ...files, 'c.sweepbook': text.replace('data.csv', 'link.csv') });
    symlinkSync('data.csv', path.join(folder, 'link.csv'));
    expect((await shell(folder, ['check', 'c.sweepbook'])).status).toBe(0);
  });
});

describe('a workspace that', () => {
  it('is given bounds what may be read', async () => {
    const files = campaign({ data: 'data.csv' });
    const up = files['c.sweepbook']!.replace('"data.csv"', '"../data.csv"');
    const folder = folderOf({ 'data.csv': files['data.csv']!, 'a/c.sweepbook': up });
    const wide = await shell(folder, ['check', '--root', '.', 'a/c.sweepbook']);
    expect(wide.status).toBe(0);
    const narrow = await shell(folder, ['check', '--root', 'a', 'a/c.sweepbook']);
    expect(narrow.status).toBe(2);
    expect(narrow.out).toContain('data/outside');
  });

  it('is itself reached by a link', async () => {
    const folder = folderOf(campaign());
    const link = path.join(folderOf(), 'link');
    symlinkSync(folder, link);
    expect((await shell(link, ['check', 'c.sweepbook'])).status).toBe(0);
  });
});

describe.skipIf(process.platform === 'win32')('a campaign file that', () => {
  const unreadable = async (name: string, ...more: string[]) => {
    const { status, out } = await shell(folderOf(), ['check', ...more, name]);
    expect(out).toMatch(/^[^\n]+:1:1: error: .*\[file\/unreadable\]$/m);
    return status;
  };

  it('is a device, or a link to one, is not read', async () => {
    for (const name of ['/dev/zero', '/dev/stdin', '/dev/full']) {
      const { status, error } = await shell(folderOf(), ['check', name]);
      expect(status).toBe(2);
      expect(error).toBe(`${name}: no campaign file there (looked for *.sweepbook)\n`);
    }
    const folder = folderOf();
    const link = path.join(folder, 'zeros.sweepbook');
    symlinkSync('/dev/zero', link);
    expect(await unreadable(link)).toBe(2);
    expect(await unreadable(link, '--root', '/')).toBe(2);
  });

  it('is a pipe that nobody writes to is not waited for', async () => {
    const pipe = path.join(folderOf(), 'pipe.sweepbook');
    execFileSync('mkfifo', [pipe]);
    expect(await unreadable(pipe)).toBe(2);
  });

  it('may not be read by this user', async () => {
    const folder = folderOf(campaign());
    chmodSync(folder, 0o755);
    chmodSync(path.join(folder, 'c.sweepbook'), 0o000);
    await asNobody(async () => {
      const { status, out } = await shell(folder, ['check', 'c.sweepbook']);
      expect(status).toBe(2);
      expect(out).toContain('cannot be read');
    });
  });

  it('stands in a folder that may only be read is checked as any', async () => {
    const folder = folderOf(campaign());
    chmodSync(folder, 0o555);
    await asNobody(async () => expect((await shell(folder, ['check', '.'])).status).toBe(0));
    chmodSync(folder, 0o755);
  });
});

// The moment is not ours to choose: now and then everything has been read before the change.
describe('a file that changes while a check runs', { retry: 2 }, () => {
  /** Does something once the first of two campaigns was printed, when the second has not been read, or not its table. */
  async function after(change: (folder: string) => void) {
    const folder = folderOf({ ...inFolder('a', campaign()), ...inFolder('b', campaign()) });
    let [out, isChanged] = ['', false];
    const answer = await shell(folder, ['check', '.'], {
      out: (piece) => {
        if (!isChanged) change(folder);
        isChanged = true;
        out += piece;
      },
    });
    expect(out.match(/1 sweep: 1 pass/g)?.length).toBe(1);
    expect(answer.status).toBe(2);
    return out;
  }

  it('a campaign that vanishes is one message', async () => {
    const out = await after((folder) => rmSync(path.join(folder, 'b'), { recursive: true }));
    expect(out.match(/error: /g)).toHaveLength(1);
    // It may have been read by then, and its table not.
    expect(out).toMatch(/b\/c\.sweepbook:\d+:\d+: error: (b\/c\.sweepbook|"s\.csv") does not exist/);
  });

  it('a table that vanishes is one message', async () => {
    const out = await after((folder) => rmSync(path.join(folder, 'b/s.csv')));
    expect(out.match(/error: /g)).toHaveLength(1);
    expect(out).toContain('data/missing');
  });

  it('a table that becomes a folder is one message', async () => {
    const out = await after((folder) => {
      rmSync(path.join(folder, 'b/s.csv'));
      mkdirSync(path.join(folder, 'b/s.csv'));
    });
    expect(out).toContain('data/not-a-file');
  });

  const size = 8 * 1024 * 1024;
  it.each<[string, (file: string) => void]>([
    ['is cut short', (file) => truncateSync(file, 10)],
    ['grows', (file) => appendFileSync(file, Buffer.alloc(size, 'b'))],
    ['is removed', (file) => rmSync(file)],
    ['is replaced', (file) => (rmSync(file), writeFileSync(file, 'c'.repeat(100)))],
  ])(
    'a table that %s in the middle of being read is read as far as it goes, and no further than the limit',
    async (_name, change) => {
      const folder = folderOf();
      const file = path.join(folder, 's.csv');
      for (let wait = 0; wait < 8; wait++) {
        writeFileSync(file, Buffer.alloc(size, 'a'));
        const reading = new NodeFiles(folder).read(file, size + 1000);
        for (let turn = 0; turn < wait; turn++) await new Promise((resolve) => setImmediate(resolve));
        change(file);
        const content = await reading;
        if (content.ok) expect(content.bytes.length).toBeLessThanOrEqual(size + 1000);
        else expect(['missing', 'too-large']).toContain(content.reason);
      }
    },
  );
});

it('the reader never rejects', async () => {
  const folder = folderOf();
  const files = new NodeFiles(folder);
  for (const name of ['', 'x'.repeat(300), 'a\0b', 'gone/x'])
    expect((await files.read(path.join(folder, 'y') + name, 1)).ok).toBe(false);
});

it.skipIf(process.platform === 'win32')(
  'a name with what a terminal would obey is shown with marks in its place',
  async () => {
    const name = 'red\u001b[31m.sweepbook';
    const files = campaign();
    const folder = folderOf({ [name]: files['c.sweepbook']!, 's.csv': files['s.csv']! });
    const gone = 'gone\u001b[2J.sweepbook';
    const answers = await Promise.all([
      shell(folder, ['check', name, gone]),
      shell(folder, ['export', name, gone, '--to', 'out\u001b[1m']),
      shell(folder, ['export', name, '--to', '.\u001b/..']),
      shell(folder, ['report', name, '--content', 'summary']),
      shell(folder, ['report', gone]),
      shell(folder, ['window', gone, '--date', '2026-05-14']),
      shell(folder, ['window', name, '--date', '\u001b[2J']),
      shell(folder, ['coefficients', gone, 'S']),
      shell(folder, ['coefficients', name, '\u001b[2J']),
      shell(folder, ['module', 'search', gone, 'x']),
      shell(folder, ['bring-in', gone]),
      shell(folder, ['bring-in', gone, '--into', gone]),
    ]);
    for (const [index, { out, error }] of answers.entries()) {
      expect(out + error, String(index)).toContain('\ufffd');
      expect(out + error, String(index)).not.toContain('\u001b');
    }
  },
);
