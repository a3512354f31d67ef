/**
 * What the panel shows of a difference. The campaign is the demo, which is invented; what is expected is told from the two
 * evaluations themselves.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import type { Difference } from '../../src/difference/difference.js';
import { differenceModel, type DifferenceModel } from '../../src/presentation/differenceModel.js';
import { demoEvaluation, difference, edited, harrowFen, type Files } from '../difference/campaigns.js';

const table = 'sweeps/1.02.csv';
/** A tenth less current at every voltage: a string that fails. */
const tenthLess = harrowFen[table]!.replace(
  /^([\d.]+),([\d.]+)/gm,
  (_, voltage: string, current: string) => `${voltage},${(0.9 * Number(current)).toFixed(3)}`,
);
const later: Files = {
  ...edited(harrowFen, 'modules.sweepbook', 'beta   -0.27 %/K', 'beta   -0.29 %/K'),
  [table]: tenthLess,
};
const display = (file: string): string => file.slice(file.lastIndexOf('/') + 1);
const names = { before: display, after: display };
const modelOf = (found: Difference, address?: string): DifferenceModel =>
  differenceModel(found, 'v1', names, (sweeps) => sweeps.find((sweep) => sweep.address === address));

let found: Difference;
let model: DifferenceModel;
beforeAll(async () => {
  found = await difference(demoEvaluation(), later);
  model = modelOf(found);
}, 90_000);

const pmaxOf = (side: 'before' | 'after', address: string): number =>
  found[side].sweeps.find((sweep) => sweep.address === address)!.analysis.translated!.parameters.pmax!;

describe('what the panel shows of a difference', () => {
  it('lists turned verdicts first, then the other sweeps in reading order, each once', () => {
    const [first, ...others] = model.sweeps;
    expect(first).toMatchObject({
      address: '1.02',
      before: { verdict: 'pass' },
      after: { verdict: 'fail' },
      beyondUncertainty: true,
      causes: ['table sweeps/1.02.csv', 'beta of module KF108M'],
    });
    const order = found.after.sweeps.map(({ id }) => id);
    const shown = others.map(({ id }) => id);
    expect(shown).toEqual(order.filter((id) => shown.includes(id)));
    expect(new Set(model.sweeps.map(({ id }) => id)).size).toBe(model.sweeps.length);
    for (const { before, after } of others) expect(after).toEqual(before);
  });

  it('says at the top which parameter moved by more than its uncertainty, and how many sweeps did', () => {
    const beyond = found.moved.map(({ movements }) => movements.filter((each) => each.beyondUncertainty));
    const sweeps = beyond.filter((each) => each.length > 0).length;
    const [summary] = model.summary;
    expect(summary).toContain(`, ${sweeps} of them by more than the uncertainty (`);
    const pmax = beyond.flat().filter(({ parameter }) => parameter === 'pmax');
    expect(pmax).toHaveLength(1);
    expect(summary).toMatch(/\(Pmax of 1 by -10\.\d %, U = 1\.\d %;/);
    for (const { change, after } of pmax) expect(Math.abs(change!)).toBeGreaterThan(after.uncertainty!);
  });

  it('says by how much, as the two evaluations have it', () => {
    const change = 100 * (pmaxOf('after', '1.02') / pmaxOf('before', '1.02') - 1);
    expect(Number.parseFloat(model.sweeps[0]!.change)).toBeCloseTo(change, 1);
    const [pmax] = model.chosen!.parameters;
    expect(pmax).toMatchObject({ symbol: 'Pmax', change: model.sweeps[0]!.change });
    expect(Number.parseFloat(pmax!.before)).toBeCloseTo(pmaxOf('before', '1.02'), 0);
    expect(Number.parseFloat(pmax!.after)).toBeCloseTo(pmaxOf('after', '1.02'), 0);
    expect(pmax!.outcomeBefore).toMatchObject({ verdict: 'pass' });
    expect(pmax!.outcomeAfter).toMatchObject({ verdict: 'fail' });
  });

  it('shows the sweep that was chosen, and tells what each change does to it alone', () => {
    expect(model.chosen!.address).toBe('1.02');
    expect(model.chosen!.because.map(({ text }) => text)).toEqual([
      expect.stringMatching(/^table sweeps\/1\.02\.csv .*: Pmax -10\.\d %.*, turns pass to fail$/),
      expect.stringMatching(/^beta of module KF108M from -0\.27 %\/K to -0\.29 %\/K: .*Voc \+0\.\d %/),
    ]);
    const other = modelOf(found, '2.01').chosen!;
    expect(other).toMatchObject({ address: '2.01', conditions: [] });
    expect(other.because).toHaveLength(1);
  });

  it('draws both curves and their difference', () => {
    const { overlay, differences } = model.chosen!;
    expect(overlay.series.map(({ role }) => role)).toEqual(['before', 'after', 'nameplate']);
    // A tenth of the short-circuit current at STC, 13.9 A, all along the flat part of the curve.
    const flat = differences.filter(({ voltage }) => voltage < 300);
    expect(flat.length).toBeGreaterThan(20);
    for (const row of flat) expect(row.difference).toBeCloseTo(-1.39, 1);
  });

  it('lists conditions that are not what they were', async () => {
    const files = edited(harrowFen, 'campaign.sweepbook', 'irradiance  826 W/m2', 'irradiance  830 W/m2');
    const { chosen } = modelOf(await difference(demoEvaluation(), files));
    expect(chosen).toMatchObject({ address: '1.06' });
    expect(chosen!.conditions).toEqual([
      {
        name: 'Irradiance',
        before: expect.stringContaining('826') as string,
        after: expect.stringContaining('830') as string,
      },
    ]);
  });

  it('gives each cause and each sweep its place on both sides', () => {
    const why = model.sections.find(({ title }) => title === 'Why')!;
    const line = harrowFen['modules.sweepbook']!.split('\n').findIndex((each) => each.includes('beta'));
    const cause = why.items!.find(({ text }) => text.startsWith('beta'))!;
    for (const place of [cause.at!.before!, cause.at!.after!]) {
      expect(display(place.file)).toBe('modules.sweepbook');
      expect(place.line).toBe(line);
    }
    for (const { at } of model.sweeps) expect([at.before?.file, at.after?.file]).not.toContain(undefined);
  });

  it('says so where nothing moved', async () => {
    const same = modelOf(await difference(demoEvaluation(), harrowFen));
    expect(same).toMatchObject({ summary: ['No change of results.'], sections: [], sweeps: [] });
    expect(same.chosen).toBeUndefined();
  });
});
