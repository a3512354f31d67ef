import path from 'node:path';
import { examples, simulate } from './simulate.js';

for (const { root, truth } of examples) await simulate(path.resolve('examples', root), truth);
