/**
 * The same files give the same results, byte for byte, on every supported version of Node and in a browser. The campaigns are
 * generated: simulated faults of every kind among healthy strings, and procedures and decisions in turn.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import * as esbuild from 'esbuild';
import { chromium } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { faultCampaign } from '../faults/faultCampaign.js';
import { truths } from '../faults/truths.js';
import { chromiumOptions } from '../realEditor/chromium.js';
import { installedNodes, needChromium, projectFolder } from '../realEditor/editorInstall.mjs';
import type { Computed, Given } from './computed.js';

const folder = mkdtempSync(path.join(tmpdir(), 'sweepbook-engines-'));
const bundle = path.join(folder, 'computed.mjs');
/** The same for a page. */
const script = path.join(folder, 'computed.js');
const program = path.join(folder, 'run.mjs');

const procedures = ['auto', 'IEC60891-1', 'IEC60891-2', 'Hishikawa-2018'] as const;

const campaigns: Given[] = truths.map((truth, index) => {
  const { text, tables } = faultCampaign(truth, 70_001 + index, { peers: 2 });
  const procedure = procedures[index % procedures.length]!;
  const decision = index % 2 === 0 ? 'simple' : 'guarded';
  const [before, after] = text.split(/^criteria acceptance\n/m);
  const criteria = `criteria acceptance\n  procedure ${procedure}\n  decision ${decision}\n`;
  const rest = after!.replace(/^ {2}(?:procedure|decision) .*\n/gm, '');
  return { text: `${before}${criteria}${rest}`, tables };
});

let here: Computed;

beforeAll(async () => {
  needChromium();
  const common = {
    entryPoints: [path.join(projectFolder, 'tests/engines/computed.ts')],
    bundle: true,
    platform: 'browser',
    target: 'es2022',
    external: ['stream'],
    logLevel: 'error',
  } satisfies esbuild.BuildOptions;
  await esbuild.build({ ...common, outfile: bundle, format: 'esm' });
  await esbuild.build({ ...common, outfile: script, format: 'iife', globalName: 'engine' });
  writeFileSync(path.join(folder, 'campaigns.json'), JSON.stringify(campaigns));
  writeFileSync(
    program,
    `import { readFileSync } from 'node:fs';
import { computed } from './computed.mjs';
const campaigns = JSON.parse(readFileSync(new URL('campaigns.json', import.meta.url), 'utf8'));
process.stdout.write(JSON.stringify(await computed(campaigns)));
`,
  );
  here = inNode(process.execPath);
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const inNode = (node: string): Computed =>
  JSON.parse(execFileSync(node, [program], { maxBuffer: 1 << 28 }).toString()) as Computed;

it('computes something worth comparing', () => {
  const verdicts = new Set(
    [...here.results.matchAll(/^sweep\t[^\t]*\t[^\t]*\t([^\t]*)/gm)].map((match) => match[1]),
  );
  expect([...verdicts].sort()).toEqual(expect.arrayContaining(['fail', 'pass']));
  expect(here.results.match(/^sweep\t/gm)!.length).toBe(3 * campaigns.length);
  expect(new Set(here.results.match(/procedure \S+/g)).size).toBeGreaterThan(2);
  expect(new Set(here.results.match(/cause \S+/g)).size).toBeGreaterThan(5);
});

it.each(installedNodes())('computes the same in Node $version', ({ version, program: node }) => {
  expect(execFileSync(node, ['--version']).toString()).toMatch(new RegExp(`^v${version}\\.`));
  const there = inNode(node);
  expect(there.results).toBe(here.results);
  expect(there.json).toBe(here.json);
});

it('computes the same in a browser', async () => {
  const browser = await chromium.launch(chromiumOptions);
  try {
    const page = await browser.newPage();
    await page.addScriptTag({ path: script });
    const there = await page.evaluate(
      (given) =>
        (
          globalThis as unknown as { engine: { computed: (campaigns: unknown) => Promise<Computed> } }
        ).engine.computed(given),
      campaigns,
    );
    expect(there.results).toBe(here.results);
    expect(there.json).toBe(here.json);
  } finally {
    await browser.close();
  }
});
