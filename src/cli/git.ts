/** The git program: asked without a shell, and never told a word that it could take for an option. */
import { execFile, spawn, type ChildProcessWithoutNullStreams } from 'node:child_process';
import { promisify } from 'node:util';

/** What a user is told: no git, no repository, no such revision. */
export class GitFailure extends Error {}

const run = promisify(execFile);
/** Bytes of a listing: a tree of a million files. */
const longestAnswer = 256 * 1024 * 1024;

/** What git answers on its standard output. Rejects with the first line that it complains with. */
export async function git(folder: string, ...args: readonly string[]): Promise<string> {
  try {
    const { stdout } = await run('git', args, { cwd: folder, maxBuffer: longestAnswer, windowsHide: true });
    return stdout;
  } catch (error) {
    throw failureOf(error as NodeJS.ErrnoException & { stderr?: string });
  }
}

function failureOf({ code, stderr = '', message }: NodeJS.ErrnoException & { stderr?: string }): GitFailure {
  if (code === 'ENOENT')
    return new GitFailure('the git program was not found; install it, or put its folder on the PATH');
  const [first = message] = stderr.split('\n').filter((line) => line.trim() !== '');
  return new GitFailure(first.replace(/^(fatal|error): /, ''));
}

/** The folder of the working tree that holds `folder`. */
export async function workTreeOf(folder: string): Promise<string> {
  try {
    return (await git(folder, 'rev-parse', '--show-toplevel')).trimEnd();
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
    return (await git(folder, 'rev-parse', '--verify', '--quiet', `${revision}^{commit}`)).trimEnd();
  } catch (error) {
    if (error instanceof GitFailure && /was not found/.test(error.message)) throw error;
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

/** Reads blobs through one `git cat-file --batch`, one after the other. `close` ends it. */
export class BlobReader {
  readonly #folder: string;
  #process: ChildProcessWithoutNullStreams | undefined;
  #chain: Promise<unknown> = Promise.resolve();
  #waiting: { resolve: (bytes: Buffer | undefined) => void; chunks: Buffer[]; length: number } | undefined;

  constructor(folder: string) {
    this.#folder = folder;
  }

  /** Undefined where there is no such blob. */
  read(object: string): Promise<Buffer | undefined> {
    const answer = this.#chain.then(() => this.#ask(object));
    this.#chain = answer;
    return answer;
  }

  close(): void {
    this.#process?.stdin.end();
    this.#process = undefined;
  }

  #ask(object: string): Promise<Buffer | undefined> {
    const child = (this.#process ??= this.#start());
    return new Promise((resolve) => {
      this.#waiting = { resolve, chunks: [], length: 0 };
      child.stdin.write(`${object}\n`);
    });
  }

  #start(): ChildProcessWithoutNullStreams {
    const child = spawn('git', ['cat-file', '--batch'], { cwd: this.#folder, windowsHide: true });
    child.stdout.on('data', (chunk: Buffer) => this.#take(chunk));
    const end = (): void => this.#answer(undefined);
    child.on('error', end).on('close', end);
    child.stdin.on('error', end);
    return child;
  }

  #take(chunk: Buffer): void {
    const waiting = this.#waiting;
    if (!waiting) return;
    waiting.chunks.push(chunk);
    waiting.length += chunk.length;
    const first = waiting.chunks[0]!;
    const headEnd = first.indexOf(0x0a);
    if (headEnd < 0) {
      waiting.chunks = [Buffer.concat(waiting.chunks)];
      return;
    }
    const [, kind, size] = first.subarray(0, headEnd).toString('latin1').split(' ');
    if (kind !== 'blob') return this.#answer(undefined);
    const start = headEnd + 1;
    // Behind the blob stands one line end.
    if (waiting.length < start + Number(size) + 1) return;
    this.#answer(Buffer.concat(waiting.chunks).subarray(start, start + Number(size)));
  }

  #answer(bytes: Buffer | undefined): void {
    const waiting = this.#waiting;
    this.#waiting = undefined;
    waiting?.resolve(bytes);
  }
}
