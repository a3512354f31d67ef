import { readFileSync } from 'node:fs';

/** Time of the processor in ms, of all threads: what other work on the machine takes does not count as ours. */
export function cpuMilliseconds(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/**
 * Time in ms that the thread which asks has computed: what is collected beside it is not waited for. Where the system does not tell (Linux
 * does, proc_pid_schedstat), the clock, which other work on the machine makes longer.
 */
export function threadMilliseconds(): number {
  try {
    const [computed] = readFileSync(`/proc/self/task/${process.pid}/schedstat`, 'utf8').split(' ');
    return Number(computed) / 1e6;
  } catch {
    return performance.now();
  }
}

export const medianOf = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1]!;
