/** Nothing is lost: whatever happens while a file is written, the former one or the new one is there, whole. */
import { execFileSync, spawn } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { describe, expect, it } from 'vitest';
import { writeWhole } from '../../src/cli/writeWhole.js';
import { unfinishedName } from '../../src/workspace/unfinishedFiles.js';
import { asNobody, smallDisk } from './disks.js';
import { campaign, folderOf, shell } from './runInFolder.js';

const isWindows = process.platform === 'win32';

/** Open to nobody as well, but for its `locked` parts. */
function openFolder(files: Readonly<Record<string, string>>): string {
  const folder = folderOf(files);
  chmodSync(folder, 0o755);
  return folder;
}

describe.skipIf(isWindows)('a file is written whole where', () => {
  it('the disk is full: the former file stays, and nothing is left beside it', async ({ skip }) => {
    const disk = smallDisk();
    if (disk === undefined) return skip('needs the right to mount a small disk');
    const target = path.join(disk, 'report.html');
    writeFileSync(target, 'former');
    await expect(writeWhole(target, 'x'.repeat(256 * 1024))).rejects.toThrow('the disk is full');
    expect(readFileSync(target, 'utf8')).toBe('former');
    expect(readdirSync(disk)).toEqual(['report.html']);
  });

  it('the folder may only be read', async () => {
    const folder = openFolder({ 'report.html': 'former' });
    chmodSync(folder, 0o555);
    await asNobody(async () => {
      for (const name of ['report.html', 'other.html', 'deep/report.html'])
        await expect(writeWhole(path.join(folder, name), 'new'), name).rejects.toThrow(
          'this user may not write there',
        );
    });
    chmodSync(folder, 0o755);
    expect(readdirSync(folder)).toEqual(['report.html']);
    expect(readFileSync(path.join(folder, 'report.html'), 'utf8')).toBe('former');
  });

  it('folders are missing: they are made', async () => {
    const target = path.join(openFolder({}), 'a', 'b', 'report.html');
    await Promise.all([
      writeWhole(target, 'new'),
      writeWhole(path.join(path.dirname(target), 'other'), 'new'),
    ]);
    expect(readFileSync(target, 'utf8')).toBe('new');
  });

  it('the system lets nobody make a folder, and says that it is missing', async ({ skip }) => {
    if (!existsSync('/proc/self')) return skip('needs a /proc');
    const refused = 'no folder can be made there';
    await expect(writeWhole('/proc/nothing/deep/report.html', 'new')).rejects.toThrow(refused);
    const { status, error } = await shell(folderOf(campaign()), ['export', '.', '--to', '/proc/nothing']);
    expect(status).toBe(2);
    expect(error).toBe(`/proc/nothing: could not be written (${refused})\n`);
  });

  it('the file may only be read, though its folder could be written', async () => {
    const folder = openFolder({ 'report.html': 'former' });
    const target = path.join(folder, 'report.html');
    chmodSync(target, 0o444);
    chmodSync(folder, 0o777);
    await asNobody(() => expect(writeWhole(target, 'new')).rejects.toThrow('this user may not write there'));
    expect(readFileSync(target, 'utf8')).toBe('former');
  });

  it('a folder, a device or a pipe has its name', async () => {
    const folder = folderOf();
    mkdirSync(path.join(folder, 'report.html'));
    execFileSync('mkfifo', [path.join(folder, 'pipe')]);
    symlinkSync('/dev/null', path.join(folder, 'null'));
    for (const name of ['report.html', 'pipe', 'null'])
      await expect(writeWhole(path.join(folder, name), 'x'), name).rejects.toThrow('not a file');
    expect(statSync('/dev/null').isCharacterDevice()).toBe(true);
    expect(readdirSync(folder).sort()).toEqual(['null', 'pipe', 'report.html']);
  });

  it('a part of its path is a file, or its name is too long', async () => {
    const folder = folderOf({ file: 'former' });
    await expect(writeWhole(path.join(folder, 'file/report.html'), 'x')).rejects.toThrow(
      'a file, not a folder',
    );
    await expect(writeWhole(path.join(folder, 'x'.repeat(256)), 'x')).rejects.toThrow('name is too long');
    await writeWhole(path.join(folder, 'y'.repeat(255)), 'as long as a name may be');
    expect(readdirSync(folder).sort()).toEqual(['file', 'y'.repeat(255)]);
  });

  it('a link has its name: what it leads to is written, the link and the permissions stay', async () => {
    const folder = folderOf({ 'kept/report.html': 'former' });
    chmodSync(path.join(folder, 'kept/report.html'), 0o640);
    symlinkSync('kept/report.html', path.join(folder, 'link'));
    await writeWhole(path.join(folder, 'link'), 'new');
    expect(readFileSync(path.join(folder, 'kept/report.html'), 'utf8')).toBe('new');
    expect(statSync(path.join(folder, 'kept/report.html')).mode & 0o777).toBe(0o640);
    expect(readdirSync(path.join(folder, 'kept'))).toEqual(['report.html']);
  });

  it('one process writes it twenty times at once', async () => {
    const folder = folderOf();
    const target = path.join(folder, 'report.html');
    const contents = Array.from({ length: 20 }, (_, index) => String(index).repeat(200_000));
    await Promise.all(contents.map((content) => writeWhole(target, content)));
    expect(contents).toContain(readFileSync(target, 'utf8'));
    expect(readdirSync(folder)).toEqual(['report.html']);
  });
});

