/** Leaves a host its turns, so that typing never waits for what is computed. */
import { finishBreathing, type Steps } from '../text/steps.js';

/** Milliseconds of computing after which a host's other work has its turn. */
const longest = 12;

const waiting: (() => void)[] = [];

/**
 * Resolves after the host's other work has had its turn. Of those who wait at the same time each gets a turn of its own: timers that are
 * due together would follow each other without one.
 */
export function aTurn(): Promise<void> {
  return new Promise((resolve) => {
    if (waiting.push(resolve) === 1) afterOthers(giveTurn);
  });
}

function giveTurn(): void {
  const next = waiting.shift();
  if (waiting.length > 0) afterOthers(giveTurn);
  next?.();
}

/** What Node has for it waits a millisecond less than a timer, and lets messages in first. */
function afterOthers(task: () => void): void {
  if (typeof setImmediate === 'function') setImmediate(task);
  else setTimeout(task, 0);
}

/** Asked again and again in a computation: answers with a turn to wait for whenever it has run for long. */
export function breatheInTurns(milliseconds = longest): () => Promise<void> | undefined {
  let last = Date.now();
  return () => {
    if (Date.now() - last < milliseconds) return undefined;
    return aTurn().then(() => {
      last = Date.now();
    });
  };
}

/** Begins with a turn of its own and leaves others theirs: hosts ask for much at once. */
export async function inTurns<Result>(steps: () => Steps<Result>): Promise<Result> {
  await aTurn();
  return finishBreathing(steps(), breatheInTurns());
}
