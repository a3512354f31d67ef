/** Paths that are not what they seem. */
import { execFileSync } from 'node:child_process';
import { symlinkSync, truncateSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { NodeFiles } from '../../src/cli/nodeFiles.js';
import { campaign, folderOf, shell } from './runInFolder.js';

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
