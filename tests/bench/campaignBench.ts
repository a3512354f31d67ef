/** What reading, a first check and a keystroke cost in campaigns of several sizes. */
import papa from 'papaparse/papaparse.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { parseDocument } from '../../src/syntax/document.js';
import { generateCampaign, memoryReader, type Generated } from './generate.js';
import { medianOf } from './measuring.js';

const show = (ms: number): string => (ms < 10 ? ms.toFixed(2) : ms.toFixed(0)).padStart(9);

async function timed(task: () => unknown): Promise<number> {
  const start = performance.now();
  await task();
  return performance.now() - start;
}

async function repeat(times: number, task: (index: number) => unknown): Promise<number[]> {
  const results: number[] = [];
  for (let index = 0; index < times; index++) results.push(await timed(() => task(index)));
  return results;
}

/** The same file with the irradiance of a sweep in its middle changed. */
export function edited(text: string, index: number): string {
  const at = text.indexOf('irradiance', text.length >> 1) + 'irradiance '.length;
  return text.slice(0, at) + String(800 + (index % 90)) + text.slice(text.indexOf(' ', at));
}

async function measure(strings: number): Promise<void> {
  const generated = generateCampaign(strings);
  const reader = memoryReader(generated);
  const parse = medianOf(await repeat(9, () => parseWhole(generated.text)));
  const papaparse = medianOf(await repeat(5, () => papaparseAll(generated)));
  const cold = medianOf(
    await repeat(strings > 500 ? 3 : 7, () => new Workbook(reader).evaluate('campaign.sweepbook')),
  );
  const workbook = new Workbook(reader);
  workbook.setText('campaign.sweepbook', generated.text);
  await workbook.evaluate('campaign.sweepbook');
  const keystrokes = await repeat(60, async (index) => {
    workbook.setText('campaign.sweepbook', edited(generated.text, index));
    await workbook.evaluate('campaign.sweepbook');
  });
  const key = medianOf(keystrokes);
  const worst = Math.max(...keystrokes);
  console.log(
    `${String(strings).padStart(7)} ${(generated.text.length / 1024).toFixed(0).padStart(8)} ` +
      `${(generated.csvBytes / 1024).toFixed(0).padStart(8)} ${show(parse)} ${show(papaparse)} ${show(cold)} ` +
      `${(cold / papaparse).toFixed(1).padStart(7)} ${show(key)} ${show(worst)}`,
  );
}

function parseWhole(text: string): number {
  // The lines of a block are read when asked for; ask for all.
  return parseDocument(text).blocks.reduce((count, { block }) => count + block.lines.length, 0);
}

export function papaparseAll({ files }: Generated): number {
  const decoder = new TextDecoder();
  let rows = 0;
  for (const bytes of files.values())
    rows += papa.parse(decoder.decode(bytes), { delimiter: ',', newline: '\n', fastMode: true }).data.length;
  return rows;
}

export async function benchCampaigns(): Promise<void> {
  console.log(
    'Sweeps of 128 points, one a string. Ratio: first check over papaparse alone on the same bytes.\n',
  );
  console.log('strings  text kB   csv kB     parse papaparse first chk   ratio keystroke     worst');
  for (const strings of [10, 100, 1000]) await measure(strings);
}
