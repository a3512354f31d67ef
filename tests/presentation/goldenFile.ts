import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';

const folder = path.join(path.dirname(fileURLToPath(import.meta.url)), 'golden');

/**
 * Holds a text against the committed file of this name. With UPDATE_GOLDEN=1 the file is written anew, for a look at the
 * difference before it is committed.
 */
export function expectGolden(name: string, actual: string): void {
  const target = path.join(folder, name);
  if (process.env['UPDATE_GOLDEN'] === '1') {
    mkdirSync(folder, { recursive: true });
    writeFileSync(target, actual);
  }
  expect(existsSync(target), `${name} is missing; write it with UPDATE_GOLDEN=1`).toBe(true);
  expect(actual).toBe(readFileSync(target, 'utf8'));
}
