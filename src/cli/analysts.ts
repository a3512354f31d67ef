import { fileURLToPath } from 'node:url';
import { Analysts } from '../evaluation/analysts.js';
import { nodeThreads } from '../threads/node/nodeThreads.js';

const threads = nodeThreads(fileURLToPath(new URL('analyst.cjs', import.meta.url)));

/** Those of this process, for one campaign at a time. Undefined where the built program stands alone: it does everything itself then. */
export const analysts = threads && new Analysts(threads);
