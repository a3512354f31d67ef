/** The program as it is shipped, built beside dist/ and not in it: a build of somebody else's must not be what is tested. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect } from 'vitest';

export const project = fileURLToPath(new URL('../..', import.meta.url));

export interface BuiltProgram {
  folder: string;
  program: string;
}

/**
 * Its places are known once the tests of a file run.
 * @param targets that are built together; analysts are looked for beside the program
 */
export function builtProgram(targets: readonly string[] = ['cli']): BuiltProgram {
  const built = { folder: '', program: '' };
  beforeAll(() => {
    built.folder = mkdtempSync(path.join(tmpdir(), 'sweepbook-built-'));
    built.program = path.join(built.folder, 'cli.mjs');
    const build = ['esbuild.mjs', '--only', targets.join(','), '--quiet', '--into', built.folder];
    const { status, stderr } = spawnSync(process.execPath, build, { cwd: project, encoding: 'utf8' });
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  });
  afterAll(() => rmSync(built.folder, { recursive: true, force: true }));
  return built;
}
