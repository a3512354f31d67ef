import { randomUUID } from 'node:crypto';
import { chmod, mkdir, open, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import path from 'node:path';

const unfinishedBegin = '.sweepbook-';
const unfinishedEnd = '.part';

/** A name that a program which was killed may have left behind. */
export const isUnfinished = (name: string): boolean =>
  name.startsWith(unfinishedBegin) && name.endsWith(unfinishedEnd);

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
    await mkdir(path.dirname(target), { recursive: true });
    const file = await realpath(target).catch(() => target);
    const former = await stat(file).catch(() => undefined);
    if (former && !former.isFile()) throw new Error('there is something of this name that is not a file');
    if (former) await (await open(file, 'r+')).close();
    // Of its own name, so that it is as short as any and no two writers share it.
    const unfinished = path.join(path.dirname(file), `${unfinishedBegin}${randomUUID()}${unfinishedEnd}`);
    try {
      await writeFile(unfinished, content, { flag: 'wx', flush: isLasting });
      if (former) await chmod(unfinished, former.mode);
      await rename(unfinished, file);
    } finally {
      await rm(unfinished, { force: true });
    }
  } catch (error) {
    throw new Error(wordsOf(error as NodeJS.ErrnoException), { cause: error });
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
  ELOOP: 'the links on the path lead back to themselves',
};

function wordsOf({ code = '', message }: NodeJS.ErrnoException): string {
  return words[code] ?? message;
}
