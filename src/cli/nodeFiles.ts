/** Files of this machine for the evaluation. A file's key is its absolute path. */
import { constants, existsSync, realpathSync } from 'node:fs';
import { open, realpath } from 'node:fs/promises';
import path from 'node:path';
import type { FileContent, FileReader } from '../evaluation/ports.js';

export class NodeFiles implements FileReader {
  readonly #root: string;
  /** Links resolved, so that a link inside the folder cannot lead out of it unseen. */
  readonly #realRoot: string;
  readonly #workingFolder: string;

  /**
   * @param root the workspace folder: no path named in a campaign may leave it.
   * @param workingFolder the folder that shown names are relative to
   */
  constructor(root: string, workingFolder = process.cwd()) {
    this.#workingFolder = workingFolder;
    this.#root = path.resolve(root);
    this.#realRoot = existsSync(this.#root) ? realpathSync(this.#root) : this.#root;
  }

  async read(file: string, limitBytes: number): Promise<FileContent> {
    let handle;
    try {
      const real = await realpath(file);
      if (!isInside(this.#realRoot, real)) return { ok: false, reason: 'unreadable' };
      // Non-blocking: opening a pipe must not wait for somebody to write to it.
      handle = await open(real, constants.O_RDONLY | constants.O_NONBLOCK);
      const stat = await handle.stat();
      if (!stat.isFile()) return { ok: false, reason: 'not-a-file' };
      if (stat.size > limitBytes) return { ok: false, reason: 'too-large', size: stat.size };
      return { ok: true, bytes: new Uint8Array(await handle.readFile()) };
    } catch (error) {
      return { ok: false, reason: reasonOf(error) };
    } finally {
      await handle?.close();
    }
  }

  resolve(from: string, relative: string): string | undefined {
    if (relative.includes('\0') || path.isAbsolute(relative) || /^[a-z]:|^\\\\/i.test(relative))
      return undefined;
    const file = path.resolve(path.dirname(from), relative.replaceAll('\\', '/'));
    return isInside(this.#root, file) ? file : undefined;
  }

  displayName(file: string): string {
    const base = isInside(this.#workingFolder, file) ? this.#workingFolder : this.#root;
    return path.relative(base, file).split(path.sep).join('/');
  }
}

export function isInside(folder: string, file: string): boolean {
  const relative = path.relative(folder, file);
  return !(relative === '..' || relative.startsWith(`..${path.sep}`) || path.isAbsolute(relative));
}

function reasonOf(error: unknown): 'missing' | 'not-a-file' | 'unreadable' {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === 'ENOENT' || code === 'ENOTDIR') return 'missing';
  return code === 'EISDIR' ? 'not-a-file' : 'unreadable';
}

/** The folder that a campaign's paths may not leave: that of the repository, else the working folder, else the file's own. */
export function workspaceFolderOf(file: string, workingFolder: string): string {
  for (let folder = path.dirname(file); ; folder = path.dirname(folder)) {
    if (existsSync(path.join(folder, '.git'))) return folder;
    if (folder === path.dirname(folder)) break;
  }
  return isInside(workingFolder, file) ? workingFolder : path.dirname(file);
}
