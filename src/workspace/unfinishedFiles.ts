/**
 * Names of files that are being written and take their own name once they are whole. A program that is killed leaves one behind; the
 * next one that writes to the same folder takes it away.
 */
const begin = '.sweepbook-';
const end = '.part';
const pattern = /^\.sweepbook-[0-9a-f-]{36,48}\.part$/;

/** Milliseconds: nothing is written for so long. */
const longestWrite = 3_600_000;

/** @param unique 36 to 48 hexadecimal digits and hyphens that no other writer has */
export const unfinishedName = (unique: string): string => `${begin}${unique}${end}`;

export const isUnfinished = (name: string): boolean => pattern.test(name);

/**
 * Was it left behind by a program that was killed?
 * @param modified when it was last written to, in milliseconds since 1970
 */
export function isLeftover(name: string, modified: number, now = Date.now()): boolean {
  return isUnfinished(name) && now - modified > longestWrite;
}