describe.skipIf(isWindows)('another process', () => {
  /** A program that writes `letter` a million times into `target`, again and again, until it is killed or has done it `times`. */
  async function writer(): Promise<string> {
    const folder = folderOf();
    const outfile = path.join(folder, 'writer.mjs');
    const source = fileURLToPath(new URL('../../src/cli/writeWhole.ts', import.meta.url));
    const contents = `import { writeWhole } from ${JSON.stringify(source)};
      const [target, letter, times] = process.argv.slice(2);
      for (let k = 0; k < Number(times); k++) {
        await writeWhole(target, letter.repeat(1_000_000));
        if (k === 0) console.log('once');
      }`;
    await build({
      stdin: { contents, resolveDir: folder },
      bundle: true,
      platform: 'node',
      format: 'esm',
      outfile,
      logLevel: 'error',
    });
    return outfile;
  }

  const isWhole = (file: string): boolean => /^(?:a{1000000}|b{1000000})$/.test(readFileSync(file, 'utf8'));

  it('writes the same file at once: one whole file is left', async () => {
    const program = await writer();
    const folder = folderOf();
    const target = path.join(folder, 'out.csv');
    const statuses = await Promise.all(
      ['a', 'b'].map(
        (letter) =>
          new Promise((resolve) =>
            spawn(process.execPath, [program, target, letter, '10']).on('close', resolve),
          ),
      ),
    );
    expect(statuses).toEqual([0, 0]);
    expect(isWhole(target)).toBe(true);
    expect(readdirSync(folder)).toEqual(['out.csv']);
  });

  it('is killed while it writes: the former file or the new one is there, whole', async () => {
    const program = await writer();
    const folder = folderOf();
    const target = path.join(folder, 'out.csv');
    for (const letter of ['a', 'b', 'a']) {
      const child = spawn(process.execPath, [program, target, letter, '1000000']);
      await new Promise((resolve) => child.stdout.once('data', resolve));
      child.kill('SIGKILL');
      await new Promise((resolve) => child.on('close', resolve));
      expect(isWhole(target)).toBe(true);
    }
  });
});

describe.skipIf(isWindows)('a command that cannot write says so and answers 2:', () => {
  const files = campaign();
  const csv = files['s.csv']!;
  const commands: readonly (readonly string[])[] = [
    ['report', 'c.sweepbook', '--out', 'locked/r.html'],
    ['report', 'c.sweepbook', '--out', 'locked/r.pdf'],
    ['report', 'c.sweepbook', '--out', 'locked/r.md'],
    ['check', '--write-results', 'locked/results.txt', 'c.sweepbook'],
    ['export', 'c.sweepbook', '--to', 'locked', '--format', 'csv'],
    ['export', 'c.sweepbook', '--to', 'locked/new', '--format', 'csv'],
    ['coefficients', 'c.sweepbook', 'S', '--out', 'locked/page.html'],
    [
      'bring-in',
      'new.csv',
      '--into',
      'locked/d.sweepbook',
      '--address',
      'S',
      '--time',
      '2026-05-14 11:42',
      '--irradiance',
      '850 W/m2',
      '--temperature',
      '48 degC cell',
      '--root',
      '.',
    ],
  ];

  it.each(commands.map((command) => [command.slice(0, 4).join(' '), command] as const))(
    '%s',
    async (_name, command) => {
      const folder = openFolder({ ...files, 'new.csv': csv, 'locked/d.sweepbook': files['c.sweepbook']! });
      if (command[0] === 'export') rmSync(path.join(folder, 'locked/d.sweepbook'));
      const before = readdirSync(path.join(folder, 'locked'));
      chmodSync(path.join(folder, 'locked'), 0o555);
      const { status, error } = await asNobody(() => shell(folder, command));
      expect(error).toContain('this user may not write there');
      expect(error).not.toContain('    at ');
      expect(status).toBe(2);
      expect(readdirSync(path.join(folder, 'locked'))).toEqual(before);
      if (existsSync(path.join(folder, 'locked/d.sweepbook')))
        expect(readFileSync(path.join(folder, 'locked/d.sweepbook'), 'utf8')).toBe(files['c.sweepbook']);
    },
  );
});

it('what a killed program left behind goes with the next write, and nothing else does', async () => {
  const [old, young] = ['0', '1'].map((digit) => unfinishedName(digit.repeat(36)));
  const others = ['.sweepbook-notes.part', 'report.part', `${old}.kept`];
  const folder = folderOf(Object.fromEntries([old!, young!, ...others].map((name) => [name, 'x'])));
  const twoHoursAgo = Date.now() / 1000 - 7200;
  for (const name of [old!, ...others]) utimesSync(path.join(folder, name), twoHoursAgo, twoHoursAgo);
  await writeWhole(path.join(folder, 'report.html'), 'new');
  expect(readdirSync(folder).sort()).toEqual([young!, ...others, 'report.html'].sort());
});
