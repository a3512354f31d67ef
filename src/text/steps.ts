/** Work that may be left for a while at each `yield`, and gone on with or given up. */
export type Steps<Result> = Generator<void, Result, void>;

/** All at once. */
export function finish<Result>(steps: Steps<Result>): Result {
  for (;;) {
    const next = steps.next();
    if (next.done) return next.value;
  }
}

/** @param breathe called between steps: it answers at once, or with what is waited for; it throws to give up */
export async function finishBreathing<Result>(
  steps: Steps<Result>,
  breathe: () => Promise<void> | undefined,
): Promise<Result> {
  for (;;) {
    const next = steps.next();
    if (next.done) return next.value;
    const pause = breathe();
    if (pause) await pause;
  }
}
