/** `check` over many campaigns: printed one by one in a stable order, computed beside each other, stopped at any time. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import path from 'node:path';
import { Worker } from 'node:worker_threads';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { answerCampaigns, type CampaignOutcome } from '../../src/cli/answerCampaigns.js';
import type { CampaignJob } from '../../src/cli/campaignAnswer.js';
import { Crew } from '../../src/cli/campaignThreads.js';
import { checkFormats, type CheckForm } from '../../src/cli/checkForms.js';
import type { Io } from '../../src/cli/io.js';
import { generateCampaign } from '../bench/generate.js';
import { builtProgram, project } from './builtProgram.js';
import { campaign, folderOf, inFolder, keptFolderOf, shell } from './runInFolder.js';

const text: CheckForm = { format: 'text', colour: false, ascii: false, fit: false };
const jobOf = (folder: string, name: string): CampaignJob => ({
  place: { file: path.join(folder, name), root: folder, workingFolder: folder },
  form: text,
});

/** Campaigns `00`, `01` and so on, each with a title of its own. */
function numbered(count: number): Record<string, string> {
  const files = campaign();
  return Object.assign(
    {},
    ...Array.from({ length: count }, (_, index) => {
      const name = String(index).padStart(2, '0');
      const titled = files['c.sweepbook']!.replace('A campaign', `Number ${name}`);
      return inFolder(name, { ...files, 'c.sweepbook': titled });
    }),
  ) as Record<string, string>;
}

const titlesIn = (out: string): string[] => [...out.matchAll(/Number (\d\d)/g)].map(([, name]) => name!);

describe('several campaigns', () => {
  it('are printed in the order of their names, each before a later one is read', async () => {
    const folder = folderOf(numbered(4));
    const last = path.join(folder, '03/c.sweepbook');
    let out = '';
    const { status } = await shell(folder, ['check', '.'], {
      out: (piece) => {
        if (out === '') writeFileSync(last, readFileSync(last, 'utf8').replace('Number 03', 'Number 99'));
        out += piece;
      },
    });
    expect(status).toBe(0);
    expect(titlesIn(out)).toEqual(['00', '01', '02', '99']);
  });

  it('are one valid list as JSON, as one call writes it; none are an empty one', async () => {
    const folder = folderOf(numbered(3));
    const { out } = await shell(folder, ['check', '--format', 'json', '.']);
    expect(out).toBe(`${JSON.stringify(JSON.parse(out), null, 2)}\n`);
    const each = ['00', '01', '02'].map((name) => shell(folder, ['check', '--format', 'json', name]));
    expect(JSON.parse(out)).toEqual((await Promise.all(each)).map((one) => JSON.parse(one.out) as unknown));
    expect((await shell(folderOf(), ['check', '--format', 'json', '.'])).out).toBe('[]\n');
  });
});

describe('the line that says how far a run is', () => {
  const watched = async (
    args: readonly string[],
    { columns = 80, ...more }: Partial<Io> & { columns?: number } = {},
  ) => {
    const folder = folderOf({ ...numbered(3), ...inFolder('weak', campaign({ level: 0.9 })) });
    return shell(folder, ['check', ...args], { errorTerminal: { columns: () => columns }, ...more });
  };

  /** What is left on a terminal, and every state of its last line. */
  function shown(written: string): { left: string; lines: string[] } {
    const pieces = written.split('\r\u001b[2K');
    return { left: pieces.at(-1)!, lines: pieces.filter((piece) => piece !== '') };
  }

  it('stands on the error stream where that is a terminal, and is gone at the end', async () => {
    const { out, error } = await watched(['.']);
    const { left, lines } = shown(error);
    expect(left).toBe('');
    expect(lines[0]).toBe('0 of 4 campaigns');
    expect(lines.at(-1)).toBe('4 of 4 campaigns, 1 failed');
    expect(out).not.toContain('of 4 campaigns');
  });

  it('leaves messages whole', async () => {
    const { error } = await watched(['.', 'gone']);
    expect(shown(error).left).toBe('gone: no campaign file there (looked for *.sweepbook)\n');
  });

  it('never breaks on a narrow terminal', async () => {
    const { error } = await watched(['.'], { columns: 12 });
    for (const line of shown(error).lines) expect(line.length).toBeLessThan(12);
  });

  it.each<[string, readonly string[], Partial<Io>]>([
    ['the stream is no terminal', ['.'], { errorTerminal: undefined }],
    ['--no-progress is given', ['.', '--no-progress'], {}],
    ['a build server runs it', ['.'], { environment: { CI: 'true' } }],
    ['the terminal is dumb', ['.'], { environment: { TERM: 'dumb' } }],
    ['there is one campaign of few sweeps', ['00'], {}],
  ])('is left out where %s', async (_name, args, more) => {
    expect((await watched(args, more)).error).toBe('');
  });
});

