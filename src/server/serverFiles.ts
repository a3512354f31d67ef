/** Files of the workspace folders for the evaluation; of a file opened on its own, those that its own folder holds. */
import path from 'node:path';
import { tableFileLimit } from '../evaluation/fileStore.js';
import type { FileContent, FileReader } from '../evaluation/ports.js';
import { tableEndings } from '../evaluation/tableFiles.js';
import { byDepth, mostPaths, type PathKind, type WorkspaceFiles } from '../workspace/workspaceFiles.js';
import type { Disk } from './disk.js';
import { keyOfPath, pathOf } from './fileKeys.js';

const endings: Readonly<Record<PathKind, readonly string[]>> = {
  table: tableEndings,
  campaign: ['sweepbook'],
};

interface Root {
  readonly folder: string;
  readonly reader: FileReader;
}

export class ServerFiles implements WorkspaceFiles {
  readonly #disk: Disk;
  readonly #openText: (file: string) => string | undefined;
  #workspace: readonly Root[] = [];
  /** Of files outside of the workspace folders. */
  readonly #loose: Root[] = [];

  /** @param openText what a client holds of a file that it has open */
  constructor(disk: Disk, openText: (file: string) => string | undefined) {
    this.#disk = disk;
    this.#openText = openText;
  }

  /** The workspace folders, as paths. */
  setFolders(folders: readonly string[]): void {
    // The innermost first.
    this.#workspace = [...folders]
      .sort((a, b) => b.length - a.length)
      .map((folder) => ({ folder, reader: this.#disk.below(folder) }));
  }

  read(file: string, limitBytes: number): Promise<FileContent> {
    const open = this.#openText(file);
    if (open !== undefined) return Promise.resolve({ ok: true, bytes: new TextEncoder().encode(open) });
    const target = pathOf(file);
    if (target === undefined) return Promise.resolve({ ok: false, reason: 'missing' });
    return this.#rootOf(target).reader.read(target, limitBytes);
  }

  resolve(from: string, relative: string): string | undefined {
    const base = pathOf(from);
    const target = base === undefined ? undefined : this.#rootOf(base).reader.resolve(base, relative);
    return target === undefined ? undefined : keyOfPath(target);
  }

  displayName(file: string): string {
    const target = pathOf(file);
    return target === undefined ? file : this.#rootOf(target).reader.displayName(target);
  }

  async readTable(file: string): Promise<Uint8Array | undefined> {
    const content = await this.read(file, tableFileLimit);
    return content.ok ? content.bytes : undefined;
  }

  async paths(kind: PathKind, from: string): Promise<string[]> {
    const base = pathOf(from);
    if (base === undefined) return [];
    const found = await this.#disk.list(this.#rootOf(base).folder, endings[kind]);
    return found
      .filter((each) => each !== base)
      .map((each) => path.relative(path.dirname(base), each).split(path.sep).join('/'))
      .sort(byDepth)
      .slice(0, mostPaths);
  }

  /** Every campaign file of the workspace folders. */
  async campaigns(): Promise<string[]> {
    const lists = await Promise.all(
      this.#workspace.map(({ folder }) => this.#disk.list(folder, endings.campaign)),
    );
    return lists.flat().map(keyOfPath);
  }

  #rootOf(file: string): Root {
    const known = [...this.#workspace, ...this.#loose].find(({ folder }) => isInside(folder, file));
    if (known) return known;
    const folder = this.#disk.folderOf(file);
    const root = { folder, reader: this.#disk.below(folder) };
    this.#loose.push(root);
    return root;
  }
}

function isInside(folder: string, file: string): boolean {
  const relative = path.relative(folder, file);
  return relative !== '..' && !relative.startsWith(`..${path.sep}`) && !path.isAbsolute(relative);
}
