/** Workers of a browser for analysts; also inside a worker, such as the one that extensions run in. */
import type { AnalystReply } from '../../evaluation/analystMessages.js';
import type { ThreadHost } from '../../evaluation/ports.js';

/** Milliseconds without work after which they are ended. */
const restAfter = 30_000;

/**
 * @param program what a worker runs: the built `analyst.web.js`. It is read when the first worker is wanted, and run from memory, since
 *   the place it is read from may be another site, which no worker may come from
 * @returns undefined where there are no workers
 */
export function webThreads(program: () => PromiseLike<Uint8Array>): ThreadHost | undefined {
  if (typeof Worker === 'undefined') return undefined;
  return {
    atMost: 1,
    start({ replied, lost }) {
      let isEnded = false;
      const started = Promise.resolve(program()).then((bytes) => {
        const url = URL.createObjectURL(new Blob([bytes], { type: 'text/javascript' }));
        const worker = new Worker(url);
        worker.onmessage = ({ data }) => {
          // It has read its program once it answers.
          URL.revokeObjectURL(url);
          replied(data as AnalystReply);
        };
        worker.onmessageerror = lost;
        worker.onerror = (event) => {
          event.preventDefault();
          lost();
        };
        return worker;
      });
      // A worker that is refused is one that is lost.
      const withWorker = (use: (worker: Worker) => void): void => void started.then(use).catch(lost);
      return {
        post: (request) => withWorker((worker) => isEnded || worker.postMessage(request)),
        end() {
          isEnded = true;
          withWorker((worker) => worker.terminate());
        },
      };
    },
    afterRest(end) {
      const timer = setTimeout(end, restAfter);
      return () => clearTimeout(timer);
    },
  };
}
