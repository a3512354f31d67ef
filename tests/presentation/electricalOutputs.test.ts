import Ajv2020 from 'ajv/dist/2020.js';
import { beforeAll, expect, it } from 'vitest';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { campaignModel } from '../../src/presentation/campaignModel.js';
import { hoverAt } from '../../src/presentation/hoverText.js';
import { checkResultSchema, resultJsonSchema, toResult } from '../../src/presentation/resultSchema.js';
import { problemLines, sweepTable } from '../../src/presentation/textTable.js';
import { htmlOf } from '../report/campaigns.js';
import { evaluateText, inMemory } from '../evaluation/memoryFiles.js';
import { nameplate } from '../nameplate.js';

const text = `campaign fen "Fen"
module KF108M
${nameplate}string 1.01 .. 1.03
  modules 18 x KF108M
criteria acceptance
  Pmax -5 % ..
insulation 1.01 at 2026-05-14 10:05
  resistance 42 Mohm
  voltage 1000 V
continuity 1.01 at 2026-05-14 09:50
  resistance 0.08 ohm
polarity 1.02 at 2026-05-14 09:51
  result reversed
polarity 1.03 at 2026-05-14 09:52
  result reversed
polarity 1.03 at 2026-05-14 10:52
  result correct
meter 1.01 at 2026-05-14 10:15
  Voc 626 V
  Isc 11.3 A
  irradiance 805 W/m2
  temperature 43 degC cell
`;

let evaluation: Evaluation;
beforeAll(async () => {
  evaluation = await evaluateText(text);
});
const display = (file: string): string => file.replace('/w/', '');

it('tells the panel each test with its reading, apart from the sweeps', () => {
  const { electricalTests, electricalSummary, summary } = campaignModel(evaluation);
  expect(electricalSummary).toBe('5 electrical tests: 3 pass, 1 fail, 1 not judged');
  expect(summary).toBe('No sweeps');
  expect(
    electricalTests.map(({ kind, address, reading, verdict, replaced }) => [
      kind,
      address,
      reading,
      verdict.word,
      replaced,
    ]),
  ).toEqual([
    ['insulation', '1.01', '42 Mohm at 1000 V', 'pass', false],
    ['continuity', '1.01', '0.08 ohm', 'not judged', false],
    ['polarity', '1.02', 'reversed', 'fail', false],
    ['polarity', '1.03', 'reversed', 'fail', true],
    ['polarity', '1.03', 'correct', 'pass', false],
    [
      'meter',
      '1.01',
      expect.stringMatching(/^Voc 626 V \([+-]?\d\.\d %\), Isc 11\.3 A \(\+0\.2 %\)$/),
      'pass',
      false,
    ],
  ]);
  expect(electricalTests.map(({ danger }) => danger !== undefined)).toEqual([
    false,
    false,
    true,
    false,
    false,
    false,
  ]);
  expect(JSON.parse(JSON.stringify(electricalTests))).toEqual(electricalTests);
});

it('writes them to a terminal with their counts, reasons and dangers', () => {
  const written = sweepTable(evaluation, { display, ascii: true });
  expect(written).toContain('5 electrical tests: 3 pass, 1 fail, 1 not judged');
  expect(written).toMatch(/^! {2}polarity {4}1\.02 .*reversed .*fail$/m);
  expect(problemLines(evaluation, { display })).toMatch(
    /^campaign\.sweepbook:22:1: warning: Plus and minus of 1\.02 are exchanged\. Do not connect it/m,
  );
  expect(written).toMatch(/fail \(repeated later\)$/m);
});

it('writes them into the result as its schema says', () => {
  const result = JSON.parse(JSON.stringify(toResult(evaluation, display, '0.0.0'))) as ReturnType<
    typeof toResult
  >;
  const validate = new Ajv2020({ strict: true }).compile(JSON.parse(resultJsonSchema()));
  validate(result);
  expect(validate.errors ?? []).toEqual([]);
  expect(checkResultSchema.safeParse(result).error).toBeUndefined();
  expect(result.electricalCounts).toEqual({ pass: 3, fail: 1, notJudged: 1 });
  expect(result.electricalTests[0]).toMatchObject({
    kind: 'insulation',
    location: { file: 'campaign.sweepbook', line: 17 },
    figures: [
      { name: 'resistance', value: 42e6, least: 1e6 },
      { name: 'test voltage', value: 1000 },
    ],
  });
});

it('sets them in the page, with the danger in words', () => {
  const page = htmlOf(evaluation, { display });
  expect(page).toContain('Other electrical tests');
  expect(page).toMatch(/Danger\.<\/p>\s*<ul>\s*<li>Plus and minus of 1\.02 are exchanged\./);
});

it('hovers over the header of a test', () => {
  const lines = text.split('\n');
  const line = lines.indexOf('polarity 1.02 at 2026-05-14 09:51');
  const open = {
    file: inMemory('campaign.sweepbook'),
    lineAt: (at: number) => lines[at] ?? '',
    resolve: () => undefined,
  };
  const { markdown } = hoverAt(evaluation, open, { line, character: 2 })!;
  expect(markdown).toContain('**fail**');
  expect(markdown).toContain('Do not connect it');
  expect(markdown).toContain('Polarity of the string cables.');
});
