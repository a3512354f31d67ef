/**
 * A first check of many sweeps, with threads and without, beside papaparse alone and beside papaparse and an expected curve for each
 * sweep, computed in as many threads. Each is measured in a process of its own, so that none finds compiled what another ran.
 */
import { spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { Analysts } from '../../src/evaluation/analysts.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { nodeThreads } from '../../src/threads/node/nodeThreads.js';
import { papaparseAll } from './campaignBench.js';
import type { ExpectationTask } from './expectedCurves.js';
import { generateCampaign, memoryReader, type Generated } from './generate.js';
import { cpuMilliseconds } from './measuring.js';

const tasks = {
  papaparse: (generated: Generated) => Promise.resolve(papaparseAll(generated)),
  'papaparse and expectation': async (generated: Generated) => {
    const expected = expectInThreads(generated);
    papaparseAll(generated);
    await expected;
  },
  'first check, one thread': (generated: Generated) =>
    new Workbook(memoryReader(generated)).evaluate('campaign.sweepbook'),
  'first check, threads': (generated: Generated) => {
    const threads = nodeThreads(fileURLToPath(new URL('analyst.cjs', import.meta.url)))!;
    const workbook = new Workbook(memoryReader(generated), { analysts: new Analysts(threads) });
    return workbook.evaluate('campaign.sweepbook');
  },
} as const satisfies Record<string, (generated: Generated) => Promise<unknown>>;
type Task = keyof typeof tasks;

interface Measured {
  /** ms by the clock, and of the processor by all threads. */
  readonly wall: number;
  readonly cpu: number;
  /** The most memory that the process held at once, above what it held before the task, MB. */
  readonly memory: number;
}

/** One task, in this process: answers `benchManySweeps` by a line of JSON. */
export async function measureTask(task: string, strings: number, sweeps: number): Promise<void> {
  const generated = generateCampaign(strings, 128, sweeps);
  globalThis.gc?.();
  const before = process.resourceUsage().maxRSS;
  const [start, cpu] = [performance.now(), cpuMilliseconds()];
  await tasks[task as Task](generated);
  const measured: Measured = {
    wall: performance.now() - start,
    cpu: cpuMilliseconds() - cpu,
    memory: (process.resourceUsage().maxRSS - before) / 1024,
  };
  console.log(JSON.stringify(measured));
  process.exit(0);
}

function measured(task: Task, strings: number, sweeps: number): Measured {
  const program = fileURLToPath(import.meta.url);
  const args = ['--expose-gc', program, '--measure', task, String(strings), String(sweeps)];
  const { stdout, stderr } = spawnSync(process.execPath, args, { encoding: 'utf8' });
  if (stdout === '') throw new Error(stderr);
  return JSON.parse(stdout) as Measured;
}

/** Conditions of so many sweeps in a message. */
const batch = 500;

/** Curves at the conditions of every sweep, by threads that each solve the nameplate once. */
async function expectInThreads({ conditions }: Generated): Promise<void> {
  let next = 0;
  const oneThread = async (): Promise<void> => {
    const worker = new Worker(new URL(import.meta.url));
    while (next < conditions.length) {
      const task: ExpectationTask = conditions.slice(next, (next += batch));
      const answered = once(worker, 'message');
      worker.postMessage(task);
      await answered;
    }
    await worker.terminate();
  };
  await Promise.all(Array.from({ length: availableParallelism() }, oneThread));
}

export function benchManySweeps(isLarge: boolean): void {
  const sizes = isLarge
    ? ([
        [2000, 1],
        [10_000, 2],
      ] as const)
    : ([[2000, 1]] as const);
  console.log(
    `\nFirst check in a fresh process, sweeps of 128 points; ${availableParallelism()} threads beside the first one, where there are threads. ` +
      'Expectation: nameplate solved once a thread, a curve of 128 points at the conditions of each sweep.',
  );
  for (const [strings, sweeps] of sizes) {
    console.log(`\n${strings} strings, ${strings * sweeps} sweeps   wall s    cpu s   memory MB`);
    const found = Object.keys(tasks).map((name) => {
      const result = measured(name as Task, strings, sweeps);
      const seconds = (ms: number): string => (ms / 1000).toFixed(2).padStart(8);
      console.log(
        `${name.padEnd(30)} ${seconds(result.wall)} ${seconds(result.cpu)} ${result.memory.toFixed(0).padStart(11)}`,
      );
      return result;
    });
    const [papaparse, expectation, , check] = found as [Measured, Measured, Measured, Measured];
    const ratio = (of: keyof Measured, base: Measured): string => (check[of] / base[of]).toFixed(1);
    console.log(
      `first check in threads over papaparse: ${ratio('wall', papaparse)} by the clock, ${ratio('cpu', papaparse)} of the processor; ` +
        `over papaparse and expectation (target 3): ${ratio('wall', expectation)} and ${ratio('cpu', expectation)}`,
    );
  }
}
