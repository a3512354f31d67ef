/**
 * Answers of earlier runs, kept on disk by their content. An answer is taken when the program, the form and the bytes of everything
 * that was read are the same; the times of files count for nothing. What is torn, foreign or of another version is as good as not
 * there, and a folder that cannot be written to costs nothing but the time.
 */
import { readdir, rm, stat, utimes, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { promisify } from 'node:util';
import { gunzip, gzip } from 'node:zlib';
import { campaignFileLimit } from '../evaluation/fileStore.js';
import { rulesVersion } from '../results/rulesVersion.js';
import { campaignAnswer, type CampaignAnswer, type CampaignJob } from './campaignAnswer.js';
import { makeFolder } from './makeFolder.js';
import { NodeFiles, readPlainFile } from './nodeFiles.js';
import { answerOfContent, hasChanged, hashOf, type FileAnswer } from './recordedFiles.js';
import { isUnfinished } from '../workspace/unfinishedFiles.js';
import { writeWhole } from './writeWhole.js';

/** Of all answers together. */
export const cacheLimitBytes = 256 * 1024 * 1024;
/** Of one answer, as it is kept. */
export const keptAnswerLimit = 16 * 1024 * 1024;
/** Of one answer, unpacked. */
const unpackedLimit = 512 * 1024 * 1024;

const ending = '.answer';
/** Counts up with every change of what stands in the files. */
const heading = 'sweepbook answer 1';

export interface CacheOptions {
  readonly folder: string;
  /** Of the program: its version, or better the hash of its text. */
  readonly program: string;
  readonly limitBytes?: number;
}

export class AnswerCache {
  readonly #folder: string;
  readonly #program: string;
  readonly #limitBytes: number;
  readonly #pending: Promise<void>[] = [];
  #hasNew = false;
  #failure: string | undefined;

  constructor({ folder, program, limitBytes = cacheLimitBytes }: CacheOptions) {
    this.#folder = folder;
    this.#program = program;
    this.#limitBytes = limitBytes;
  }

  /** The answer, if it is still that of the files. */
  async find(job: CampaignJob): Promise<CampaignAnswer | undefined> {
    const files = new NodeFiles(job.place.root, job.place.workingFolder);
    const content = await files.read(job.place.file, campaignFileLimit);
    const file = this.#fileOf(job, answerOfContent(content));
    const entry = await readPlainFile(file, keptAnswerLimit);
    const answer = entry.ok ? await unpacked(entry.bytes, path.basename(file)) : undefined;
    if (!answer) return undefined;
    const read = answer.read.map((each) => ({ ...each, file: path.resolve(job.place.root, each.file) }));
    if (!(await areSame(read, files))) return undefined;
    const now = new Date();
    // Used last, removed last.
    this.#pending.push(utimes(file, now, now).catch(() => undefined));
    return { ...answer, read };
  }

  /** Begins to write the answer; `close` waits for it. */
  keep(job: CampaignJob, answer: CampaignAnswer): void {
    const root = answer.read.find(
      ({ file, limitBytes }) => file === job.place.file && limitBytes === campaignFileLimit,
    );
    if (!root || this.#failure !== undefined || answer.read.some(hasChanged)) return;
    this.#pending.push(this.#write(this.#fileOf(job, root.answer), job, answer));
  }

  /** @returns in plain words why answers could not be kept, if they could not */
  async close(): Promise<string | undefined> {
    await Promise.all(this.#pending);
    if (this.#hasNew) await removeOldest(this.#folder, this.#limitBytes).catch(() => undefined);
    return this.#failure;
  }

  /** Where it stands counts by what can be seen of it: a clone elsewhere finds the same answers. */
  #fileOf({ place: { file, root, workingFolder }, form }: CampaignJob, rootAnswer: string): string {
    const places = [
      path.relative(root, file),
      path.relative(root, workingFolder),
      path.relative(workingFolder, root),
    ];
    const engine = [process.version, process.arch, process.platform, process.versions['tz']];
    const key = [this.#program, rulesVersion, engine, form, places, rootAnswer];
    return path.join(this.#folder, hashOf(JSON.stringify(key)) + ending);
  }

  async #write(file: string, { place }: CampaignJob, answer: CampaignAnswer): Promise<void> {
    const read = answer.read.map((each) => ({ ...each, file: path.relative(place.root, each.file) }));
    try {
      const bytes = await packed({ ...answer, read }, path.basename(file));
      if (bytes.length > keptAnswerLimit) return;
      await prepare(this.#folder);
      await writeWhole(file, bytes, { isLasting: false });
      this.#hasNew = true;
    } catch (error) {
      this.#failure = (error as Error).message;
    }
  }
}

/** Files that are looked at together. */
const together = 16;

async function areSame(read: readonly FileAnswer[], files: NodeFiles): Promise<boolean> {
  for (let from = 0; from < read.length; from += together) {
    const same = await Promise.all(
      read
        .slice(from, from + together)
        .map(
          async ({ file, limitBytes, answer }) =>
            answerOfContent(await files.read(file, limitBytes)) === answer,
        ),
    );
    if (same.includes(false)) return false;
  }
  return true;
}

/** What stands above an answer: for which key it is, so that a copy of another name is not taken, and the hash of what follows. */
const headOf = (name: string, body: Uint8Array): string => `${heading} ${name} ${hashOf(body)}`;

async function packed(answer: CampaignAnswer, name: string): Promise<Uint8Array> {
  const body = await promisify(gzip)(JSON.stringify(answer), { level: 1 });
  return Buffer.concat([Buffer.from(`${headOf(name, body)}\n`), body]);
}

/** Undefined for whatever was not written whole by this version. */
async function unpacked(bytes: Uint8Array, name: string): Promise<CampaignAnswer | undefined> {
  const end = Math.max(bytes.indexOf(0x0a), 0);
  const body = bytes.subarray(end + 1);
  if (Buffer.from(bytes.subarray(0, end)).toString('latin1') !== headOf(name, body)) return undefined;
  try {
    const text = (await promisify(gunzip)(body, { maxOutputLength: unpackedLimit })).toString('utf8');
    return campaignAnswer.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}

/** For this user alone: answers hold what the campaigns say. The tag tells programs that make backups to pass the folder by. */
async function prepare(folder: string): Promise<void> {
  const isNew = await makeFolder(folder, 0o700).catch(() => false);
  if (!isNew) return;
  // Signature of the "Cache Directory Tagging Specification", bford.info/cachedir.
  const tag = 'Signature: 8a477f597d28d172789f06886806bc55\n# Answers kept by Sweepbook. Safe to delete.\n';
  await writeFile(path.join(folder, 'CACHEDIR.TAG'), tag, { flag: 'wx' }).catch(() => undefined);
}

/** Milliseconds after which a file that was never finished is nobody's any more. */
const abandoned = 60 * 60 * 1000;

/** Removes answers that were not used for longest until the others are within the limit. Other files are left alone. */
async function removeOldest(folder: string, limitBytes: number): Promise<void> {
  const files = await Promise.all(
    (await readdir(folder)).map(async (name) => {
      const stats = await stat(path.join(folder, name)).catch(() => undefined);
      return { name, size: stats?.size ?? 0, used: stats?.mtimeMs ?? 0 };
    }),
  );
  const answers = files.filter(({ name }) => name.endsWith(ending)).sort((a, b) => a.used - b.used);
  const gone = files.filter(({ name, used }) => isUnfinished(name) && used < Date.now() - abandoned);
  let left = answers.reduce((total, { size }) => total + size, 0);
  for (const answer of answers) {
    if (left <= limitBytes) break;
    left -= answer.size;
    gone.push(answer);
  }
  await Promise.all(gone.map(({ name }) => rm(path.join(folder, name), { force: true })));
}
