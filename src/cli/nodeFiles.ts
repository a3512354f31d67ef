/** Files of this machine for the evaluation. A file's key is its absolute path. */
import { constants, existsSync, realpathSync } from 'node:fs';
import { open, realpath, type FileHandle } from 'node:fs/promises';
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
    try {
      const real = await realpath(file);
      return isInside(this.#realRoot, real)
        ? await readPlainFile(real, limitBytes)
        : { ok: false, reason: 'unreadable' };
    } catch (error) {
      return { ok: false, reason: reasonOf(error) };
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

/** Never waits for a pipe, never reads a device, and holds no more than `limitBytes` however the file grows meanwhile. */
export async function readPlainFile(file: string, limitBytes: number): Promise<FileContent> {
  let handle;
  try {
    // Non-blocking: opening a pipe must not wait for somebody to write to it.
    handle = await open(file, constants.O_RDONLY | constants.O_NONBLOCK);
    const stat = await handle.stat();
    const { size } = stat;
    if (!stat.isFile()) return { ok: false, reason: 'not-a-file' };
    if (size > limitBytes) return { ok: false, reason: 'too-large', size };
    return await readAtMost(handle, size, limitBytes);
  } catch (error) {
    return { ok: false, reason: reasonOf(error) };
  } finally {
    await handle?.close();
  }
}

const pieceBytes = 64 * 1024;

/** @param size that the file is said to have: it may shrink or grow before the last byte is read */
async function readAtMost(handle: FileHandle, size: number, limitBytes: number): Promise<FileContent> {
  const pieces: Uint8Array[] = [];
  let length = 0;
  for (let room = size + 1; ; room = pieceBytes) {
    const { bytesRead, buffer } = await handle.read(new Uint8Array(room), 0, room);
    if (bytesRead === 0) break;
    pieces.push(buffer.subarray(0, bytesRead));
    length += bytesRead;
    if (length > limitBytes) return { ok: false, reason: 'too-large', size: length };
  }
  return { ok: true, bytes: pieces.length === 1 ? pieces[0]! : new Uint8Array(Buffer.concat(pieces)) };
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
