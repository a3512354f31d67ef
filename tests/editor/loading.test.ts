/** The built extension as an editor loads it. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { compileFunction } from 'node:vm';
import { afterAll, beforeAll, expect, it } from 'vitest';

const project = fileURLToPath(new URL('../..', import.meta.url));
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'sweepbook-built-'));
  const build = ['esbuild.mjs', '--only', 'extension,extension-web', '--quiet', '--into', folder];
  expect(spawnSync(process.execPath, build, { cwd: project, encoding: 'utf8' })).toMatchObject({ status: 0 });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Whatever of the editor is named is there; `listed` counts how often somebody asks for all there is. */
function standIn(): { readonly editor: object; readonly listed: () => number } {
  let listed = 0;
  const anything: object = new Proxy(function () {}, { get: () => anything });
  const editor = new Proxy(
    {},
    {
      get: () => anything,
      ownKeys: () => {
        listed++;
        return [];
      },
    },
  );
  return { editor, listed: () => listed };
}

it.each(['extension.cjs', 'extension.web.js'])('%s copies nothing of the interface of the editor', (name) => {
  const file = path.join(folder, name);
  const { editor, listed } = standIn();
  const ask = createRequire(file);
  const module: { exports: { activate?: unknown } } = { exports: {} };
  const run = compileFunction(readFileSync(file, 'utf8'), ['module', 'exports', 'require']) as (
    ...given: unknown[]
  ) => void;
  run(module, module.exports, (id: string) => (id === 'vscode' ? editor : (ask(id) as unknown)));
  expect(module.exports.activate).toBeTypeOf('function');
  expect(listed()).toBe(0);
});
