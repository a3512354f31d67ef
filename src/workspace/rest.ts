/** Runs a task once changes have come to rest, and gives up a run that a newer change has overtaken. Knows no editor. */
export class Rest {
  readonly #delay: () => number;
  readonly #task: (signal: AbortSignal) => Promise<void>;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #running: AbortController | undefined;
  #waiting: (() => void)[] = [];
  #isFirst = true;

  /** @param delay milliseconds, asked before each wait; the very first run does not wait. */
  constructor(delay: () => number, task: (signal: AbortSignal) => Promise<void>) {
    this.#delay = delay;
    this.#task = task;
  }

  /** Something changed. */
  soon(): void {
    this.#running?.abort();
    this.#running = undefined;
    if (this.#timer !== undefined) clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.#run(), this.#isFirst ? 0 : this.#delay());
  }

  /** Resolves when nothing waits and nothing runs. */
  settled(): Promise<void> {
    if (this.#timer === undefined && !this.#running) return Promise.resolve();
    return new Promise((resolve) => this.#waiting.push(resolve));
  }

  async #run(): Promise<void> {
    this.#timer = undefined;
    this.#isFirst = false;
    const run = new AbortController();
    this.#running = run;
    try {
      await this.#task(run.signal);
    } catch (error) {
      if (!run.signal.aborted) throw error;
    } finally {
      // Overtaken: the newer run tells those who wait.
      if (this.#running === run) {
        this.#running = undefined;
        this.#release();
      }
    }
  }

  #release(): void {
    const waiting = this.#waiting;
    this.#waiting = [];
    for (const resolve of waiting) resolve();
  }

  /** Ends what runs and what waits; the next change begins anew. */
  giveUp(): void {
    this.#running?.abort();
    this.#running = undefined;
    if (this.#timer !== undefined) clearTimeout(this.#timer);
    this.#timer = undefined;
    this.#release();
  }

  dispose(): void {
    this.giveUp();
  }
}
