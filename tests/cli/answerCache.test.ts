/** Answers that are kept: the same to the byte with and without, whatever happens to the folder. */
import { execFileSync, spawn } from 'node:child_process';
import { createHash, randomUUID } from 'node:crypto';
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { beforeAll, afterAll, describe, expect, it, onTestFinished } from 'vitest';
import { AnswerCache } from '../../src/cli/answerCache.js';
import { answerJob, type CampaignAnswer, type CampaignJob } from '../../src/cli/campaignAnswer.js';
import { checkFormats, type CheckForm } from '../../src/cli/checkForms.js';
import { RecordedFiles } from '../../src/cli/recordedFiles.js';
import { unfinishedName } from '../../src/workspace/unfinishedFiles.js';
import { builtProgram, project } from './builtProgram.js';
import { asNobody, smallDisk } from './disks.js';
import { campaign, folderOf, inFolder, keptFolderOf, shell } from './runInFolder.js';

const isWindows = process.platform === 'win32';
const text: CheckForm = { format: 'text', colour: false, ascii: false, fit: false };

function jobOf(
  folder: string,
  { form = text, name = 'c.sweepbook', root = folder, workingFolder = folder } = {},
) {
  return { place: { file: path.join(folder, name), root, workingFolder }, form } satisfies CampaignJob;
}

const cacheIn = (folder: string, more: { program?: string; limitBytes?: number } = {}): AnswerCache =>
  new AnswerCache({ folder, program: 'p', ...more });

/** Computes and keeps. */
async function keep(
  folder: string,
  job: CampaignJob,
  more?: Parameters<typeof cacheIn>[1],
): Promise<CampaignAnswer> {
  const cache = cacheIn(folder, more);
  const answer = await answerJob(job);
  cache.keep(job, answer);
  await cache.close();
  return answer;
}

async function found(folder: string, job: CampaignJob, more?: Parameters<typeof cacheIn>[1]) {
  const cache = cacheIn(folder, more);
  const answer = await cache.find(job);
  await cache.close();
  return answer;
}

const answersIn = (folder: string): string[] =>
  readdirSync(folder).filter((name) => name.endsWith('.answer'));

/** A campaign with all that one can be read from: an include, a table, an earlier campaign, and files that are not there. */
function everything(): Record<string, string> {
  const files = campaign();
  const [head, ...rest] = files['c.sweepbook']!.split('\n\n');
  return {
    'c.sweepbook': [
      'include "lib.sweepbook"',
      'include "gone.sweepbook"',
      `${head}\n  compare "earlier/c.sweepbook"`,
      ...rest.slice(1),
      'sweep S at 2026-05-14 12:42\n  irradiance 850 W/m2\n  temperature 48 degC cell\n  data "gone.csv"\n',
    ].join('\n\n'),
    'lib.sweepbook': `${rest[0]!}\n`,
    's.csv': files['s.csv']!,
    ...inFolder('earlier', campaign()),
  };
}

