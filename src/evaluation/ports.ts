/**
 * What the evaluation asks of its host. A file is an opaque key: an absolute path on a command line, a URI in an editor.
 */
import type { AnalystReply, AnalystRequest } from './analystMessages.js';

export type FileContent =
  | { readonly ok: true; readonly bytes: Uint8Array }
  | {
      readonly ok: false;
      readonly reason: 'missing' | 'too-large' | 'not-a-file' | 'unreadable';
      readonly size?: number;
    };

export interface FileReader {
  /** Never rejects for a file that is missing, too large or unreadable: it says so in the answer. */
  read(file: string, limitBytes: number): Promise<FileContent>;
  /** The file that `relative`, written in `from`, names; undefined when it would leave the workspace folder. */
  resolve(from: string, relative: string): string | undefined;
  /** For messages and reports: relative to the workspace folder, with `/`. */
  displayName(file: string): string;
}

/** Told how many of the sweeps of a campaign are through a step; one step follows the other. */
export type SweepsProgress = (step: 'analysed' | 'diagnosed', done: number, of: number) => void;

/** A thread of the host that runs an analyst (analyst.ts). */
export interface AnalystThread {
  /** Goes there as a structured clone; throws where it cannot. */
  post(request: AnalystRequest): void;
  /** Nothing is heard of it any more. */
  end(): void;
}

/** What a host says of a thread that it started. */
export interface ThreadListener {
  /** Once for each request that is answered, in their order. */
  replied(reply: AnalystReply): void;
  /** It has ended by itself, or never began. */
  lost(): void;
}

/** The threads that a host can give. */
export interface ThreadHost {
  /** No more than this are asked for at a time. */
  readonly atMost: number;
  /** Throws where there are none to be had. */
  start(listener: ThreadListener): AnalystThread;
  /** Calls back when threads have been without work for long enough to be ended; answers how to prevent that. */
  afterRest?(end: () => void): () => void;
}
