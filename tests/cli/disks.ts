/** Disks and users for whom writing fails. */
import { execFileSync } from 'node:child_process';
import { onTestFinished } from 'vitest';
import { folderOf } from './runInFolder.js';

const isRoot = process.getuid?.() === 0;

/** A disk of 64 kB; undefined where this user may not mount one. */
export function smallDisk(): string | undefined {
  const folder = folderOf();
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=64k', 'tmpfs', folder], { stdio: 'ignore' });
  } catch {
    return undefined;
  }
  onTestFinished(() => void execFileSync('umount', ['-l', folder]));
  return folder;
}

/** Root may write everywhere: for a while, this process is nobody. */
export async function asNobody<T>(work: () => Promise<T>): Promise<T> {
  if (!isRoot) return work();
  process.seteuid!(65534);
  try {
    return await work();
  } finally {
    process.seteuid!(0);
  }
}
