/** A campaign file with everything it includes, read through the store. */
import { includesOf, type CampaignFile, type IncludeLine } from '../campaign/campaignFile.js';
import type { FileProblem } from '../text/problem.js';
import type { Failure, FileStore } from './fileStore.js';
import { rangeOnLine } from '../text/place.js';
import type { FileReader } from './ports.js';

/** Deeper nesting is refused: no real campaign needs it. */
export const deepestInclude = 16;

export interface LoadedFiles {
  /** Absent when the root itself cannot be read. */
  readonly root?: CampaignFile;
  /** In reading order. */
  readonly files: readonly string[];
  readonly problems: readonly FileProblem[];
}

export async function loadFiles(root: string, store: FileStore, reader: FileReader): Promise<LoadedFiles> {
  return new Loading(store, reader).run(root);
}

class Loading {
  readonly #files: string[] = [];
  readonly #problems: FileProblem[] = [];

  constructor(
    readonly store: FileStore,
    readonly reader: FileReader,
  ) {}

  async run(root: string): Promise<LoadedFiles> {
    const loaded = await this.store.document(root);
    if (loaded.failure) {
      const message = `${this.reader.displayName(root)} ${failureText(loaded.failure)}.`;
      const range = rangeOnLine(0, 0, 0);
      const problem: FileProblem = { id: 'file/unreadable', severity: 'error', file: root, range, message };
      return { files: [root], problems: [problem] };
    }
    this.#files.push(root);
    this.#reportEncoding(root, loaded.encoding);
    const includes = await this.#includes(root, loaded.document, [root]);
    return {
      root: { file: root, document: loaded.document, includes },
      files: this.#files,
      problems: this.#problems,
    };
  }

  #reportEncoding(file: string, encoding: string | undefined): void {
    if (encoding === undefined) return;
    const message = `This file is not in UTF-8; it was read as ${encoding}. Save it in UTF-8, or another program may read ± and ° as something else.`;
    this.#problems.push({
      id: 'file/not-utf-8',
      severity: 'warning',
      file,
      range: rangeOnLine(0, 0, 0),
      message,
    });
  }

  async #includes(
    file: string,
    document: CampaignFile['document'],
    above: readonly string[],
  ): Promise<CampaignFile['includes']> {
    const includes: CampaignFile['includes'][number][] = [];
    for (const line of includesOf(document)) includes.push(await this.#include(file, line, above));
    return includes;
  }

  async #include(
    file: string,
    line: IncludeLine,
    above: readonly string[],
  ): Promise<CampaignFile['includes'][number]> {
    const report = (id: string, message: string): 'unavailable' => {
      this.#problems.push({ id: `include/${id}`, severity: 'error', file, range: line.range, message });
      return 'unavailable';
    };
    const target = this.reader.resolve(file, line.path);
    if (target === undefined) {
      return report(
        'outside',
        `"${line.path}" leads out of the workspace folder; a campaign and what it includes stay inside it.`,
      );
    }
    if (above.includes(target)) {
      report(
        'cycle',
        `"${line.path}" includes this file, directly or through others: a file may not include itself.`,
      );
      return 'already-read';
    }
    if (this.#files.includes(target)) return 'already-read';
    if (above.length >= deepestInclude) {
      return report('too-deep', `Includes are nested more than ${deepestInclude} deep here.`);
    }
    const loaded = await this.store.document(target);
    if (loaded.failure)
      return report(
        'unreadable',
        `"${line.path}" ${failureText(loaded.failure, this.reader.displayName(file))}.`,
      );
    this.#files.push(target);
    this.#reportEncoding(target, loaded.encoding);
    const includes = await this.#includes(target, loaded.document, [...above, target]);
    return { file: target, document: loaded.document, includes };
  }
}

/** Completes a sentence that begins with the file's name. `namedIn` is the file that names it by a path, if one does. */
export function failureText(failure: Failure, namedIn?: string): string {
  switch (failure.reason) {
    case 'missing':
      return `does not exist${namedIn === undefined ? '' : `; paths are relative to ${namedIn}`}`;
    case 'too-large':
      return `is too large${failure.size === undefined ? '' : ` (${(failure.size / 1024 / 1024).toFixed(1)} MB)`}`;
    case 'not-a-file':
      return 'is not a file';
    case 'binary':
      return 'is not a text: it holds bytes that no text has. A campaign is plain text in UTF-8';
    case 'unreadable':
      return 'cannot be read';
  }
}
