/**
 * `npm run bench`: what reading, a first check, a keystroke and the physics cost, targets first; `-- --large` the first check of
 * 20,000 sweeps too. Prints; asserts nothing.
 */
import { cpus, loadavg } from 'node:os';
import { isMainThread } from 'node:worker_threads';
import { benchCampaigns } from './campaignBench.js';
import { serveExpectedCurves } from './expectedCurves.js';
import { benchManyCampaigns } from './manyCampaignsBench.js';
import { benchManySweeps, measureTask } from './manySweepsBench.js';
import { benchPhysics } from './physicsBench.js';
import { benchTargets } from './targetsBench.js';
import { benchVectorised } from './vectorisedBench.js';
import { benchWriting } from './writingBench.js';

const [asked, task, strings, sweeps] = process.argv.slice(2);
if (!isMainThread) serveExpectedCurves();
else if (asked === '--measure') await measureTask(task!, Number(strings), Number(sweeps));
else await bench(asked === '--large');

async function bench(isLarge: boolean): Promise<void> {
  console.log(
    `Node ${process.version}, ${cpus().length} cores, ${cpus()[0]?.model ?? 'unknown processor'}; ` +
      `${loadavg()[0]!.toFixed(1)} programs wanted to run in the last minute.`,
  );
  await benchTargets();
  benchManySweeps(isLarge);
  benchManyCampaigns();
  benchVectorised();
  await benchCampaigns();
  benchPhysics();
  await benchWriting();
}
