// @ts-check
/** What a test measures of the extension host from inside it. */
import { Session } from 'node:inspector/promises';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

setFlagsFromString('--expose_gc');
const collectGarbage = runInNewContext('gc');

/** Bytes that are still held once everything that can be collected is. */
export async function heldBytes() {
  // What ends one collection may free more for the next: finalizers and weak maps.
  for (let time = 0; time < 4; time++) {
    collectGarbage();
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  return process.memoryUsage().heapUsed;
}

/** Milliseconds between two looks at the clock. */
const period = 5;

/**
 * @typedef {object} BlockedSpan A stretch in which the event loop had no turn.
 * @property {number} from Milliseconds of the monotonic clock.
 * @property {number} ms How long it lasted.
 * @property {number} cpu How much of it this thread was computing: the rest went to other programs.
 */

const clock = () => Number(process.hrtime.bigint()) / 1e6;
const threadMilliseconds = () => {
  // Of the Node that the editor brings; older ones do not have it.
  const { user, system } = /** @type {{ threadCpuUsage(): NodeJS.CpuUsage }} */ (
    /** @type {unknown} */ (process)
  ).threadCpuUsage();
  return (user + system) / 1000;
};

/** @type {NodeJS.Timeout | undefined} */
let watch;
/** @type {BlockedSpan[]} */
let spans = [];

/** Begins to write down each stretch without a turn of the event loop. */
export function watchLoop() {
  spans = [];
  let last = clock();
  let computed = threadMilliseconds();
  clearInterval(watch);
  watch = setInterval(() => {
    const [now, cpu] = [clock(), threadMilliseconds()];
    if (now - last > 2 * period) spans.push({ from: last, ms: now - last - period, cpu: cpu - computed });
    last = now;
    computed = cpu;
  }, period);
}

/** What was written down since `watchLoop`. */
export function blockedSpans() {
  clearInterval(watch);
  return spans;
}

/** @type {Session | undefined} */
let profiling;

export async function startProfile() {
  profiling = new Session();
  profiling.connect();
  await profiling.post('Profiler.enable');
  await profiling.post('Profiler.setSamplingInterval', { interval: 500 });
  await profiling.post('Profiler.start');
}

export async function stopProfile() {
  const { profile } = /** @type {import('node:inspector').Profiler.StopReturnType} */ (
    await profiling?.post('Profiler.stop')
  );
  profiling?.disconnect();
  return profile;
}
