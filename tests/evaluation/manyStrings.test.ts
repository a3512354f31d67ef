/** Strings in company: what is remembered of peers, groups, cases and checks gives what a fresh evaluation gives, edit after edit. */
import { expect, it } from 'vitest';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { toResult } from '../../src/presentation/resultSchema.js';
import { generateCampaign, memoryReader } from '../bench/generate.js';

const generated = generateCampaign(24, 40);
const file = 'campaign.sweepbook';

/** Each stands for what an edit may touch: one reading, a member of a company, its day, its order, a name, the rows above. */
const edits: readonly ((text: string) => string)[] = [
  (text) => text.replace(/irradiance \d+ W\/m2\n {2}temperature/, 'irradiance 640 W/m2\n  temperature'),
  (text) =>
    text.replace(
      /temperature \d+\.\d degC cell\n {2}data "S00012/,
      'temperature 12.5 degC cell\n  data "S00012',
    ),
  (text) => text.replace(/data "S00005.csv"/, 'data "S00005.csv"\n  void "a cloud"'),
  (text) => text.replace('# a line more\n', ''),
  (text) => text.replace('sweep S00020 at 2026-05-14', 'sweep S00020 at 2026-05-15'),
  (text) => text.replace('string S00009\n  modules 18 x M', 'string S00009\n  modules 17 x M'),
  (text) => text.replace('data "S00003.csv"', 'data "S00004.csv"'),
  (text) =>
    `${text}sweep S00001 at 2026-05-14 17:00\n  irradiance 850 W/m2\n  temperature 45 degC cell\n  data "S00002.csv"\n`,
  (text) =>
    `${text}sweep S00006/2 at 2026-05-14 17:05\n  irradiance 850 W/m2\n  temperature 45 degC cell\n  data "S00006.csv"\n`,
  (text) => text.replace('site s\n', '# a line more\nsite s\n'),
  (text) => text.replace('  cells      54\n', '  cells      60\n'),
  (text) => text.replaceAll('2026-05-14', '2027-05-14'),
  (text) => text.slice(0, text.indexOf('string S00022')),
];

const result = (evaluation: Evaluation): string =>
  JSON.stringify(toResult(evaluation, (name) => name, 'test'));

it('step by step, and all the way back', { timeout: 120_000 }, async () => {
  const reader = memoryReader(generated);
  const kept = new Workbook(reader);
  const expectAsFresh = async (text: string): Promise<void> => {
    kept.setText(file, text);
    const fresh = new Workbook(reader);
    fresh.setText(file, text);
    expect(result(await kept.evaluate(file))).toBe(result(await fresh.evaluate(file)));
  };
  let { text } = generated;
  const texts = [text];
  for (const edit of edits) texts.push((text = edit(text)));
  expect(new Set(texts).size).toBeGreaterThan(edits.length - 1);
  for (const each of [...texts, ...[...texts].reverse()]) await expectAsFresh(each);
});

it('one edit leaves the other sweeps, their diagnoses and their cases the same objects', async () => {
  const kept = new Workbook(memoryReader(generated));
  kept.setText(file, generated.text);
  const before = await kept.evaluate(file);
  // 1 W/m2 more moves no usual value of the others by a step of its rounding.
  kept.setText(
    file,
    generated.text.replace(/(?<=sweep S00001 .*\n {2}irradiance )\d+/, (value) => `${Number(value) + 1}`),
  );
  const after = await kept.evaluate(file);
  const changed = after.sweeps.filter((sweep, at) => sweep.analysis !== before.sweeps[at]!.analysis);
  expect(changed.map(({ address }) => address)).toEqual(['S00001']);
  expect(after.cases.filter((each, at) => each !== before.cases[at]).length).toBeLessThan(3);
});
