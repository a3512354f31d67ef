/** Analysts in this thread who get and give nothing but structured clones, as those in threads of a host do. */
import { analystAtWork } from '../../src/evaluation/analyst.js';
import type { AnalystReply, AnalystRequest } from '../../src/evaluation/analystMessages.js';
import type { ThreadHost } from '../../src/evaluation/ports.js';

export interface ClonedThreads extends ThreadHost {
  /** As they arrived. */
  readonly replies: AnalystReply[];
  readonly requests: AnalystRequest[];
  /** Threads that were started; and of them those that were ended by whoever had them started. */
  started: number;
  ended: number;
}

/** @param fate asked before each request is worked on: false, and the thread is lost with it */
export function clonedThreads(
  atMost: number,
  fate: (request: AnalystRequest, thread: number) => boolean = () => true,
): ClonedThreads {
  const host: ClonedThreads = {
    atMost,
    replies: [],
    requests: [],
    started: 0,
    ended: 0,
    start(listener) {
      const number = host.started++;
      let alive = true;
      const handle = analystAtWork((reply) => {
        const copy = structuredClone(reply);
        setTimeout(() => {
          if (!alive) return;
          host.replies.push(copy);
          listener.replied(copy);
        });
      });
      return {
        post(request) {
          const copy = structuredClone(request);
          host.requests.push(copy);
          setTimeout(() => {
            if (!alive) return;
            if (fate(copy, number)) return handle(copy);
            alive = false;
            listener.lost();
          });
        },
        end() {
          alive = false;
          host.ended++;
        },
      };
    },
  };
  return host;
}
