import type { Worker } from 'node:worker_threads';

/** How threads are had. */
export interface Threads {
  readonly start: () => Worker;
  /** At most. */
  readonly count?: number;
  /** Milliseconds of computing here after which they are worth what it takes to start them; 0: as soon as one is waited for. */
  readonly patience?: number;
}
