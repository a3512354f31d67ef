import { fileURLToPath } from 'node:url';
import { Analysts } from '../evaluation/analysts.js';
import type { ThreadHost } from '../evaluation/ports.js';
import { nodeThreads, type NodeThreadOptions } from '../threads/node/nodeThreads.js';

/** Undefined where the built program stands alone: it does everything itself then. */
export const threadsBesideProgram = (options?: NodeThreadOptions): ThreadHost | undefined =>
  nodeThreads(fileURLToPath(new URL('analyst.cjs', import.meta.url)), options);

const threads = threadsBesideProgram();

/** Those of this process, for one campaign at a time. */
export const analysts = threads && new Analysts(threads);
