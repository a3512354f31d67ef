/** The built program with its analysts beside it: the same output as alone, in threads that are really there. */
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { generateCampaign } from '../bench/generate.js';

const project = fileURLToPath(new URL('../..', import.meta.url));
let folder: string;
let alone: ReturnType<typeof check>;

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'sweepbook-analysts-'));
  const build = ['esbuild.mjs', '--only', 'cli,analyst', '--quiet', '--into', path.join(folder, 'built')];
  expect(spawnSync(process.execPath, build, { cwd: project, encoding: 'utf8' })).toMatchObject({ status: 0 });
  const generated = generateCampaign(150, 40);
  mkdirSync(path.join(folder, 'campaign'));
  writeFileSync(path.join(folder, 'campaign/c.sweepbook'), generated.text);
  for (const [name, bytes] of generated.files) writeFileSync(path.join(folder, 'campaign', name), bytes);
  alone = check('alone', '');
  // Some strings of the day are too dark for the criteria; none fails.
  expect(alone).toMatchObject({ status: 0, stderr: '' });
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The program in a folder of its own, with what stands beside it for its analysts: nothing where it is empty. */
function check(name: string, analyst: string): { status: number | null; stdout: string; stderr: string } {
  const place = path.join(folder, name);
  mkdirSync(place);
  cpSync(path.join(folder, 'built/cli.mjs'), path.join(place, 'cli.mjs'));
  if (analyst !== '') {
    cpSync(path.join(folder, 'built/analyst.cjs'), path.join(place, 'real.cjs'));
    writeFileSync(path.join(place, 'analyst.cjs'), analyst);
  }
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [path.join(place, 'cli.mjs'), 'check', '--no-cache', '--format', 'json', path.join(folder, 'campaign')],
    { encoding: 'utf8', timeout: 120_000, maxBuffer: 1e8 },
  );
  return { status, stdout, stderr };
}

it('asks its analysts, and ends when they have answered', { timeout: 120_000 }, () => {
  const seen = JSON.stringify(path.join(folder, 'seen'));
  const marking = `require('node:fs').writeFileSync(${seen}, ''); require('./real.cjs');`;
  expect(check('together', marking)).toEqual(alone);
  expect(existsSync(path.join(folder, 'seen'))).toBe(true);
});

it.each([
  ['end at once', 'process.exit(7);'],
  ['cannot be read', 'this is no program'],
  [
    'end in the middle of a batch',
    "require('node:worker_threads').parentPort.on('message', () => process.exit(0));",
  ],
])('analysts that %s change nothing', { timeout: 120_000 }, (what, analyst) => {
  expect(check(what.replaceAll(' ', '-'), analyst)).toEqual(alone);
});
