/** Files of one commit, or of the index, for the evaluation. A file's key is the path that it has in the working tree. */
import path from 'node:path';
import type { FileContent, FileReader } from '../evaluation/ports.js';
import { isCampaign } from './findCampaigns.js';
import { BlobReader, filesOfCommit, filesOfIndex, type TreeEntry } from './git.js';
import { isInside, NodeFiles } from './nodeFiles.js';

const link = '120000';
const repository = '160000';
/** A link may lead out of the commit; what it leads to is not read. */
const isFile = ({ mode }: TreeEntry): boolean => mode !== link && mode !== repository;

export class GitFiles implements FileReader {
  readonly #blobs: BlobReader;
  readonly #names: NodeFiles;

  private constructor(
    /** Of the working tree. */
    readonly top: string,
    readonly entries: ReadonlyMap<string, TreeEntry>,
    workingFolder: string,
  ) {
    this.#blobs = new BlobReader(top);
    this.#names = new NodeFiles(top, workingFolder);
  }

  static async ofCommit(top: string, commit: string, workingFolder = top): Promise<GitFiles> {
    return new GitFiles(top, await filesOfCommit(top, commit), workingFolder);
  }

  static async ofIndex(top: string, workingFolder = top): Promise<GitFiles> {
    return new GitFiles(top, await filesOfIndex(top), workingFolder);
  }

  /** Ends the process that reads; nothing can be read any more. */
  close(): void {
    this.#blobs.close();
  }

  /** Campaign files at or below `place`, a path in the working tree. */
  campaignsBelow(place: string): string[] {
    const files = [...this.entries].flatMap(([name, entry]) =>
      isFile(entry) ? path.join(this.top, name) : [],
    );
    return files.filter((file) => isCampaign(file) && isInside(place, file)).sort();
  }

  /** Name of the blob; undefined where there is no such file. */
  objectOf(file: string): string | undefined {
    return this.entries.get(this.#pathOf(file))?.object;
  }

  async read(file: string, limitBytes: number): Promise<FileContent> {
    const name = this.#pathOf(file);
    const entry = this.entries.get(name);
    if (!entry) return { ok: false, reason: 'missing' };
    if (!isFile(entry)) return { ok: false, reason: 'not-a-file' };
    return this.#blobs.read(entry.object, name, limitBytes);
  }

  resolve(from: string, relative: string): string | undefined {
    return this.#names.resolve(from, relative);
  }

  displayName(file: string): string {
    return this.#names.displayName(file);
  }

  #pathOf(file: string): string {
    return path.relative(this.top, file).split(path.sep).join('/');
  }
}
