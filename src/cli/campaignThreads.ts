/** Who computes campaigns: this thread, or threads beside it. Each has one campaign at a time, so as many are held as there are threads. */
import { availableParallelism } from 'node:os';
import type { Worker } from 'node:worker_threads';
import type { SweepsHelp } from '../evaluation/evaluateSweeps.js';
import type { SweepsProgress } from '../evaluation/ports.js';
import { EvaluationCancelled } from '../evaluation/workbook.js';
import { breatheInTurns } from '../workspace/breathe.js';
import { analysts } from './analysts.js';
import { answerJob, type CampaignAnswer, type CampaignJob } from './campaignAnswer.js';
import type { Threads } from './threads.js';

/** More would take memory rather than time: each holds the program and a campaign. */
export const mostThreads = 8;

/** What a thread says of a job. */
export type ThreadReply = { readonly answer: CampaignAnswer } | { readonly failure: string };

interface Seat {
  run(job: CampaignJob): Promise<CampaignAnswer>;
  close(): void;
}

/** Milliseconds after which Ctrl-C and the answers of threads are looked for. */
const turn = 50;

function seatHere(signal: AbortSignal | undefined, help: SweepsHelp): Seat {
  return {
    run: (job) => answerJob(job, { breathe: breatheInTurns(turn), ...help }, signal),
    // What they work on would be waited for.
    close: () => signal?.aborted && help.analysts?.end(),
  };
}

/** A thread that is started with its first job, and again with the next one after it broke down. */
class ThreadSeat implements Seat {
  readonly #start: () => Worker;
  readonly #here: Seat;
  #worker: Worker | undefined;
  #closed = false;

  /** @param here takes the jobs of a thread that cannot be started */
  constructor(start: () => Worker, here: Seat) {
    this.#start = start;
    this.#here = here;
  }

  async run(job: CampaignJob): Promise<CampaignAnswer> {
    if (this.#closed) throw new EvaluationCancelled();
    let isThere = this.#worker !== undefined;
    try {
      this.#worker ??= this.#start();
    } catch {
      return this.#here.run(job);
    }
    const worker = this.#worker;
    return new Promise<CampaignAnswer>((resolve, reject) => {
      const broken = (error: Error): void => {
        this.#worker = undefined;
        if (this.#closed) reject(new EvaluationCancelled());
        else if (isThere) reject(error);
        else resolve(this.#here.run(job));
      };
      worker.removeAllListeners();
      worker.once('online', () => (isThere = true));
      worker.once('message', (reply: ThreadReply) => {
        if ('answer' in reply) resolve(reply.answer);
        else reject(new Error(reply.failure));
      });
      worker.once('error', broken);
      worker.once('messageerror', broken);
      worker.once('exit', (code) => broken(new Error(`its thread ended with ${code}`)));
      worker.postMessage(job);
    });
  }

  close(): void {
    this.#closed = true;
    void this.#worker?.terminate();
  }
}

interface Task {
  readonly job: CampaignJob;
  readonly resolve: (answer: CampaignAnswer) => void;
  readonly reject: (error: unknown) => void;
}

/** A thread takes about as long to start. */
const defaultPatience = 400;

/**
 * Begins in this thread, since a few small campaigns are done before a thread is there. What takes longer goes to threads, and this
 * one is left to print.
 */
export class Crew {
  readonly #threads: Threads | undefined;
  readonly #signal: AbortSignal | undefined;
  readonly #here: Seat;
  readonly #waiting: Task[] = [];
  readonly #seats = new Set<Seat>();
  readonly #idle: Seat[] = [];
  #timer: NodeJS.Timeout | undefined;
  #hasThreads = false;

  /** @param threads absent: everything is computed in this thread */
  constructor(threads: Threads | undefined, signal?: AbortSignal, progress?: SweepsProgress) {
    this.#threads = threads;
    this.#signal = signal;
    // Several campaigns are shared out between threads as they are; of one alone, its sweeps.
    this.#here = seatHere(signal, { analysts: threads ? undefined : analysts, progress });
    this.#add(this.#here);
    signal?.addEventListener('abort', this.#giveUp);
  }

  /** Rejects where the campaign cannot be computed, which never is for what its author wrote, and when all is given up. */
  run(job: CampaignJob): Promise<CampaignAnswer> {
    return new Promise((resolve, reject) => {
      if (this.#signal?.aborted) return reject(new EvaluationCancelled());
      this.#waiting.push({ job, resolve, reject });
      this.#next();
    });
  }

  close(): void {
    this.#signal?.removeEventListener('abort', this.#giveUp);
    clearTimeout(this.#timer);
    for (const seat of this.#seats) seat.close();
  }

  readonly #giveUp = (): void => {
    for (const { reject } of this.#waiting.splice(0)) reject(new EvaluationCancelled());
    this.close();
  };

  #add(seat: Seat): void {
    this.#seats.add(seat);
    this.#idle.push(seat);
  }

  #next(): void {
    while (this.#idle.length > 0 && this.#waiting.length > 0)
      void this.#runOn(this.#idle.pop()!, this.#waiting.shift()!);
    const threads = this.#threads;
    if (this.#waiting.length === 0 || !threads || this.#hasThreads) return;
    const { patience = defaultPatience } = threads;
    if (patience === 0) this.#takeThreads(threads);
    else this.#timer ??= setTimeout(() => this.#takeThreads(threads), patience);
  }

  async #runOn(seat: Seat, { job, resolve, reject }: Task): Promise<void> {
    await seat.run(job).then(resolve, reject);
    if (this.#seats.has(seat)) this.#idle.push(seat);
    this.#next();
  }

  #takeThreads({ start, count = Math.min(availableParallelism(), mostThreads) }: Threads): void {
    this.#timer = undefined;
    if (this.#waiting.length === 0) return;
    this.#hasThreads = true;
    // This thread ends what it has begun.
    this.#seats.clear();
    this.#idle.length = 0;
    for (let each = 0; each < count; each++) this.#add(new ThreadSeat(start, this.#here));
    this.#next();
  }
}
