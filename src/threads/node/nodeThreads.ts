/** Threads of Node for analysts. */
import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { AnalystReply } from '../../evaluation/analystMessages.js';
import type { ThreadHost } from '../../evaluation/ports.js';

export interface NodeThreadOptions {
  /** Default: as many as there are cores. */
  readonly atMost?: number;
  /** Milliseconds without work after which they are ended; absent: they stay until the process ends. */
  readonly restAfter?: number;
}

/**
 * They keep a process alive only as long as an answer is waited for.
 * @param program what a thread runs: the built `analyst.cjs`
 * @returns undefined where there is no such program
 */
export function nodeThreads(
  program: string,
  { atMost = availableParallelism(), restAfter }: NodeThreadOptions = {},
): ThreadHost | undefined {
  if (!existsSync(program)) return undefined;
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
      worker.on('messageerror', lost);
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
    afterRest(end) {
      if (restAfter === undefined) return () => undefined;
      const timer = setTimeout(end, restAfter).unref();
      return () => clearTimeout(timer);
    },
  };
}