describe('an answer is taken', () => {
  it('while everything that was read is the same, whatever the times of the files', async () => {
    const folder = folderOf(everything());
    const answer = await keep(path.join(folder, 'kept'), jobOf(folder));
    for (const name of ['c.sweepbook', 'lib.sweepbook', 's.csv', 'earlier/c.sweepbook', 'earlier/s.csv'])
      utimesSync(path.join(folder, name), 1, 1);
    expect(await found(path.join(folder, 'kept'), jobOf(folder))).toEqual(answer);
    expect(answer.read.map(({ file }) => path.relative(folder, file)).sort()).toEqual(
      [...Object.keys(everything()), 'gone.csv', 'gone.sweepbook'].map((name) => path.normalize(name)).sort(),
    );
  });

  it.each<[string, (folder: string) => void]>([
    ['the campaign', (folder) => writeFileSync(path.join(folder, 'c.sweepbook'), 'campaign d\n')],
    ['an included file', (folder) => writeFileSync(path.join(folder, 'lib.sweepbook'), '# other\n')],
    ['a table', (folder) => writeFileSync(path.join(folder, 's.csv'), 'V,A\n1,2\n')],
    ['an earlier campaign', (folder) => writeFileSync(path.join(folder, 'earlier/c.sweepbook'), '')],
    ['a table of an earlier campaign', (folder) => rmSync(path.join(folder, 'earlier/s.csv'))],
    [
      'a table that was missing',
      (folder) => cpSync(path.join(folder, 's.csv'), path.join(folder, 'gone.csv')),
    ],
    ['an include that was missing', (folder) => writeFileSync(path.join(folder, 'gone.sweepbook'), '')],
    [
      'one byte of a table, with its size and its time kept',
      (folder) => {
        const table = path.join(folder, 's.csv');
        const { mtime, size } = statSync(table);
        const csv = readFileSync(table, 'utf8');
        writeFileSync(
          table,
          csv.replace(/\d(?=\n)/, (digit) => (digit === '1' ? '2' : '1')),
        );
        utimesSync(table, mtime, mtime);
        expect(statSync(table).size).toBe(size);
        expect(readFileSync(table, 'utf8')).not.toBe(csv);
      },
    ],
  ])('no more once %s is another', async (_name, change) => {
    const folder = folderOf(everything());
    await keep(path.join(folder, 'kept'), jobOf(folder));
    change(folder);
    expect(await found(path.join(folder, 'kept'), jobOf(folder))).toBeUndefined();
  });

  it('for each state of a file that it was kept of', async () => {
    const folder = folderOf(campaign());
    const kept = path.join(folder, 'kept');
    const [first, other] = [campaign()['c.sweepbook']!, campaign({ more: '# other\n' })['c.sweepbook']!];
    for (const state of [first, other, first]) {
      writeFileSync(path.join(folder, 'c.sweepbook'), state);
      await keep(kept, jobOf(folder));
    }
    expect(answersIn(kept)).toHaveLength(2);
    expect(await found(kept, jobOf(folder))).toBeDefined();
  });

  it('in a clone elsewhere too', async () => {
    const [folder, clone] = [folderOf(campaign()), folderOf(campaign())];
    const kept = folderOf();
    const { part } = await keep(kept, jobOf(folder));
    const answer = await found(kept, jobOf(clone));
    expect(answer?.part).toBe(part);
    expect(answer?.read[0]?.file).toBe(path.join(clone, 'c.sweepbook'));
  });

  it('for the same form, place and program alone', async () => {
    const folder = folderOf(inFolder('a', campaign()));
    const kept = path.join(folder, 'kept');
    const at = path.join(folder, 'a');
    const whole = { root: folder, workingFolder: folder };
    await keep(kept, jobOf(at, whole));
    const others: CampaignJob[] = [
      jobOf(at, { ...whole, form: { ...text, ascii: true } }),
      jobOf(at, { ...whole, form: { ...text, colour: true } }),
      jobOf(at, { ...whole, form: { ...text, format: 'json' } }),
      jobOf(at, { ...whole, workingFolder: at }),
      jobOf(at, { ...whole, root: at }),
    ];
    for (const job of others) expect(await found(kept, job)).toBeUndefined();
    expect(await found(kept, jobOf(at, whole), { program: 'another build' })).toBeUndefined();
    expect(await found(kept, jobOf(at, whole))).toBeDefined();
  });
});

it('a file that changes between two reads of one evaluation makes an answer that is not kept', async () => {
  const folder = folderOf(campaign());
  const job = jobOf(folder);
  let reads = 0;
  const files = new RecordedFiles({
    read: () => Promise.resolve({ ok: true, bytes: new Uint8Array([reads++]) }),
    resolve: () => undefined,
    displayName: (file) => file,
  });
  await files.read(job.place.file, 1);
  await files.read(job.place.file, 1);
  const kept = path.join(folder, 'kept');
  const cache = cacheIn(kept);
  const answer = await answerJob(job);
  cache.keep(job, { ...answer, read: [...answer.read, ...files.answers] });
  await cache.close();
  expect(existsSync(kept)).toBe(false);
});

