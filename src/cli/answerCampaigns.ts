import type { AnswerCache } from './answerCache.js';
import type { CampaignAnswer, CampaignJob } from './campaignAnswer.js';
import { Crew, mostThreads, type Threads } from './campaignThreads.js';

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
}

/** Answers that may wait for an earlier campaign to be done: enough that no thread idles meanwhile. */
const mostAhead = 2 * mostThreads;

/** Answers campaigns in the order in which they are named, each as soon as it and those before it are done; ends early when it is given up. */
export async function* answerCampaigns(
  jobs: readonly CampaignJob[],
  { cache, threads, signal }: AnswerOptions,
): AsyncGenerator<CampaignOutcome> {
  const crew = new Crew(jobs.length > 1 ? threads : undefined, signal);
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
      if (!outcome || signal?.aborted) return;
      yield outcome;
    }
  } finally {
    crew.close();
  }
}
