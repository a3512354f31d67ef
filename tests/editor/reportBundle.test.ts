/** The program that the extension loads when a report is asked for, as it loads it: also in the browser. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { createContext, runInContext } from 'node:vm';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { renderReport } from '../../src/report/renderReport.js';
import { example, options } from '../report/campaigns.js';
import { MemoryFiles } from '../evaluation/memoryFiles.js';
import { readPdf } from '../report/pdfPages.js';

const project = fileURLToPath(new URL('../..', import.meta.url));
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'sweepbook-built-'));
  const build = ['esbuild.mjs', '--only', 'report', '--quiet', '--into', folder];
  expect(spawnSync(process.execPath, build, { cwd: project, encoding: 'utf8' })).toMatchObject({ status: 0 });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

it('writes a PDF where there is only what a worker of a browser has', async () => {
  const code = readFileSync(path.join(folder, 'report.js'), 'utf8');
  const worker = createContext({
    TextDecoder,
    TextEncoder,
    atob,
    queueMicrotask,
    setTimeout,
    clearTimeout,
    setInterval,
    clearInterval,
    structuredClone,
    URL,
    performance,
    console,
  });
  const module: { exports: { renderReport?: typeof renderReport } } = { exports: {} };
  const run = runInContext('(code) => new Function("module", "exports", code)', worker) as (
    code: string,
  ) => (module: object, exports: object) => void;
  run(code)(module, module.exports);
  const evaluation = await example('harrow-fen-sample');
  const steps = new Set<string>();
  const bytes = await module.exports.renderReport!(evaluation, options, {
    format: 'pdf',
    created: new Date(0),
    files: new MemoryFiles(),
    progress: (step) => void steps.add(step),
  });
  const { pages } = await readPdf(Uint8Array.from(bytes as Uint8Array));
  expect(pages.map(({ text }) => text).join('\n')).toContain('Harrow Fen packing house, commissioning');
  expect([...steps]).toEqual(['curves', 'pages']);
}, 60_000);

it('is given up by throwing', async () => {
  const { renderReport: render } = await import('../../src/report/renderReport.js');
  const given = new Error('given up');
  const progress = (): void => {
    throw given;
  };
  const written = render(await example('harrow-fen-sample'), options, {
    format: 'pdf',
    created: new Date(0),
    files: new MemoryFiles(),
    progress,
  });
  await expect(written).rejects.toBe(given);
});