describe('what stands in the folder', () => {
  it('is taken whole or not at all, however it is torn or changed', async () => {
    const folder = folderOf(campaign());
    const kept = path.join(folder, 'kept');
    const answer = await keep(kept, jobOf(folder));
    const file = path.join(kept, answersIn(kept)[0]!);
    const whole = readFileSync(file);
    const damage = fc.oneof(
      fc.nat(whole.length - 1).map((length) => whole.subarray(0, length)),
      fc.tuple(fc.nat(whole.length - 1), fc.integer({ min: 1, max: 255 })).map(([at, by]) => {
        const bytes = Buffer.from(whole);
        bytes[at]! ^= by;
        return bytes;
      }),
      fc.uint8Array({ maxLength: 200 }).map((bytes) => Buffer.from(bytes)),
      fc.uint8Array({ minLength: 1, maxLength: 20 }).map((bytes) => Buffer.concat([whole, bytes])),
    );
    await fc.assert(
      fc.asyncProperty(damage, async (bytes) => {
        writeFileSync(file, bytes);
        expect(await found(kept, jobOf(folder))).toBeUndefined();
      }),
      { numRuns: 200 },
    );
    await keep(kept, jobOf(folder));
    expect(await found(kept, jobOf(folder))).toEqual(answer);
  });

  it('by another form of answers, though whole, is computed anew', async () => {
    const folder = folderOf(campaign());
    const kept = path.join(folder, 'kept');
    const job = jobOf(folder);
    const cache = cacheIn(kept);
    const answer = await answerJob(job);
    cache.keep(job, { ...answer, tally: { open: 'none' } } as unknown as CampaignAnswer);
    await cache.close();
    expect(answersIn(kept)).toHaveLength(1);
    expect(await found(kept, job)).toBeUndefined();
  });

  it('stays within its bounds: what was not used for longest goes, and only answers do', async () => {
    const folder = folderOf(
      Object.assign(
        {},
        ...['0', '1', '2', '3'].map((name) => inFolder(name, campaign({ more: `# ${name}\n` }))),
      ) as Record<string, string>,
    );
    const kept = path.join(folder, 'kept');
    mkdirSync(kept);
    const [old, fresh] = [unfinishedName(randomUUID()), unfinishedName(randomUUID())];
    for (const name of ['notes.txt', old, fresh]) writeFileSync(path.join(kept, name), 'x'.repeat(5000));
    utimesSync(path.join(kept, old), 1, 1);
    const jobs = ['0', '1', '2', '3'].map((name) => jobOf(path.join(folder, name)));
    await keep(kept, jobs[0]!);
    const { size } = statSync(path.join(kept, answersIn(kept)[0]!));
    for (const job of jobs.slice(1, 3)) {
      for (const name of answersIn(kept)) utimesSync(path.join(kept, name), 1000, 1000);
      await keep(kept, job);
    }
    for (const name of answersIn(kept)) utimesSync(path.join(kept, name), 1000, 1000);
    expect(await found(kept, jobs[0]!)).toBeDefined();
    await keep(kept, jobs[3]!, { limitBytes: 2.5 * size });
    expect(answersIn(kept)).toHaveLength(2);
    // Used last, and kept last.
    expect(await found(kept, jobs[0]!)).toBeDefined();
    expect(await found(kept, jobs[3]!)).toBeDefined();
    expect(
      readdirSync(kept)
        .filter((name) => !name.endsWith('.answer'))
        .sort(),
    ).toEqual([fresh, 'notes.txt']);
  });

  it.skipIf(isWindows)('is for this user alone, and is marked as a cache', async () => {
    const folder = folderOf(campaign());
    const kept = path.join(folder, 'deep/kept');
    await keep(kept, jobOf(folder));
    expect(statSync(kept).mode & 0o777).toBe(0o700);
    expect(readFileSync(path.join(kept, 'CACHEDIR.TAG'), 'utf8')).toMatch(
      /^Signature: 8a477f597d28d172789f06886806bc55\n/,
    );
  });
});

