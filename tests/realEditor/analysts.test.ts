/** A large campaign in VS Code itself: its sweeps are computed in a thread beside the extension host, which is let go again. */
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { generateCampaign } from '../bench/generate.js';
import { startProbedSession, type ProbedSession } from './session.js';

const strings = 1000;

let session: ProbedSession;

beforeAll(async () => {
  session = await startProbedSession((folder) => {
    const generated = generateCampaign(strings);
    writeFileSync(path.join(folder, 'campaign.sweepbook'), generated.text);
    for (const [name, bytes] of generated.files) writeFileSync(path.join(folder, name), bytes);
  });
}, 180_000);

afterAll(() => session?.stop());

/** Threads of the extension host that run a program of the extension. */
const analysts = (): Promise<number> =>
  session.probe.run(() => {
    const { workers } = process.report.getReport() as unknown as { workers: unknown[] };
    return workers.length;
  }, undefined);

it('starts a thread, and lets it go', { timeout: 240_000, retry: 0 }, async () => {
  const { bench, probe } = session;
  const before = await analysts();
  await probe.run(({ watchLoop }) => watchLoop(), undefined);
  await bench.openFile('campaign.sweepbook');
  await expect.poll(analysts, { timeout: 60_000, interval: 100 }).toBeGreaterThan(before);
  const counts = bench.page.locator('[id$="sweepbook.counts"]');
  await expect.poll(() => counts.textContent(), { timeout: 120_000 }).toMatch(/● \d+/);
  const spans = await probe.run(({ blockedSpans }) => blockedSpans(), undefined);
  const longest = [...spans].sort((a, b) => b.cpu - a.cpu).slice(0, 8);
  console.log(
    `Longest stretches of the host without a turn while ${strings} sweeps were computed, ms of the processor: ` +
      longest.map(({ cpu }) => cpu.toFixed(0)).join(', '),
  );
  await expect.poll(analysts, { timeout: 60_000, interval: 1000 }).toBe(before);
});
