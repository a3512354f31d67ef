/** What the program answers to the shell when it was stopped: 128 and the number of the signal, as shells say it. */
export const stoppedStatus = {
  SIGINT: 130,
  /** The reader of what is printed is gone, whether or not the system has such a signal. */
  SIGPIPE: 141,
  SIGTERM: 143,
} as const;

export type StopReason = keyof typeof stoppedStatus;