/** Twice with the folder, once without: the same to the byte. */
async function expectSame(folder: string, args: readonly string[], cache: string): Promise<void> {
  const without = await shell(folder, ['check', '--no-cache', ...args]);
  for (const time of ['first', 'second'])
    expect(await shell(folder, ['check', '--cache', cache, ...args]), time).toEqual(without);
}

describe.skipIf(isWindows)('a check goes on as without where the folder', () => {
  const unusable = async (prepare: (kept: string) => void, why: string) => {
    const folder = folderOf(campaign());
    const kept = path.join(folder, 'kept');
    prepare(kept);
    const without = await shell(folder, ['check', 'c.sweepbook']);
    const asked = await shell(folder, ['check', '--cache', 'kept', 'c.sweepbook']);
    expect(asked).toEqual({ ...without, error: `kept: answers could not be kept there (${why})\n` });
    // Nobody asked for this one.
    const environment = { SWEEPBOOK_CACHE: kept };
    expect(await shell(folder, ['check', 'c.sweepbook'], { environment })).toEqual(without);
    return kept;
  };

  it('is a file', () =>
    unusable((kept) => writeFileSync(kept, ''), 'a part of the path is a file, not a folder'));

  it('is a device', () =>
    unusable((kept) => symlinkSync('/dev/full', kept), 'a part of the path is a file, not a folder'));

  it('may only be read', async () => {
    const folder = folderOf(campaign());
    chmodSync(folder, 0o755);
    const kept = path.join(folder, 'kept');
    mkdirSync(kept, { mode: 0o555 });
    chmodSync(path.join(folder, 's.csv'), 0o644);
    await asNobody(async () => {
      const { status, error } = await shell(folder, ['check', '--cache', 'kept', 'c.sweepbook']);
      expect({ status, error }).toEqual({
        status: 0,
        error: 'kept: answers could not be kept there (this user may not write there)\n',
      });
    });
    expect(readdirSync(kept)).toEqual([]);
  });

  it('may only be read and holds the answer', async () => {
    const folder = folderOf(campaign());
    const kept = path.join(folder, 'kept');
    await keep(kept, jobOf(folder));
    chmodSync(folder, 0o755);
    chmodSync(kept, 0o555);
    await asNobody(async () => expect(await found(kept, jobOf(folder))).toBeDefined());
  });

  it('is on a disk that is full', async ({ skip }) => {
    const disk = smallDisk();
    if (disk === undefined) return skip('needs the right to mount a small disk');
    writeFileSync(path.join(disk, 'other'), 'x'.repeat(64 * 1024));
    const folder = folderOf(campaign());
    const without = await shell(folder, ['check', 'c.sweepbook']);
    const asked = await shell(folder, ['check', '--cache', disk, 'c.sweepbook']);
    expect(asked).toEqual({
      ...without,
      error: `${disk}: answers could not be kept there (the disk is full)\n`,
    });
    expect(readdirSync(disk)).toEqual(['other']);
  });

  it('holds folders, pipes, devices and links to themselves by the names of answers', async () => {
    const folder = folderOf(campaign());
    const kept = path.join(folder, 'kept');
    await keep(kept, jobOf(folder));
    const file = path.join(kept, answersIn(kept)[0]!);
    const without = await shell(folder, ['check', 'c.sweepbook']);
    for (const make of [
      () => mkdirSync(file),
      () => execFileSync('mkfifo', [file]),
      () => symlinkSync('/dev/zero', file),
      () => symlinkSync(path.basename(file), file),
      () => {
        writeFileSync(file, '');
        truncateSync(file, 10 * 1024 ** 3);
      },
    ]) {
      rmSync(file, { recursive: true });
      make();
      const { out, status } = await shell(folder, ['check', '--cache', 'kept', 'c.sweepbook']);
      expect({ out, status }).toEqual({ out: without.out, status: without.status });
    }
  });

  it('vanishes while the check runs', async () => {
    const folder = folderOf({ ...inFolder('a', campaign()), ...inFolder('b', campaign()) });
    const without = await shell(folder, ['check', '.']);
    let out = '';
    const { status } = await shell(folder, ['check', '--cache', 'kept', '.'], {
      out: (piece) => {
        rmSync(path.join(folder, 'kept'), { recursive: true, force: true });
        out += piece;
      },
    });
    expect({ status, out }).toEqual({ status: without.status, out: without.out });
  });
});

