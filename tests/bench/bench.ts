/** `npm run bench`: what reading, a first check, a keystroke and the physics cost, targets first. Prints; asserts nothing. */
import { cpus, loadavg } from 'node:os';
import { benchCampaigns } from './campaignBench.js';
import { benchPhysics } from './physicsBench.js';
import { benchTargets } from './targetsBench.js';
import { benchVectorised } from './vectorisedBench.js';
import { benchWriting } from './writingBench.js';

console.log(
  `Node ${process.version}, ${cpus().length} cores, ${cpus()[0]?.model ?? 'unknown processor'}; ` +
    `${loadavg()[0]!.toFixed(1)} programs wanted to run in the last minute.`,
);
await benchTargets();
benchVectorised();
await benchCampaigns();
benchPhysics();
await benchWriting();
