import { fileURLToPath } from 'node:url';
import { Analysts } from '../evaluation/analysts.js';
import type { ThreadHost } from '../evaluation/ports.js';
import { nodeThreads, type NodeThreadOptions } from '../threads/node/nodeThreads.js';

/** What threads run, beside the built program. */
export const analystProgram = fileURLToPath(new URL('analyst.cjs', import.meta.url));

/** Undefined where the built program stands alone: it does everything itself then. */
export const threadsBesideProgram = (options?: NodeThreadOptions): ThreadHost | undefined =>
  nodeThreads(analystProgram, options);

const threads = threadsBesideProgram();

/** Those of this process, for one campaign at a time. */
export const analysts = threads && new Analysts(threads);
