/** Files as they were at a revision. Their keys are those of the working tree, so that both states call a file alike. */
import type { FileContent, FileReader } from '../../evaluation/ports.js';
import { EvaluationCancelled } from '../../evaluation/workbook.js';
import { uriOf } from '../convert.js';
import type { GitRepository } from './gitExtension.js';

/** Each file is a run of git; more at once only wait for one another. */
const atOnce = 6;

export class RevisionFiles implements FileReader {
  readonly #waiting: (() => void)[] = [];
  #running = 0;

  /** @param ref a commit; empty: what is staged */
  constructor(
    readonly repository: GitRepository,
    readonly ref: string,
    readonly files: FileReader,
    readonly signal?: AbortSignal,
  ) {}

  async read(file: string, limitBytes: number): Promise<FileContent> {
    const bytes = await this.#inTurn(() => this.#bytes(file));
    if (!bytes) return { ok: false, reason: 'missing' };
    if (bytes.length > limitBytes) return { ok: false, reason: 'too-large', size: bytes.length };
    return { ok: true, bytes };
  }

  resolve(from: string, relative: string): string | undefined {
    return this.files.resolve(from, relative);
  }

  displayName(file: string): string {
    return this.files.displayName(file);
  }

  async #bytes(file: string): Promise<Uint8Array | undefined> {
    if (this.signal?.aborted) throw new EvaluationCancelled();
    try {
      return new Uint8Array(await this.repository.buffer(this.ref, uriOf(file).fsPath));
    } catch {
      return undefined;
    }
  }

  async #inTurn<T>(task: () => Promise<T>): Promise<T> {
    if (this.#running >= atOnce) await new Promise<void>((go) => this.#waiting.push(go));
    else this.#running++;
    try {
      return await task();
    } finally {
      const next = this.#waiting.shift();
      if (next) next();
      else this.#running--;
    }
  }
}
