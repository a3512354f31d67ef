/**
 * Analysts in threads of the host, to whom evaluations hand batches of sweeps. Nothing depends on them: what they do not answer,
 * since a thread was lost or none could be had, is computed where it is asked for.
 */
import type {
  AnalysedSweep,
  AnalystReply,
  AnalystRequest,
  DiagnosedSweep,
  DiagnosisTask,
  SweepTask,
} from './analystMessages.js';
import type { ModuleRecord } from '../campaign/model.js';
import type { AnalystThread, ThreadHost } from './ports.js';

/** Requests that a thread has at a time: one that it works on, and one so that it need not wait for the next. */
const requestsAhead = 2;

interface Job {
  /** Undefined once nobody wants the answer any more. */
  readonly request: () => AnalystRequest | undefined;
  readonly answered: (reply: AnalystReply, by: Thread) => void;
  /** Nobody will answer. */
  readonly refused: () => void;
}

class Thread {
  /** Of batches that this thread keeps. */
  readonly jobs: Job[] = [];
  readonly #thread: AnalystThread;
  readonly #asked: Job[] = [];

  constructor(host: ThreadHost, heard: () => void, lost: (thread: Thread) => void) {
    this.#thread = host.start({
      replied: (reply) => {
        this.#asked.shift()?.answered(reply, this);
        heard();
      },
      lost: () => lost(this),
    });
  }

  get isFree(): boolean {
    return this.#asked.length < requestsAhead;
  }

  ask(job: Job): void {
    const request = job.request();
    if (!request) return job.refused();
    try {
      this.#thread.post(request);
      this.#asked.push(job);
    } catch {
      job.refused();
    }
  }

  drop(batch: number): void {
    this.#thread.post({ kind: 'drop', batch });
  }

  end(): void {
    this.#thread.end();
    for (const job of [...this.#asked.splice(0), ...this.jobs.splice(0)]) job.refused();
  }
}

export class Analysts {
  readonly #host: ThreadHost;
  #threads: Thread[] = [];
  readonly #jobs: Job[] = [];
  /** Threads that were lost are not replaced: what ended one may end the next. */
  #lost = 0;
  #atWork = 0;
  #batches = 0;
  #stayAwake: (() => void) | undefined;

  /** @param leastSweeps fewer are computed sooner than threads are started and told; own choice, from `npm run bench` */
  constructor(
    host: ThreadHost,
    readonly leastSweeps = 64,
  ) {
    this.#host = host;
  }

  /** Whether there are threads to be had, as far as is known. */
  get canWork(): boolean {
    return this.#lost < this.#host.atMost;
  }

  /** For one evaluation, which closes it in any case. */
  begin(): AnalystWork {
    this.#stayAwake?.();
    this.#stayAwake = undefined;
    this.#atWork++;
    return new AnalystWork({
      newBatch: () => ++this.#batches,
      ask: (job, thread) => this.#ask(job, thread),
      closed: () => {
        if (--this.#atWork === 0) this.#stayAwake = this.#host.afterRest?.(() => this.end());
      },
    });
  }

  /** Ends all threads; the next work starts them again. */
  end(): void {
    for (const thread of this.#threads.splice(0)) thread.end();
  }

  #ask(job: Job, thread: Thread | undefined): void {
    if (!thread) this.#jobs.push(job);
    else if (this.#threads.includes(thread)) thread.jobs.push(job);
    else job.refused();
    this.#goOn();
  }

  #goOn(): void {
    for (const thread of this.#threads) {
      while (thread.isFree) {
        const job = thread.jobs.shift() ?? this.#jobs.shift();
        if (!job) break;
        thread.ask(job);
      }
    }
    while (this.#jobs.length > 0 && this.#threads.length + this.#lost < this.#host.atMost) {
      const started = this.#started();
      if (started) while (started.isFree && this.#jobs.length > 0) started.ask(this.#jobs.shift()!);
    }
    if (!this.canWork) for (const job of this.#jobs.splice(0)) job.refused();
  }

  #started(): Thread | undefined {
    try {
      const thread = new Thread(
        this.#host,
        () => this.#goOn(),
        (lost) => this.#without(lost),
      );
      this.#threads.push(thread);
      return thread;
    } catch {
      this.#lost++;
      return undefined;
    }
  }

  #without(thread: Thread): void {
    if (!this.#threads.includes(thread)) return;
    this.#threads = this.#threads.filter((each) => each !== thread);
    this.#lost++;
    thread.end();
    this.#goOn();
  }
}

/** A batch that an analyst keeps until its work is closed. */
export interface Batch {
  readonly number: number;
  readonly thread: Thread;
}

interface Office {
  newBatch(): number;
  ask(job: Job, thread?: Thread): void;
  closed(): void;
}

/** What one evaluation has done by analysts. */
export class AnalystWork {
  readonly #office: Office;
  readonly #kept: Batch[] = [];
  #isClosed = false;

  constructor(office: Office) {
    this.#office = office;
  }

  /** @param devices asked for when a thread is free for them; undefined is answered where nobody does it */
  async analyse(
    devices: () => readonly (readonly SweepTask[])[],
  ): Promise<{ readonly batch: Batch; readonly sweeps: readonly AnalysedSweep[] } | undefined> {
    const number = this.#office.newBatch();
    const answer = await this.#answer(() => ({ kind: 'analyse', batch: number, devices: devices() }));
    if (!answer) return undefined;
    const batch = { number, thread: answer.by };
    if (this.#isClosed) batch.thread.drop(number);
    else this.#kept.push(batch);
    return answer.reply && { batch, sweeps: answer.reply as readonly AnalysedSweep[] };
  }

  async diagnose(
    batch: Batch,
    sweeps: readonly DiagnosisTask[],
    otherTypes: readonly ModuleRecord[],
  ): Promise<readonly DiagnosedSweep[] | undefined> {
    const answer = await this.#answer(
      () => ({ kind: 'diagnose', batch: batch.number, sweeps, otherTypes }),
      batch.thread,
    );
    return answer?.reply as readonly DiagnosedSweep[] | undefined;
  }

  /** Drops what is not done and lets the analysts forget the rest. */
  close(): void {
    if (this.#isClosed) return;
    this.#isClosed = true;
    for (const { thread, number } of this.#kept.splice(0)) thread.drop(number);
    this.#office.closed();
  }

  #answer(
    request: () => AnalystRequest,
    thread?: Thread,
  ): Promise<{ readonly reply: AnalystReply; readonly by: Thread } | undefined> {
    return new Promise((resolve) => {
      this.#office.ask(
        {
          request: () => (this.#isClosed ? undefined : request()),
          answered: (reply, by) => resolve({ reply, by }),
          refused: () => resolve(undefined),
        },
        thread,
      );
    });
  }
}
