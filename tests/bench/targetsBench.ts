/** The targets of speed, each beside what was measured; ratios are of one run. */
import { Workbook } from '../../src/evaluation/workbook.js';
import { edited, papaparseAll } from './campaignBench.js';
import { generateCampaign, memoryReader } from './generate.js';
import { cpuMilliseconds, medianOf, threadMilliseconds } from './measuring.js';

const strings = 2000;
/** Until the engine has compiled what an edited sweep runs. */
const warmingUp = 40;
const keystrokes = 60;

export async function benchTargets(): Promise<void> {
  const generated = generateCampaign(strings);
  const timed = async (task: () => unknown): Promise<number> => {
    const start = cpuMilliseconds();
    await task();
    return cpuMilliseconds() - start;
  };
  const papaparse = medianOf([
    await timed(() => papaparseAll(generated)),
    await timed(() => papaparseAll(generated)),
    await timed(() => papaparseAll(generated)),
  ]);
  const workbook = new Workbook(memoryReader(generated));
  workbook.setText('campaign.sweepbook', generated.text);
  const cold = await timed(() => workbook.evaluate('campaign.sweepbook'));
  /** Each text in turn, once what they run is compiled. */
  const typed = async (textOf: (index: number) => string): Promise<number[]> => {
    const times: number[] = [];
    for (let index = 0; index < warmingUp + keystrokes; index++) {
      const text = textOf(index);
      const start = threadMilliseconds();
      workbook.setText('campaign.sweepbook', text);
      await workbook.evaluate('campaign.sweepbook');
      if (index >= warmingUp) times.push(threadMilliseconds() - start);
    }
    return times;
  };
  const keys = await typed((index) => edited(generated.text, index));
  const memory = process.resourceUsage().maxRSS / 1024;
  const lines = await typed((index) => '\n'.repeat(index + 1) + generated.text);
  const rows: readonly (readonly [string, number | undefined, number, string])[] = [
    ['first check over papaparse', 3, cold / papaparse, ''],
    ['keystroke, median', 16, medianOf(keys), 'ms'],
    ['keystroke, worst', 50, Math.max(...keys), 'ms'],
    ['line above all, median', undefined, medianOf(lines), 'ms'],
    ['memory, most held at once', 500, memory, 'MB'],
  ];
  console.log(
    `\nTargets, ${strings} strings, a sweep of 128 points each; keystrokes by the time of their thread.\n`,
  );
  console.log('                               target  measured');
  for (const [name, target, measured, unit] of rows)
    console.log(
      `${name.padEnd(28)} ${(target === undefined ? '' : `< ${target}`).padStart(8)} ${measured.toFixed(1).padStart(9)} ` +
        `${unit.padEnd(3)} ${target === undefined ? '' : measured < target ? 'kept' : 'missed'}`,
    );
}
