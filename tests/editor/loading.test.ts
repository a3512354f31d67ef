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

/** Runs a built file as an editor does, with what it requires; `read` names the files, in order. */
function load(name: string, editor: object, read: string[]): { readonly activate?: unknown } {
  const file = path.join(folder, name);
  read.push(name);
  const ask = createRequire(file);
  const module = { exports: {} };
  const run = compileFunction(readFileSync(file, 'utf8'), ['module', 'exports', 'require']) as (
    ...given: unknown[]
  ) => void;
  run(module, module.exports, (id: string): unknown => {
    if (id === 'vscode') return editor;
    return id.startsWith('.') ? load(path.basename(id), editor, read) : ask(id);
  });
  return module.exports;
}

it.each([
  ['extension.cjs', ['extension.cjs', 'extension.chunk.cjs']],
  ['extension.web.js', ['extension.web.js']],
])('%s reads what starting needs, and copies nothing of the interface of the editor', (name, files) => {
  const { editor, listed } = standIn();
  const read: string[] = [];
  expect(load(name, editor, read).activate).toBeTypeOf('function');
  expect(read).toEqual(files);
  expect(listed()).toBe(0);
});

it('has the rest in a file of its own', () => {
  const { editor, listed } = standIn();
  const later = load('extension.later.cjs', editor, []) as Record<string, unknown>;
  for (const name of ['CurvesPanels', 'ComparePanels', 'bringSweepsIn', 'writeReport', 'completionsAt'])
    expect(later[name], name).toBeTypeOf('function');
  expect(listed()).toBe(0);
});