describe('with and without, the same to the byte:', () => {
  let folder: string;
  let kept: string;
  beforeAll(() => {
    folder = keptFolderOf({});
    kept = keptFolderOf({});
    for (const name of ['harrow-fen-sample', 'mistakes', 'electrical-tests'])
      cpSync(path.join(project, 'examples', name), path.join(folder, name), { recursive: true });
  });
  afterAll(() => [folder, kept].forEach((each) => rmSync(each, { recursive: true, force: true })));

  it.each(checkFormats)('the examples as %s', (format) =>
    expectSame(folder, ['--format', format, '.'], kept),
  );

  it('results that are written and compared', async () => {
    await expectSame(folder, ['--write-results', 'results.txt', 'electrical-tests'], kept);
    const written = readFileSync(path.join(folder, 'results.txt'), 'utf8');
    await shell(folder, ['check', '--no-cache', '--write-results', 'results.txt', 'electrical-tests']);
    expect(readFileSync(path.join(folder, 'results.txt'), 'utf8')).toBe(written);
    writeFileSync(path.join(folder, 'results.txt'), written.replace(/fail/, 'pass'));
    await expectSame(folder, ['--against', 'results.txt', 'electrical-tests'], kept);
  });

  it('a campaign that may not be overwritten by its own results', async () => {
    const file = 'electrical-tests/campaign.sweepbook';
    await expectSame(folder, ['--write-results', file, file], kept);
  });

  it('whatever is done to the files in between', async () => {
    const files = everything();
    const names = [
      'c.sweepbook',
      'lib.sweepbook',
      's.csv',
      'gone.csv',
      'gone.sweepbook',
      'earlier/c.sweepbook',
    ];
    const contents = [
      ...new Set(Object.values(files)),
      'campaign x\n',
      '"',
      '\0'.repeat(50),
      'V,A\n1e308,1e-320\n',
    ];
    const step = fc.tuple(fc.constantFrom(...names), fc.option(fc.constantFrom(...contents)));
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 4 }), async (steps) => {
        const place = keptFolderOf(files);
        try {
          for (const [name, content] of steps) {
            if (content === null) rmSync(path.join(place, name), { force: true });
            else writeFileSync(path.join(place, name), content);
            await expectSame(place, ['c.sweepbook'], kept);
          }
        } finally {
          rmSync(place, { recursive: true, force: true });
        }
      }),
      { numRuns: 15 },
    );
  });
});

