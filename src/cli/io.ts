import { printable } from '../presentation/terminalText.js';
import type { Threads } from './threads.js';

/** What a command knows of the terminal it runs in and of its process; tests hand in their own. */
export interface Io {
  readonly out: (text: string) => void;
  readonly error: (text: string) => void;
  readonly isTerminal: boolean;
  /** Absent where the error stream does not go to one. */
  readonly errorTerminal?: { readonly columns: () => number };
  readonly environment: NodeJS.ProcessEnv;
  readonly workingFolder: string;
  /**
   * Aborted, with a `StopReason`, when the process is asked to end or nobody reads what it prints. Who asks for it has to end then; a
   * second time ends at once.
   */
  readonly interruption?: () => AbortSignal;
  /** Threads beside this one, which answer campaigns. */
  readonly threads?: Threads;
  /** Where this user's programs keep what can be had again; undefined where there is no such place. */
  readonly userCacheFolder?: () => Promise<string | undefined>;
}

/** One line on the error stream. Names of files may hold what a terminal would obey; it is shown as a mark. */
export function complain({ error }: Io, message: string): void {
  error(`${printable(message)}\n`);
}
