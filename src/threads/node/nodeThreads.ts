/** Threads of Node for analysts. */
import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { AnalystReply } from '../../evaluation/analystMessages.js';
import type { ThreadHost } from '../../evaluation/ports.js';

/**
 * They keep a process alive only as long as an answer is waited for.
 * @param program what a thread runs: the built `analyst.cjs`
 * @param spared cores that are left to others
 * @returns undefined where there is no such program, or no core to spare
 */
export function nodeThreads(program: string, spared = 0): ThreadHost | undefined {
  const atMost = availableParallelism() - spared;
  if (atMost < 1 || !existsSync(program)) return undefined;
  return {
    atMost,
    start({ replied, lost }) {
      const worker = new Worker(program);
      worker.unref();
      let unanswered = 0;
      worker.on('message', (reply: AnalystReply) => {
        if (--unanswered === 0) worker.unref();
        replied(reply);
      });
      worker.on('error', lost);
      worker.on('exit', lost);
      return {
        post(request) {
          worker.postMessage(request);
          if (request.kind !== 'drop' && unanswered++ === 0) worker.ref();
        },
        end: () => void worker.terminate(),
      };
    },
  };
}
