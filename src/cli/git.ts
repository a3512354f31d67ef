/** The git program: asked without a shell, and never told a word that it could take for an option. */
import { execFile, spawn, type ChildProcessWithoutNullStreams } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { existsSync } from 'node:fs';
import { promisify } from 'node:util';
import type { FileContent } from '../evaluation/ports.js';

/** What a user is told: no git, no repository, no such revision. */
export class GitFailure extends Error {}

class NoGit extends GitFailure {}

const run = promisify(execFile);
/** Bytes of a listing: a tree of a million files. */
const longestAnswer = 256 * 1024 * 1024;

/** What git answers on its standard output. Rejects with the first line that it complains with. */
export async function git(folder: string, ...args: readonly string[]): Promise<string> {
  try {
    const { stdout } = await run('git', args, { cwd: folder, maxBuffer: longestAnswer, windowsHide: true });
    return stdout;
  } catch (error) {
    throw failureOf(error as NodeJS.ErrnoException & { stderr?: string }, folder);
  }
}

/** An answer of one line, which may itself end in blanks. */
export async function gitLine(folder: string, ...args: readonly string[]): Promise<string> {
  return (await git(folder, ...args)).replace(/\n$/, '');
}

function failureOf(
  { code, stderr = '', message }: NodeJS.ErrnoException & { stderr?: string },
  folder: string,
): GitFailure {
  // Node says the same of a working folder that is not there.
  if (code === 'ENOENT' && !existsSync(folder)) return new GitFailure(`there is no folder ${folder}`);
  if (code === 'ENOENT')
    return new NoGit('the git program was not found; install it, or put its folder on the PATH');
  const [first = message] = stderr.split('\n').filter((line) => line.trim() !== '');
  return new GitFailure(first.replace(/^(fatal|error): /, ''));
}

/** The folder of the working tree that holds `folder`. */
export async function workTreeOf(folder: string): Promise<string> {
  try {
    return await gitLine(folder, 'rev-parse', '--show-toplevel');
  } catch (error) {
    if (error instanceof GitFailure && /not a git repository/i.test(error.message))
      throw new GitFailure(`${folder} is in no git repository`);
    throw error;
  }
}

/** The full name of the commit that a revision means. */
export async function commitOf(folder: string, revision: string): Promise<string> {
  const unknown = new GitFailure(`there is no revision \`${revision}\``);
  if (revision === '' || revision.startsWith('-')) throw unknown;
  try {
    // In two steps: `:/text` would take what stands behind it for a part of the text.
    const object = await gitLine(folder, 'rev-parse', '--verify', '--quiet', revision);
    return await gitLine(folder, 'rev-parse', '--verify', '--quiet', `${object}^{commit}`);
  } catch (error) {
    if (error instanceof NoGit) throw error;
    throw unknown;
  }
}

/** Every file of the working tree but those that git ignores, by its path from the top; nothing of repositories inside it. */
export async function filesOfWorkTree(top: string): Promise<Set<string>> {
  const listing = await git(top, 'ls-files', '-z', '--cached', '--others', '--exclude-standard');
  return new Set(listing.split('\0').filter((name) => name !== ''));
}

export interface TreeEntry {
  /** Name of the blob. */
  readonly object: string;
  /** `100644`, `100755`, `120000` (a link), `160000` (another repository). */
  readonly mode: string;
}

/** Every file of a commit, by its path from the top of the repository. */
export async function filesOfCommit(folder: string, commit: string): Promise<Map<string, TreeEntry>> {
  const listing = await git(folder, 'ls-tree', '-r', '-z', '--full-tree', commit);
  return entriesOf(listing, /^(\d+) \w+ ([0-9a-f]+)\t([^]+)$/);
}

/** Every file of the index; of an unresolved merge none of the sides. */
export async function filesOfIndex(folder: string): Promise<Map<string, TreeEntry>> {
  return entriesOf(
    await git(folder, 'ls-files', '-s', '-z', '--full-name', ':/'),
    /^(\d+) ([0-9a-f]+) 0\t([^]+)$/,
  );
}

