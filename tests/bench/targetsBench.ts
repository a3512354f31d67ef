/** The targets of speed, each beside what was measured, in time of the processor; ratios are of one run. */
import { Workbook } from '../../src/evaluation/workbook.js';
import { edited, papaparseAll } from './campaignBench.js';
import { generateCampaign, memoryReader } from './generate.js';
import { cpuMilliseconds, medianOf } from './measuring.js';

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
  const times: number[] = [];
  for (let index = 0; index < warmingUp + keystrokes; index++) {
    const text = edited(generated.text, index);
    times.push(
      await timed(() => {
        workbook.setText('campaign.sweepbook', text);
        return workbook.evaluate('campaign.sweepbook');
      }),
    );
  }
  const warm = times.slice(warmingUp);
  const rows: readonly (readonly [string, number, number, string])[] = [
    ['first check over papaparse', 3, cold / papaparse, ''],
    ['keystroke, median', 16, medianOf(warm), 'ms'],
    ['keystroke, worst', 50, Math.max(...warm), 'ms'],
    ['memory, most held at once', 500, process.resourceUsage().maxRSS / 1024, 'MB'],
  ];
  console.log(`\nTargets, ${strings} strings, a sweep of 128 points each; time of the processor.\n`);
  console.log('                               target  measured');
  for (const [name, target, measured, unit] of rows)
    console.log(
      `${name.padEnd(28)} ${`< ${target}`.padStart(8)} ${measured.toFixed(1).padStart(9)} ${unit.padEnd(3)} ` +
        (measured < target ? 'kept' : 'missed'),
    );
}
