import { describe, expect, it } from 'vitest';
import { casesOf } from '../../src/cases/casesOf.js';
import { nextSteps } from '../../src/presentation/nextSteps.js';
import { campaignModel, previewModel, type SweepListItem } from '../../src/presentation/previewModel.js';
import { empty, evaluation, file, text } from './fixture.js';

const lines = text.split('\n');
const models = evaluation.sweeps.map((sweep) => previewModel(evaluation, sweep.id)!);
const [first] = models;

describe('the model of a sweep', () => {
  it('is plain JSON', () => {
    for (const model of models) expect(JSON.parse(JSON.stringify(model))).toEqual(dropUndefined(model));
  });

  it('points every item at the line that wrote it', () => {
    expect(lines[first!.place.line]).toMatch(/^sweep 1\.03 at 2026-05-14 11:42/);
    const irradiance = first!.conditions.find((row) => row.name === 'Irradiance')!;
    expect(lines[irradiance.place!.line]).toContain('irradiance 812 W/m2');
    const pmax = first!.parameters.find((row) => row.symbol === 'Pmax')!;
    expect(lines[pmax.place!.line]).toContain('Pmax -5 % ..');
    expect(lines[first!.notes[0]!.place.line]).toContain('Before replacement.');
    expect(lines[models[3]!.problems[0]!.place.line]).toMatch(/sweeps\/1\.04\.csv/);
    expect(first!.place.file).toBe(file);
  });

  it('carries units and uncertainties', () => {
    const values = first!.conditions.map((row) => row.value);
    expect(values).toContain('(812 ± 16) W/m2');
    expect(values).toContain('(44.1 ± 1.2) degC');
    expect(first!.parameters[0]).toMatchObject({
      nameplate: '7290 W',
      deviation: '-8.2 %',
      uncertainty: '± 2.1 %',
    });
  });

  it('tells the outcome of each parameter that has a limit', () => {
    expect(first!.parameters.map((row) => row.outcome?.word)).toEqual(['fail', ...Array(5).fill(undefined)]);
    // Out of its conditions nothing is judged, so no parameter has an outcome.
    expect(models[4]!.parameters.every((row) => row.outcome === undefined)).toBe(true);
  });

  it('puts what decides first and says it in a sentence', () => {
    expect(first!.reasons[0]!.decisive).toBe(true);
    expect(first!.summary).toBe(`Fail. ${first!.reasons[0]!.text}`);
    expect(models[4]!.summary).toContain('Irradiance 312 W/m2 is below the 700 W/m2');
  });

  it('leads to its neighbours, and is absent for an unknown id', () => {
    expect(first!.previous).toBeUndefined();
    expect(first!.next).toBe(models[1]!.sweepId);
    expect(previewModel(evaluation, 'nowhere:1')).toBeUndefined();
  });

  it('cautions where a device is disconnected next', () => {
    expect(models.map((model) => model.cautions.length > 0)).toEqual([true, true, false, true, false, false]);
  });
});

it('lists all sweeps with verdict and counts', () => {
  const model = campaignModel(evaluation);
  expect(model.sweeps.map((sweep: SweepListItem) => sweep.verdict.word)).toEqual([
    'fail',
    'fail',
    'pass',
    'conditional fail',
    'not judged',
    'void',
  ]);
  expect(model.sweeps.map((sweep) => sweep.device)[1]).toBe('KF108M');
  expect(model.counts.find(({ mark }) => mark.verdict === 'fail')?.count).toBe(2);
  expect(model.replacements).toMatchObject([{ address: '1.03/11', change: 'KF-22817 -> KF-31904' }]);
  expect(campaignModel(empty).summary).toBe('No sweeps');
});

describe('what to do next', () => {
  const stepsOf = (count: number, entries = evaluation.campaign.entries) => {
    const sweeps = evaluation.sweeps.slice(0, count);
    const declarations = entries.filter(({ record }) => record.kind !== 'sweep');
    const campaign = { ...evaluation.campaign, entries, declarations };
    return nextSteps({
      ...evaluation,
      sweeps,
      campaign,
      cases: casesOf(campaign, sweeps),
      problems: [],
    });
  };
  const nothingReplaced = evaluation.campaign.entries.filter(({ record }) => record.kind !== 'replace');

  it('halves a string that fails until the module is found', () => {
    expect(stepsOf(1, nothingReplaced)).toMatchObject([
      {
        text: expect.stringContaining(
          'sweep the half 1.03/1-9; if it passes, the fault lies in 1.03/10-18',
        ) as string,
        disconnects: true,
      },
    ]);
  });

  it('asks to replace the module found, then for the counter-check', () => {
    expect(stepsOf(2, nothingReplaced)[0]).toMatchObject({
      text: expect.stringContaining('Replace 1.03/11') as string,
      disconnects: true,
    });
    expect(stepsOf(2)[0]!.text).toContain('Repeat the sweep of 1.03 as counter-check');
  });

  it('asks for nothing once the counter-check passes', () => {
    expect(stepsOf(3)).toEqual([]);
  });
});

function dropUndefined(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(dropUndefined);
  if (typeof value !== 'object' || value === null) return value;
  const kept = Object.entries(value).filter(([, part]) => part !== undefined);
  return Object.fromEntries(kept.map(([key, part]) => [key, dropUndefined(part)]));
}
