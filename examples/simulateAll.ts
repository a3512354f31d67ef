import path from 'node:path';
import { examples, simulate, simulateMistakes } from './simulate.js';

for (const { root, truth } of examples) await simulate(path.resolve('examples', root), truth);
await simulateMistakes(path.resolve('examples/mistakes/campaign.sweepbook'));
