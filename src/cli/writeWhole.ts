import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';

/** Writes a file with its folder; an interrupted run leaves the former file as it was. */
export async function writeWhole(target: string, content: string | Uint8Array): Promise<void> {
  await mkdir(path.dirname(target), { recursive: true });
  const unfinished = `${target}.${process.pid}.part`;
  try {
    await writeFile(unfinished, content);
    await rename(unfinished, target);
  } finally {
    await rm(unfinished, { force: true });
  }
}
