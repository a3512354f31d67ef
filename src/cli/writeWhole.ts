import { randomUUID } from 'node:crypto';
import { chmod, lstat, open, readdir, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { makeFolder } from './makeFolder.js';
import { isLeftover, isUnfinished, unfinishedName } from '../workspace/unfinishedFiles.js';

/**
 * Writes a file with its folder. The former file stays until the new one is whole and on the disk: an interrupted run, a full disk
 * and two programs that write at once leave one of the files, never a part of one. What a link leads to is written; permissions stay,
 * and a file that may only be read is left alone.
 *
 * @param isLasting false for what can be had again: it need not be on the disk when the power fails, which takes far less time
 * @throws an error whose message says in plain words why nothing was written
 */
export async function writeWhole(
  target: string,
  content: string | Uint8Array,
  { isLasting = true }: { readonly isLasting?: boolean } = {},
): Promise<void> {
  try {
    await makeFolder(path.dirname(target));
    const file = await realpath(target).catch(() => target);
    const former = await stat(file).catch(() => undefined);
    if (former && !former.isFile()) throw new Error('there is something of this name that is not a file');
    if (former) await (await open(file, 'r+')).close();
    // Of its own name, so that it is as short as any and no two writers share it.
    const unfinished = path.join(path.dirname(file), unfinishedName(randomUUID()));
    try {
      await writeFile(unfinished, content, { flag: 'wx', flush: isLasting });
      if (former) await chmod(unfinished, former.mode);
      await rename(unfinished, file);
    } finally {
      await rm(unfinished, { force: true });
    }
    if (isLasting) await removeLeftovers(path.dirname(file));
  } catch (error) {
    throw new Error(wordsOf(error as NodeJS.ErrnoException), { cause: error });
  }
}

/** Of writers that were killed. What cannot be removed stays: the file that was asked for is written. */
async function removeLeftovers(folder: string): Promise<void> {
  const names = await readdir(folder).catch(() => []);
  for (const name of names.filter(isUnfinished)) {
    const file = path.join(folder, name);
    const found = await lstat(file).catch(() => undefined);
    if (found?.isFile() && isLeftover(name, found.mtimeMs)) await rm(file).catch(() => undefined);
  }
}

const words: Readonly<Record<string, string>> = {
  ENOSPC: 'the disk is full',
  EDQUOT: 'the quota of this user is used up',
  EROFS: 'this disk may only be read',
  EACCES: 'this user may not write there',
  EPERM: 'this user may not write there',
  ENAMETOOLONG: 'the name is too long for this disk',
  ENOTDIR: 'a part of the path is a file, not a folder',
  EEXIST: 'a part of the path is a file, not a folder',
  EISDIR: 'there is a folder of this name',
  ENOENT: 'no folder can be made there',
  ELOOP: 'the links on the path lead back to themselves',
};

/** Why nothing was written, in plain words. */
export function wordsOf({ code = '', message }: NodeJS.ErrnoException): string {
  return words[code] ?? message;
}
