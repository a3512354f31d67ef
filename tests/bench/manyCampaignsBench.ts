/** `check` over many campaigns, as the built program does it: on one core, on all, and again with its answers kept. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { generateCampaign } from './generate.js';

export function benchManyCampaigns(campaigns = 200, strings = 20): void {
  const folder = mkdtempSync(path.join(tmpdir(), 'sweepbook-bench-'));
  try {
    for (let index = 0; index < campaigns; index++) writeCampaign(folder, index, strings);
    console.log(`\ncheck over ${campaigns} campaigns of ${strings} sweeps, by the clock:`);
    const kept = ['--cache', path.join(folder, 'kept')];
    const onAll = `on ${availableParallelism()} cores`;
    say('on one core (taskset)', ['taskset', '-c', '0'], ['--no-cache'], folder);
    say(onAll, [], ['--no-cache'], folder);
    say(`${onAll}, answers written`, [], kept, folder);
    say('again, nothing changed', [], kept, folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Each of its own: no two have one nameplate. */
function writeCampaign(folder: string, index: number, strings: number): void {
  const { text, files } = generateCampaign(strings);
  const site = path.join(folder, `site-${String(index).padStart(3, '0')}`);
  mkdirSync(site);
  writeFileSync(
    path.join(site, 'campaign.sweepbook'),
    text.replace('408.4 W', `${(408 + index / 100).toFixed(2)} W`),
  );
  for (const [name, bytes] of files) writeFileSync(path.join(site, name), bytes);
}

function say(what: string, before: readonly string[], options: readonly string[], cwd: string): void {
  const program = fileURLToPath(new URL('cli.mjs', import.meta.url));
  const [command, ...args] = [...before, process.execPath, program, 'check', '.', ...options];
  const started = performance.now();
  const { status } = spawnSync(command!, args, { cwd, stdio: 'ignore' });
  const seconds = ((performance.now() - started) / 1000).toFixed(1);
  console.log(`  ${what.padEnd(32)}${status === null ? 'could not be run' : `${seconds} s`}`);
}