describe('a run that is interrupted', () => {
  const stopped = async (format: string, more: readonly string[] = []) => {
    const folder = folderOf({ ...numbered(4), 'results.txt': 'committed\n' });
    const controller = new AbortController();
    let out = '';
    const answer = await shell(folder, ['check', '--format', format, ...more, '.'], {
      interruption: () => controller.signal,
      out: (piece) => {
        out += piece;
        if (titlesIn(out).length >= 2) controller.abort('SIGINT');
      },
    });
    return { ...answer, out, folder };
  };

  it('has printed whole campaigns, says how many, and answers as shells do', async () => {
    const { status, out, error, folder } = await stopped('text');
    const first = await shell(folder, ['check', '00', '01']);
    expect({ status, out }).toEqual({ status: 130, out: first.out });
    expect(error).toBe('Stopped after 2 of 4 campaigns; nothing else was written.\n');
  });

  it('has printed a valid list as JSON', async () => {
    const { status, out } = await stopped('json');
    expect(status).toBe(130);
    expect(JSON.parse(out)).toHaveLength(2);
  });

  it('leaves the results that are written at the end as they were', async () => {
    const { status, folder } = await stopped('text', ['--write-results', 'results.txt']);
    expect(status).toBe(130);
    expect(readFileSync(path.join(folder, 'results.txt'), 'utf8')).toBe('committed\n');
  });

  it.each(['junit', 'sarif', 'gitlab'])(
    'prints nothing that would pass for all of it as %s',
    async (format) => {
      const controller = new AbortController();
      controller.abort('SIGTERM');
      const { status, out } = await shell(folderOf(numbered(2)), ['check', '--format', format, '.'], {
        interruption: () => controller.signal,
      });
      expect({ status, out }).toEqual({ status: 143, out: '' });
    },
  );
});

describe('threads', () => {
  /** Answers with the name of the file; with one of some names it breaks down in its own way. */
  const stand = `
    const { parentPort } = require('node:worker_threads');
    parentPort.on('message', ({ place }) => {
      const name = place.file.split(/[\\\\/]/).at(-1);
      if (name === 'throws') throw new Error('a fault of the program');
      if (name === 'ends') process.exit(7);
      if (name === 'memory') { const all = []; for (;;) all.push(new Array(100000).fill(0)); }
      if (name === 'hangs') return;
      setTimeout(() => parentPort.postMessage(name === 'fails' ? { failure: 'it could not' }
        : { answer: { part: name, tally: { open: 0, judged: 1, errors: 0 }, results: [], read: [] } }), 5);
    });`;

  async function outcomesOf(names: readonly string[], signal?: AbortSignal) {
    let started = 0;
    const start = (): Worker => {
      started++;
      return new Worker(stand, { eval: true, resourceLimits: { maxOldGenerationSizeMb: 16 } });
    };
    const jobs = names.map((name) => jobOf('/nowhere', name));
    const outcomes: CampaignOutcome[] = [];
    for await (const outcome of answerCampaigns(jobs, { threads: { start, patience: 0 }, signal }))
      outcomes.push(outcome);
    return { outcomes, started };
  }

  const names = (count: number): string[] => Array.from({ length: count }, (_, index) => `c${index}`);

  it('answer in the order in which they were asked, and no more are started than the machine has', async () => {
    const { outcomes, started } = await outcomesOf(names(60));
    // The first was begun in this thread, where there is no such file.
    expect(outcomes.slice(1).map(({ answer }) => answer?.part)).toEqual(names(60).slice(1));
    expect(started).toBeLessThanOrEqual(availableParallelism());
    expect(started).toBeGreaterThan(0);
  });

  it.each([
    ['throws', 'a fault of the program'],
    ['ends', 'its thread ended with 7'],
    ['memory', 'memory limit'],
    ['fails', 'it could not'],
  ])('that break down cost one campaign: one that %s', async (name, why) => {
    const all = ['first', ...names(6), name, ...names(6)];
    const { outcomes } = await outcomesOf(all);
    expect(outcomes.filter(({ failure }) => failure !== undefined)).toEqual([
      { file: path.join('/nowhere', name), failure: expect.stringContaining(why) as string },
    ]);
    expect(outcomes).toHaveLength(all.length);
  });

  it('are ended when all is given up, whatever they do', async () => {
    const controller = new AbortController();
    setTimeout(() => controller.abort(), 300);
    const { outcomes } = await outcomesOf(['first', 'hangs', 'hangs', 'c1', 'hangs'], controller.signal);
    expect(outcomes.length).toBeLessThan(5);
  });

  it('take one campaign at a time', async () => {
    let [now, most] = [0, 0];
    const job = jobOf('/nowhere', 'c');
    const start = (): Worker => {
      const worker = new Worker(stand, { eval: true });
      const post = worker.postMessage.bind(worker);
      worker.postMessage = (message: unknown) => {
        most = Math.max(most, ++now);
        worker.once('message', () => now--);
        post(message);
      };
      return worker;
    };
    const crew = new Crew({ start, count: 2, patience: 0 });
    onTestFinished(() => crew.close());
    await Promise.all(Array.from({ length: 20 }, () => crew.run(job)));
    expect(most).toBe(2);
  });

  it('whose campaign broke down are told in one message, and the run goes on', async () => {
    const folder = folderOf(numbered(6));
    const breaking = `require('node:worker_threads').parentPort.on('message', () => process.exit(7));`;
    const { status, out, error } = await shell(folder, ['check', '.'], {
      threads: { start: () => new Worker(breaking, { eval: true }), patience: 0 },
    });
    expect(titlesIn(out)).toEqual(['00']);
    expect(error.split('\n').slice(0, -1)).toEqual(
      ['01', '02', '03', '04', '05'].map(
        (name) =>
          `${name}/c.sweepbook: could not be computed, through no fault of its text (its thread ended with 7)`,
      ),
    );
    expect(status).toBe(2);
  });

  it('that cannot be started are done without', async () => {
    const folder = folderOf(numbered(4));
    const none = (): Worker => {
      throw new Error('no more threads on this machine');
    };
    const answer = await shell(folder, ['check', '.'], { threads: { start: none, patience: 0 } });
    expect(answer).toEqual(await shell(folder, ['check', '.']));
  });
});