function entriesOf(listing: string, form: RegExp): Map<string, TreeEntry> {
  const files = new Map<string, TreeEntry>();
  for (const line of listing.split('\0')) {
    const [, mode, object, path] = form.exec(line) ?? [];
    if (path !== undefined) files.set(path, { mode: mode!, object: object! });
  }
  return files;
}

interface Asked {
  readonly resolve: (content: FileContent) => void;
  readonly limitBytes: number;
  chunks: Buffer[];
  length: number;
  /** The last bytes of all chunks. */
  tail: Buffer;
}

const unreadable: FileContent = { ok: false, reason: 'unreadable' };
/** A name that no object has: what git says of it ends the answer before it, whose length filters change. */
const noObject = `none-${randomUUID()}`;
const endOfAnswer = Buffer.from(`\n${noObject} missing\n`);

/**
 * Reads blobs as git would write them to the working tree, with its filters and line ends, through one `git cat-file`, one after the
 * other. `close` ends it.
 */
export class BlobReader {
  readonly #folder: string;
  #process: ChildProcessWithoutNullStreams | undefined;
  #chain: Promise<unknown> = Promise.resolve();
  #asked: Asked | undefined;

  constructor(folder: string) {
    this.#folder = folder;
  }

  /** @param path from the top of the repository; it tells the filters */
  read(object: string, path: string, limitBytes: number): Promise<FileContent> {
    // Git takes each line for a request.
    if (path.includes('\n')) return Promise.resolve(unreadable);
    const answer = this.#chain.then(() => this.#ask(`${object} ${path}\n${noObject}\n`, limitBytes));
    this.#chain = answer;
    return answer;
  }

  close(): void {
    this.#process?.stdin.end();
    this.#process = undefined;
    this.#answer(unreadable);
  }

  #ask(request: string, limitBytes: number): Promise<FileContent> {
    const child = (this.#process ??= this.#start());
    return new Promise((resolve) => {
      this.#asked = { resolve, limitBytes, chunks: [], length: 0, tail: Buffer.alloc(0) };
      child.stdin.write(request);
    });
  }

  #start(): ChildProcessWithoutNullStreams {
    const args = ['cat-file', '--batch', '--filters'];
    const child = spawn('git', args, { cwd: this.#folder, windowsHide: true });
    // Another may have taken its place meanwhile.
    const isCurrent = (): boolean => this.#process === child;
    const ended = (): void => {
      if (!isCurrent()) return;
      this.#process = undefined;
      this.#answer(unreadable);
    };
    child.stdout.on('data', (chunk: Buffer) => {
      if (isCurrent()) this.#take(chunk);
    });
    // A filter that complains must not wait for a reader.
    child.stderr.resume();
    child.on('error', ended).on('close', ended);
    child.stdin.on('error', ended);
    return child;
  }

  #take(chunk: Buffer): void {
    const asked = this.#asked;
    if (!asked) return;
    asked.chunks.push(chunk);
    asked.length += chunk.length;
    asked.tail = Buffer.concat([asked.tail, chunk]).subarray(-endOfAnswer.length);
    const headEnd = asked.chunks[0]!.indexOf(0x0a);
    if (headEnd < 0) {
      asked.chunks = [Buffer.concat(asked.chunks)];
      return;
    }
    const start = headEnd + 1;
    const [, kind, stored] = asked.chunks[0]!.subarray(0, headEnd).toString('latin1').split(' ');
    // The head tells the size before the filters.
    const size = Math.max(Number(stored), asked.length - start - endOfAnswer.length);
    if (kind === 'blob' && size > asked.limitBytes) {
      this.#process?.kill();
      this.#process = undefined;
      this.#answer({ ok: false, reason: 'too-large', size });
    } else if (asked.tail.equals(endOfAnswer)) {
      const bytes = Buffer.concat(asked.chunks).subarray(start, -endOfAnswer.length);
      this.#answer(kind === 'blob' ? { ok: true, bytes: new Uint8Array(bytes) } : unreadable);
    }
  }

  #answer(content: FileContent): void {
    const asked = this.#asked;
    this.#asked = undefined;
    asked?.resolve(content);
  }
}
