import { mkdir, stat } from 'node:fs/promises';
import path from 'node:path';

/**
 * Makes a folder and those above it that are missing. Not by the option `recursive` of `mkdir`: with it Node 20 to 24 never comes back where
 * the system says that a folder is missing that it does not let anybody make, as in `/proc`.
 *
 * @returns false where it was there
 * @throws what the system says of the folder that could not be made
 */
export async function makeFolder(folder: string, mode = 0o777): Promise<boolean> {
  const absolute = path.resolve(folder);
  const parent = path.dirname(absolute);
  try {
    return await madeIn(absolute, mode);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT' || parent === absolute) throw error;
    await makeFolder(parent, mode);
    return madeIn(absolute, mode);
  }
}

async function madeIn(folder: string, mode: number): Promise<boolean> {
  try {
    await mkdir(folder, { mode });
    return true;
  } catch (error) {
    const found = await stat(folder).catch(() => undefined);
    if (found?.isDirectory()) return false;
    throw error;
  }
}