describe('the built program', () => {
  const built = builtProgram();
  let folder: string;
  const sites = 24;
  beforeAll(() => {
    const { text: generated, files } = generateCampaign(12);
    const tables = Object.fromEntries(
      [...files].map(([name, bytes]) => [name, new TextDecoder().decode(bytes)]),
    );
    const all: Record<string, string> = { 'results.txt': 'committed\n' };
    for (let index = 0; index < sites; index++) {
      const named = generated.replace('Generated for measuring', `Number ${10 + index}`);
      Object.assign(all, inFolder(`${10 + index}`, { ...tables, 'c.sweepbook': named }));
    }
    folder = keptFolderOf(all);
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it.each(checkFormats)('in threads says the same as one after the other, as %s', async (format) => {
    const examples = ['harrow-fen-sample', 'mistakes', 'electrical-tests'].map((name) => `examples/${name}`);
    const args = ['check', '--format', format, '--ascii', ...examples];
    let started = 0;
    const alone = await shell(project, args);
    const outcome = await shell(project, args, {
      threads: {
        start: () => {
          started++;
          return new Worker(built.program);
        },
        patience: 0,
      },
    });
    expect(outcome).toEqual(alone);
    expect(started).toBeGreaterThan(0);
  });

  it.skipIf(process.platform === 'win32').each([
    ['SIGINT', 130],
    ['SIGTERM', 143],
  ] as const)('stops at %s with status %i, and what it printed is whole', async (signal, status) => {
    const args = [built.program, 'check', '.', '--no-cache', '--write-results', 'results.txt'];
    const child = spawn(process.execPath, args, { cwd: folder });
    let [out, error] = ['', ''];
    child.stdout.on('data', (piece: Buffer) => {
      if (out === '') child.kill(signal);
      out += piece.toString();
    });
    child.stderr.on('data', (piece: Buffer) => (error += piece.toString()));
    const ended = await new Promise((resolve) => child.once('close', resolve));
    expect(ended).toBe(status);
    expect(error).toMatch(
      new RegExp(`^Stopped after \\d+ of ${sites} campaigns; nothing else was written\\.\n$`),
    );
    const done = Number(/\d+/.exec(error)![0]);
    expect(done).toBeLessThan(sites);
    expect(titlesIn(out)).toEqual(Array.from({ length: done }, (_, index) => String(10 + index)));
    expect(out).toMatch(/\n$/);
    expect(readFileSync(path.join(folder, 'results.txt'), 'utf8')).toBe('committed\n');
  });

  it.skipIf(process.platform === 'win32')(
    'ends at once and says nothing, with status 141, when its reader has enough',
    async () => {
      const args = ['check', '.', '--cache', 'kept', '--write-results', 'results.txt'];
      const child = spawn(process.execPath, [built.program, ...args], { cwd: folder });
      let error = '';
      child.stderr.on('data', (piece: Buffer) => (error += piece.toString()));
      child.stdout.once('data', () => child.stdout.destroy());
      expect(await once(child, 'close')).toEqual([141, null]);
      expect(error).toBe('');
      expect(readdirSync(path.join(folder, 'kept')).length).toBeLessThan(sites);
      expect(readFileSync(path.join(folder, 'results.txt'), 'utf8')).toBe('committed\n');
    },
  );

  it
    .skipIf(process.platform === 'win32')
    .each([['schema'], ['check', '10'], ['report', '10/c.sweepbook', '--format', 'text']])(
    'answers 141 where nobody reads what %s prints',
    async (...args) => {
      const child = spawn(process.execPath, [built.program, ...args], { cwd: folder });
      let error = '';
      child.stderr.on('data', (piece: Buffer) => (error += piece.toString()));
      child.stdout.destroy();
      expect(await once(child, 'close')).toEqual([141, null]);
      expect(error).toBe('');
    },
  );
});
