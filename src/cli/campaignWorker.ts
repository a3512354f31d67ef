import type { MessagePort } from 'node:worker_threads';
import { answerJob, type CampaignJob } from './campaignAnswer.js';
import type { ThreadReply } from './campaignThreads.js';

/** What a thread beside the first one does: a job comes, its answer goes. */
export function serveJobs(port: MessagePort): void {
  port.on('message', (job: CampaignJob) => {
    answerJob(job).then(
      (answer) => port.postMessage({ answer } satisfies ThreadReply),
      (error: unknown) =>
        port.postMessage({
          failure: error instanceof Error ? error.message : String(error),
        } satisfies ThreadReply),
    );
  });
}
