/** What a shell gets of `report`: formats, where they go, refusals, and a run that is broken off. */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { generateCampaign } from '../bench/generate.js';
import { campaign, folderOf, shell } from './runInFolder.js';

const start = (file: string): string => readFileSync(file, 'latin1').slice(0, 200);

describe('report', () => {
  it.each([
    ['r.html', /^<!doctype html>/],
    ['r.pdf', /^%PDF-1\.7/],
    ['r.md', /^Test report/],
    ['r.txt', /^Test report/],
    ['of-no-kind', /^<!doctype html>/],
  ])('knows the format from the name of the file: %s', async (name, head) => {
    const folder = folderOf(campaign());
    const { status, out, error } = await shell(folder, ['report', 'c.sweepbook', '-o', name]);
    expect({ status, error }).toEqual({ status: 0, error: '' });
    expect(out).toContain(name);
    expect(start(path.join(folder, name))).toMatch(head);
    expect(readdirSync(folder).sort()).toEqual(['c.sweepbook', name, 's.csv'].sort());
  });

  it('writes no page into a file whose name promises something else, unless the format is given', async () => {
    const folder = folderOf(campaign());
    const args = ['report', 'c.sweepbook', '--out', 'r.docx'];
    const refused = await shell(folder, args);
    expect(refused).toEqual({
      status: 3,
      out: '',
      error:
        '--out r.docx: no report ends so; name a file that ends in .html, .pdf, .md or .txt, or give --format\n',
    });
    expect(existsSync(path.join(folder, 'r.docx'))).toBe(false);
    expect((await shell(folder, [...args, '--format', 'html'])).status).toBe(0);
    expect(start(path.join(folder, 'r.docx'))).toMatch(/^<!doctype html>/);
  });

  it('writes a PDF beside the campaign, and Markdown and text to the terminal', async () => {
    const folder = folderOf(campaign());
    await shell(folder, ['report', 'c.sweepbook', '--format', 'pdf']);
    expect(start(path.join(folder, 'c.pdf'))).toMatch(/^%PDF/);
    const markdown = await shell(folder, ['report', 'c.sweepbook', '--format', 'markdown']);
    expect(markdown.out).toMatch(/^# A campaign$/m);
    const text = await shell(folder, ['report', 'c.sweepbook', '--format', 'text', '--language', 'de']);
    expect(text.out).toContain('Von 1 Strang: 1 bestanden.');
    expect(existsSync(path.join(folder, 'c.md'))).toBe(false);
  });

  it('answers by the verdicts whatever it holds', async () => {
    const folder = folderOf(campaign({ level: 0.9 }));
    const args = ['report', 'c.sweepbook', '--format', 'text'];
    expect((await shell(folder, args)).status).toBe(1);
    const faults = await shell(folder, [...args, '--content', 'faults']);
    expect(faults.status).toBe(1);
    expect(faults.out).toContain('Fault list for the repair');
    expect(faults.out).toContain('1500 V DC');
  });

  it('of faults without one: neither cautions nor lines to sign', async () => {
    const args = ['report', 'c.sweepbook', '--format', 'text', '--content', 'faults'];
    const { out } = await shell(folderOf(campaign()), args);
    expect(out).toContain('No fault is open.');
    expect(out).not.toMatch(/1500 V DC|Repaired by/);
  });

  it('names strings that were not measured, with the mark of what is not judged', async () => {
    const folder = folderOf(campaign({ more: 'string T1 .. T4\n  modules 2 x M' }));
    const { status, out } = await shell(folder, ['report', 'c.sweepbook', '--format', 'text']);
    expect(status).toBe(0);
    expect(out).toMatch(/^What to do next\n-+\n\n- 4 strings were not measured: T1 \.\. T4\.$/m);
    expect(out).toMatch(/^T4 .* ○ not judged/m);
    const german = ['report', 'c.sweepbook', '--format', 'text', '--language', 'de'];
    expect((await shell(folder, german)).out).toContain('4 Stränge wurden nicht gemessen: T1 .. T4.');
    const check = await shell(folder, ['check', 'c.sweepbook']);
    expect(check).toMatchObject({ status: 0 });
    expect(check.out).toMatch(/^1 sweep: 1 pass\n4 strings were not measured: T1 \.\. T4\.$/m);
    const markdown = await shell(folder, ['check', 'c.sweepbook', '--format', 'markdown']);
    expect(markdown.out).toContain('\n4 strings were not measured');
  });

  it('of one string: that one, or what is wrong with the name', async () => {
    const folder = folderOf(campaign());
    const args = ['report', 'c.sweepbook', '--format', 'text'];
    expect((await shell(folder, [...args, '--string', 'S'])).out).toMatch(/^Test report of one string/);
    const unknown = await shell(folder, [...args, '--string', 's']);
    expect(unknown.status).toBe(3);
    expect(unknown.error).toContain('--string s: the campaign has no such string');
    expect((await shell(folder, [...args, '--string', 'S', '--content', 'faults'])).status).toBe(3);
  });

  it.each([
    ['--format', 'docx'],
    ['--paper', 'A3'],
    ['--language', 'xx'],
    ['--content', 'some'],
  ])('refuses %s %s and says what there is', async (option, value) => {
    const { status, error } = await shell(folderOf(campaign()), ['report', 'c.sweepbook', option, value]);
    expect(status).toBe(3);
    expect(error).toContain('Allowed choices');
  });
});

describe.skipIf(process.platform === 'win32')('broken off with Ctrl-C', () => {
  it('leaves the former file as it was, and nothing else', async () => {
    const built = mkdtempSync(path.join(tmpdir(), 'sweepbook-built-'));
    try {
      const project = fileURLToPath(new URL('../..', import.meta.url));
      const build = ['esbuild.mjs', '--only', 'cli', '--quiet', '--into', built];
      expect(spawnSync(process.execPath, build, { cwd: project })).toMatchObject({ status: 0 });
      const folder = folderOf();
      const { text, files } = generateCampaign(150);
      writeFileSync(path.join(folder, 'c.sweepbook'), text);
      for (const [name, bytes] of files) writeFileSync(path.join(folder, name), bytes);
      writeFileSync(path.join(folder, 'c.pdf'), 'former');
      const before = readdirSync(folder).sort();
      const args = [path.join(built, 'cli.mjs'), 'report', 'c.sweepbook', '-o', 'c.pdf'];
      const run = spawn(process.execPath, args, { cwd: folder, stdio: ['ignore', 'ignore', 'pipe'] });
      const told: string[] = [];
      const signal = await new Promise((resolve) => {
        run.stderr.on('data', (chunk: Buffer) => {
          told.push(chunk.toString());
          // It has told how far it is, and is at work.
          run.kill('SIGINT');
        });
        run.on('exit', (_code, by) => resolve(by));
      });
      expect(signal).toBe('SIGINT');
      expect(told.join('')).toMatch(/^0 % of 300 curves drawn/);
      expect(readFileSync(path.join(folder, 'c.pdf'), 'utf8')).toBe('former');
      expect(readdirSync(folder).sort()).toEqual(before);
    } finally {
      rmSync(built, { recursive: true, force: true });
    }
  }, 60_000);
});
