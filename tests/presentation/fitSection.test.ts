/** The section "Fitted model" and the budget in the hover, on the sample campaign as it is shipped. Its data are simulated. */
import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { previewModel } from '../../src/presentation/previewModel.js';
import { toResult } from '../../src/presentation/resultSchema.js';
import { example, htmlOf } from '../report/campaigns.js';
import { sweepMarkdown } from '../../src/presentation/sweepHover.js';

let evaluation: Evaluation;
const display = (file: string): string => file;
const indexOf = (address: string): number =>
  evaluation.sweeps.findIndex((sweep) => sweep.address === address);
const fitOf = (address: string) => previewModel(evaluation, evaluation.sweeps[indexOf(address)]!.id)!.fit!;

beforeAll(async () => {
  evaluation = await example('harrow-fen-sample');
});

describe('the fitted model', () => {
  it('gives five parameters with unit and uncertainty beside those of the nameplate', () => {
    const last = evaluation.sweeps.at(-1)!;
    const { rows, expected, note } = previewModel(evaluation, last.id)!.fit!;
    expect(rows.map(({ symbol }) => symbol)).toEqual(['IL', 'I0', 'Rs', 'Rsh', 'n']);
    for (const { symbol, fitted, expected: nameplate } of rows) {
      if (fitted !== 'none found') expect(fitted).toMatch(/^\S+ ± \S+/);
      if (symbol !== 'n') expect(nameplate).toMatch(/ (A|ohm)$/);
    }
    expect(expected.map(({ symbol }) => symbol)).toEqual(['Pmax', 'Isc', 'Voc', 'Imp', 'Vmp', 'FF']);
    for (const row of expected) expect(row.deviation).toMatch(/^[+-]?\d+\.\d+ %$/);
    expect(note).toMatch(/k = 1/);
  });

  it('is a reason where the curve has steps and a doubt where no junction has such numbers, in model and page', () => {
    // As simulated: the string carries a module with a substring out of the current path; that module was measured alone.
    const [string, module] = [fitOf('1.03'), fitOf('1.03/11')];
    expect(string.rows).toEqual([]);
    expect(string.reason).toMatch(/has steps/);
    expect(module.note).toMatch(/^An ideality factor of 0\.\d\d is less than a junction has/);
    const page = htmlOf(evaluation, { display });
    expect(page.match(/<h3>Fitted model<\/h3>/g)).toHaveLength(evaluation.sweeps.length);
    expect(page).toContain('The curve has steps (bypass diodes conduct)');
    expect(page).toContain('is less than a junction has');
  });

  it('holds the module terminals against the nameplate: what the cable takes is no deviation', () => {
    const sweep = evaluation.sweeps.findLast(({ address }) => address === '1.03')!;
    const { rows, expected } = previewModel(evaluation, sweep.id)!.fit!;
    expect(rows).toHaveLength(5);
    const pmax = expected.find(({ symbol }) => symbol === 'Pmax')!;
    // 48 m of 4 mm2 copper at 13 A: the voltage drop is some watts, added to what the instrument had.
    const { imp, pmax: atInstrument } = sweep.analysis.measured!.parameters;
    const cable = sweep.analysis.translated!.estimates.find(({ symbol }) => symbol === 'Rcable')!.value;
    expect(parseFloat(pmax.measured)).toBeCloseTo(atInstrument! + imp! ** 2 * cable, -1);
    expect(parseFloat(pmax.measured)).toBeGreaterThan(atInstrument! + 10);
  });

  it('stands in the JSON with --fit alone, as the schema says', () => {
    const schema = JSON.parse(
      readFileSync(new URL('../../syntaxes/check-result.schema.json', import.meta.url), 'utf8'),
    ) as object;
    const validate = new Ajv2020({ strict: true }).compile(schema);
    const plain = toResult(evaluation, display, '0');
    expect(plain.sweeps.some((sweep) => 'fit' in sweep)).toBe(false);
    const fitted = toResult(evaluation, display, '0', { withFit: true });
    validate(fitted);
    expect(validate.errors ?? []).toEqual([]);
    const { fit } = fitted.sweeps.at(-1)!;
    expect(fit!.values.map(({ symbol }) => symbol)).toEqual(['IL', 'I0', 'Rs', 'Rsh', 'n']);
    expect(fit!.expected.pmax).toBeGreaterThan(0);
  });
});

it('the hover of a sweep carries its uncertainty budget, the largest contribution to Pmax first', () => {
  const sweep = evaluation.sweeps.find(({ analysis }) => analysis.budget.length > 0)!;
  const lines = sweepMarkdown(sweep).split('\n');
  const start = lines.findIndex((line) => line.startsWith('| Uncertainty budget, k = 1 | u | Pmax'));
  const rows = lines.slice(start + 2, start + 2 + sweep.analysis.budget.length);
  const shares = rows.map((row) => Number.parseFloat(row.replaceAll('\\', '').split('|')[3]!) || 0);
  expect(shares).toEqual([...shares].sort((a, b) => b - a));
  expect(shares[0]).toBeGreaterThan(0);
});
