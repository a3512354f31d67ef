import { createHash } from 'node:crypto';
import type { FileContent, FileReader } from '../evaluation/ports.js';

/** What a file answered when it was read. */
export interface FileAnswer {
  readonly file: string;
  readonly limitBytes: number;
  /** Its bytes by their hash, or why there are none. */
  readonly answer: string;
}

export const answerOfContent = (content: FileContent): string =>
  content.ok ? hashOf(content.bytes) : `${content.reason} ${content.size ?? ''}`.trimEnd();

export const hashOf = (content: string | Uint8Array): string =>
  createHash('sha256').update(content).digest('hex');

/** Stands for no content: the file was read twice and had changed in between. */
const changed = 'changed while it was read';

export const hasChanged = ({ answer }: FileAnswer): boolean => answer === changed;

/** Passes files on and keeps what each of them answered, so that it can be told later whether all of them still answer the same. */
export class RecordedFiles implements FileReader {
  readonly #files: FileReader;
  readonly #answers = new Map<string, FileAnswer>();

  constructor(files: FileReader) {
    this.#files = files;
  }

  get answers(): FileAnswer[] {
    return [...this.#answers.values()];
  }

  async read(file: string, limitBytes: number): Promise<FileContent> {
    const content = await this.#files.read(file, limitBytes);
    const key = `${limitBytes} ${file}`;
    const answer = answerOfContent(content);
    const former = this.#answers.get(key);
    this.#answers.set(key, {
      file,
      limitBytes,
      answer: former && former.answer !== answer ? changed : answer,
    });
    return content;
  }

  resolve(from: string, relative: string): string | undefined {
    return this.#files.resolve(from, relative);
  }

  displayName(file: string): string {
    return this.#files.displayName(file);
  }
}
