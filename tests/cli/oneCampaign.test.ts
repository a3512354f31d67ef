/** One campaign of many sweeps: how far it is stands on the terminal, and it stops at any time. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readdirSync, readFileSync, rmSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Io } from '../../src/cli/io.js';
import { generateCampaign } from '../bench/generate.js';
import { builtProgram } from './builtProgram.js';
import { inFolder, keptFolderOf, shell } from './runInFolder.js';

const sweeps = 240;
let folder: string;

beforeAll(() => {
  const { text, files } = generateCampaign(sweeps, 24);
  const tables = Object.fromEntries(
    [...files].map(([name, bytes]) => [name, new TextDecoder().decode(bytes)]),
  );
  const rows = Object.entries(tables).flatMap(([name, table]) =>
    table
      .split('\n')
      .slice(1, -1)
      .map((row) => `${name.replace('.csv', '')},2026-05-14 11:00,880,45,${row}`),
  );
  const blocks = text
    .replace(/^sweep .*\n(?: {2}.*\n)*/gm, '')
    .concat('sweeps from "all.csv"\n  address "string"\n  time "time"\n  temperature cell\n  with T, R\n');
  folder = keptFolderOf({
    ...tables,
    'c.sweepbook': text,
    'later.sweepbook': text.replace(/temperature \S+ degC/, 'temperature 40 degC'),
    ...inFolder('table', {
      'c.sweepbook': blocks,
      'all.csv': `string,time,G (W/m2),T (degC),Voltage (V),Current (A)\n${rows.join('\n')}\n`,
    }),
  });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('the line that says how far a campaign is', () => {
  const terminal: Partial<Io> = { errorTerminal: { columns: () => 80 } };
  const linesOf = (error: string): string[] => error.split('\r\u001b[2K').filter((line) => line !== '');

  it.each(['c.sweepbook', 'table/c.sweepbook'])(
    'counts the sweeps of %s through each step, and is gone at the end',
    async (file) => {
      const { out, error } = await shell(folder, ['check', file], terminal);
      const lines = linesOf(error);
      const steps = lines.map((line) =>
        /^(\d+) of 240 sweeps (analysed|diagnosed)(?:, about \d+ \w+ left)?$/.exec(line)!,
      );
      expect(steps[0]!.slice(1)).toEqual(['1', 'analysed']);
      const seen = steps.map(([, done, step]) => Number(done) + (step === 'diagnosed' ? sweeps : 0));
      expect(seen).toEqual([...seen].sort((a, b) => a - b));
      expect(seen.at(-1)).toBeGreaterThan(sweeps);
      expect(error).toMatch(/\r\u001b\[2K$/);
      expect(out).toBe((await shell(folder, ['check', file])).out);
    },
  );

  it.each([
    ['report', 'c.sweepbook', '--format', 'text', '--content', 'faults'],
    ['export', 'c.sweepbook', '--to', 'exported', '--format', 'csv'],
    ['diff', 'c.sweepbook', 'later.sweepbook'],
  ])('stands there for %s too', async (...args) => {
    const { error } = await shell(folder, args, terminal);
    expect(linesOf(error)[0]).toBe('1 of 240 sweeps analysed');
    expect(error).toMatch(/\r\u001b\[2K$/);
  });

  it.each<[string, readonly string[], Partial<Io>]>([
    ['--no-progress is given', ['--no-progress'], terminal],
    ['the stream is no terminal', [], {}],
    ['a build server runs it', [], { ...terminal, environment: { CI: 'true' } }],
  ])('is left out where %s', async (_name, args, io) => {
    expect((await shell(folder, ['check', 'c.sweepbook', ...args], io)).error).toBe('');
  });
});

describe.skipIf(process.platform === 'win32')('the built program', () => {
  const built = builtProgram(['cli', 'analyst']);
  const lone = builtProgram();
  let large: string;
  beforeAll(() => {
    const { text, files } = generateCampaign(600);
    const tables = Object.fromEntries(
      [...files].map(([name, bytes]) => [name, new TextDecoder().decode(bytes)]),
    );
    large = keptFolderOf({ ...tables, 'c.sweepbook': text, 'results.txt': 'committed\n' });
  });
  afterAll(() => rmSync(large, { recursive: true, force: true }));

  it.each([
    ['SIGINT', 130, 'with analysts', built],
    ['SIGTERM', 143, 'with analysts', built],
    ['SIGINT', 130, 'alone', lone],
  ] as const)(
    'stops at %s with status %i %s, and has written nothing',
    async (signal, status, _how, { program }) => {
      // Takes the pipe for a terminal, so that it says when it is at work.
      const terminal = 'data:text/javascript,process.stderr.isTTY=true;process.stderr.columns=80';
      const args = ['--import', terminal, program, 'check', 'c.sweepbook', '--no-cache'];
      const child = spawn(process.execPath, [...args, '--write-results', 'results.txt'], {
        cwd: large,
        env: { ...process.env, CI: '', TERM: 'xterm' },
      });
      let [out, error] = ['', ''];
      child.stdout.on('data', (piece: Buffer) => (out += piece.toString()));
      child.stderr.on('data', (piece: Buffer) => {
        if (error === '') child.kill(signal);
        error += piece.toString();
      });
      expect(await once(child, 'close')).toEqual([status, null]);
      expect(error).toMatch(/^\d+ of 600 sweeps analysed/);
      expect(error.split('\r\u001b[2K').at(-1)).toBe(
        'Stopped before the campaign was computed; nothing was written.\n',
      );
      expect(out).toBe('');
      expect(readFileSync(path.join(large, 'results.txt'), 'utf8')).toBe('committed\n');
      expect(readdirSync(large).filter((name) => name.endsWith('.part'))).toEqual([]);
    },
  );
});
