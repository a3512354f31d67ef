import { fileURLToPath } from 'node:url';
import { createContext, runInContext } from 'node:vm';
import { build } from 'esbuild';
import { describe, expect, it } from 'vitest';

describe('the extension for the browser', () => {
  it('needs nothing of Node, and loads where there is only what a worker has', async () => {
    const { outputFiles } = await build({
      entryPoints: [fileURLToPath(new URL('../../src/editor/extension.web.ts', import.meta.url))],
      bundle: true,
      platform: 'browser',
      format: 'cjs',
      external: ['vscode', 'stream'],
      write: false,
      logLevel: 'silent',
    });
    const asked: string[] = [];
    const code = outputFiles[0]!.text;
    // Whatever of the editor the code names is there.
    const anything: unknown = new Proxy(function () {}, { get: () => anything });
    const names = [...code.matchAll(/\b(?:import_)?vscode\d*\.(\w+)/g)].map(
      ([, name]) => [name!, anything] as const,
    );
    const editor = Object.fromEntries(names);
    const module: { exports: { activate?: unknown } } = { exports: {} };
    const worker = createContext({
      ...{
        module,
        exports: module.exports,
        TextDecoder,
        TextEncoder,
        AbortController,
        setTimeout,
        clearTimeout,
        crypto,
      },
      require: (name: string) => {
        asked.push(name);
        return editor;
      },
    });
    runInContext(code, worker);
    expect(module.exports.activate).toBeTypeOf('function');
    expect(new Set(asked)).toEqual(new Set(['vscode']));
  });
});
