import type { SweepsProgress } from '../evaluation/ports.js';
import { aTurn } from '../workspace/breathe.js';
import type { AnswerCache } from './answerCache.js';
import type { CampaignAnswer, CampaignJob } from './campaignAnswer.js';
import { Crew, mostThreads } from './campaignThreads.js';
import type { Threads } from './threads.js';

export type CampaignOutcome = { readonly file: string } & (
  | { readonly answer: CampaignAnswer; readonly failure?: undefined }
  /** A fault of the program or the machine, not of the campaign. */
  | { readonly answer?: undefined; readonly failure: string }
);

export interface AnswerOptions {
  readonly cache?: AnswerCache | undefined;
  /** Absent: one campaign after the other, in this thread. */
  readonly threads?: Threads | undefined;
  readonly signal?: AbortSignal | undefined;
  /** Told of campaigns that are computed in this thread. */
  readonly progress?: SweepsProgress | undefined;
}

/** Answers that may wait for an earlier campaign to be done: enough that no thread idles meanwhile. */
const mostAhead = 2 * mostThreads;

/** Answers campaigns in the order in which they are named, each as soon as it and those before it are done; ends early when it is given up. */
export async function* answerCampaigns(
  jobs: readonly CampaignJob[],
  { cache, threads, signal, progress }: AnswerOptions,
): AsyncGenerator<CampaignOutcome> {
  const crew = new Crew(jobs.length > 1 ? threads : undefined, signal, progress);
  const answered = async (job: CampaignJob): Promise<CampaignOutcome> => {
    const { file } = job.place;
    try {
      const kept = await cache?.find(job);
      if (kept) return { file, answer: kept };
      const answer = await crew.run(job);
      cache?.keep(job, answer);
      return { file, answer };
    } catch (error) {
      return { file, failure: error instanceof Error ? error.message : String(error) };
    }
  };
  const running: Promise<CampaignOutcome>[] = [];
  let next = 0;
  try {
    for (;;) {
      while (next < jobs.length && running.length < mostAhead) running.push(answered(jobs[next++]!));
      const outcome = await running.shift();
      // A signal that came while this thread was at work is heard of between two turns of its event loop.
      await aTurn();
      await aTurn();
      if (!outcome || signal?.aborted) return;
      yield outcome;
    }
  } finally {
    crew.close();
  }
}