describe('the built program', () => {
  const built = builtProgram();

  const call = (folder: string, environment: NodeJS.ProcessEnv, ...args: string[]) =>
    new Promise<{ status: number | null; out: string; error: string }>((resolve) => {
      const child = spawn(process.execPath, [built.program, 'check', ...args], {
        cwd: folder,
        env: environment,
      });
      let [out, error] = ['', ''];
      child.stdout.on('data', (piece: Buffer) => (out += piece.toString()));
      child.stderr.on('data', (piece: Buffer) => (error += piece.toString()));
      child.on('close', (status) => resolve({ status, out, error }));
    });

  it('twice at once with one folder: both are right, and the folder is whole', async () => {
    const folder = folderOf({ ...inFolder('a', campaign()), ...inFolder('b', campaign({ level: 0.9 })) });
    const without = await shell(folder, ['check', 'a', 'b']);
    const kept = path.join(folder, 'kept');
    const both = await Promise.all([1, 2, 3].map(() => call(folder, process.env, '--cache', kept, 'a', 'b')));
    for (const each of both) expect(each).toEqual(without);
    expect(readdirSync(kept).filter((name) => name.endsWith('.part'))).toEqual([]);
    expect(answersIn(kept)).toHaveLength(2);
    // An answer that has the name of another is not taken for it, and is replaced.
    const [one, other] = answersIn(kept).map((name) => path.join(kept, name)) as [string, string];
    cpSync(one, other);
    expect(await call(folder, process.env, '--cache', kept, 'a', 'b')).toEqual(without);
    expect(readFileSync(other).equals(readFileSync(one))).toBe(false);
    // Those that are there are taken: their time tells.
    for (const file of [one, other]) utimesSync(file, 1000, 1000);
    expect(await call(folder, process.env, '--cache', kept, 'a', 'b')).toEqual(without);
    for (const file of [one, other]) expect(statSync(file).mtimeMs).toBeGreaterThan(1_000_000);
  });

  it('takes no answer that another build, or another program of its threads, has computed', async () => {
    const folder = folderOf(campaign());
    const kept = path.join(folder, 'kept');
    const beside = path.join(built.folder, 'analyst.cjs');
    await call(folder, process.env, '--cache', kept, 'c.sweepbook');
    await call(folder, process.env, '--cache', kept, 'c.sweepbook');
    expect(answersIn(kept)).toHaveLength(1);
    onTestFinished(() => rmSync(beside, { force: true }));
    writeFileSync(beside, '// Answers nothing: one sweep is not worth a thread.');
    await call(folder, process.env, '--cache', kept, 'c.sweepbook');
    expect(answersIn(kept)).toHaveLength(2);
    // The build has written the hash of the program into the program.
    const program = readFileSync(built.program, 'utf8');
    const stamps = [...new Set(program.match(/(?<=")[0-9a-f]{64}(?=")/g))].filter((hash) => {
      const unstamped = program.replaceAll(hash, '0'.repeat(64));
      return createHash('sha256').update(unstamped).digest('hex') === hash;
    });
    expect(stamps).toHaveLength(1);
  });

  it.skipIf(isWindows)(
    'keeps answers where this user keeps such things, and nothing where there is no such place',
    async () => {
      const folder = folderOf(campaign());
      const { PATH } = process.env;
      const home = path.join(folder, 'home');
      const places =
        process.platform === 'darwin'
          ? [[{ HOME: home }, 'home/Library/Caches/sweepbook'] as const]
          : ([
              [{ HOME: home }, 'home/.cache/sweepbook'],
              [{ HOME: home, XDG_CACHE_HOME: path.join(folder, 'xdg') }, 'xdg/sweepbook'],
              [{ HOME: home, SWEEPBOOK_CACHE: 'own' }, 'own'],
              [{ HOME: home, XDG_CACHE_HOME: 'relative', SWEEPBOOK_CACHE: undefined }, undefined],
              [{ HOME: home, SWEEPBOOK_CACHE: '' }, undefined],
            ] as const);
      for (const [environment, place] of places) {
        const before = readdirSync(folder).sort();
        const { status, error } = await call(folder, { PATH, ...environment }, 'c.sweepbook');
        expect({ status, error }).toEqual({ status: 0, error: '' });
        if (place === undefined) expect(readdirSync(folder).sort()).toEqual(before);
        else expect(answersIn(path.join(folder, place)), place).toHaveLength(1);
      }
    },
  );
});
