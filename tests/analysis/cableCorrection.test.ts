/** A string measured through its cable reads what it delivers at the module terminals. */
import { describe, expect, it } from 'vitest';
import { cableResistance } from '../../src/physics/cable.js';
import type { IvCurve } from '../../src/physics/ivCurve.js';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { csvOf, curveAt, instruments, moduleBlock, sweepBlock, wideCriteria } from './cecCampaign.js';

const at = { irradiance: 900, cellTemperature: 40 };

/** The meter sits behind a resistance: V - I R. */
const through = (ohm: number, { voltage, current }: IvCurve): IvCurve => ({
  voltage: voltage.map((v, k) => v - current[k]! * ohm),
  current,
});

async function deviationOf(curve: IvCurve, cable: string, address = 'S', modules = 18) {
  const text = [
    moduleBlock('row 4'),
    `string S\n  modules ${modules} x M\n${cable}`,
    instruments,
    wideCriteria,
    sweepBlock(address, at, ['with T, R']),
  ].join('\n\n');
  const { sweeps, problems } = await evaluateText(text, { 's.csv': csvOf(curve) });
  expect(problems).toEqual([]);
  return sweeps[0]!.analysis;
}

describe('cable of a string', () => {
  const bare = curveAt('row 4', at, { series: 18 });
  // IEC 60228 bounds the resistance of a conductor; what the correction takes lies between that and its geometry.
  const run = { length: 100, crossSection: 2.5, conductor: 'copper' } as const;
  const { resistance } = cableResistance(run, 40);

  it('is taken off: the deviation is that of the string without it', async () => {
    const without = await deviationOf(bare, '');
    const corrected = await deviationOf(through(resistance, bare), '  cable 100 m, 2.5 mm2, copper');
    expect(corrected.deviation.pmax).toBeCloseTo(without.deviation.pmax!, 4);
    expect(corrected.deviation.voc).toBeCloseTo(without.deviation.voc!, 4);
    // Left in, the same cable would cost a percent: the check can fail.
    const uncorrected = await deviationOf(through(resistance, bare), '');
    expect(uncorrected.deviation.pmax! - without.deviation.pmax!).toBeLessThan(-0.01);
  });

  it('is named among the estimates and counted in the uncertainty', async () => {
    const { translated, budget } = await deviationOf(
      through(resistance, bare),
      '  cable 100 m, 2.5 mm2, copper',
    );
    expect(translated!.estimates.find(({ symbol }) => symbol === 'Rcable')?.value).toBeCloseTo(resistance, 9);
    const line = budget.find(({ source }) => source === 'Cable resistance')!;
    expect(line.contribution.pmax).toBeGreaterThan(0);
    expect(line.contribution.voc).toBe(0);
  });

  it('is the common run of strings in parallel: the current of all of them drops its voltage', async () => {
    const pair = curveAt('row 4', at, { series: 18, parallel: 2 });
    const parallel = '  parallel 2\n';
    const without = await deviationOf(pair, parallel);
    const cable = `${parallel}  cable 100 m, 2.5 mm2, copper`;
    const corrected = await deviationOf(through(resistance, pair), cable);
    expect(corrected.translated!.estimates.find(({ symbol }) => symbol === 'Rcable')?.value).toBeCloseTo(
      resistance,
      9,
    );
    expect(corrected.deviation.pmax).toBeCloseTo(without.deviation.pmax!, 4);
    // Runs of each string on its own would be half of it: not what was measured here.
    const halved = await deviationOf(through(resistance / 2, pair), cable);
    expect(halved.deviation.pmax! - without.deviation.pmax!).toBeGreaterThan(0.005);
  });

  it('is not taken off a section, which is measured at its own leads', async () => {
    const section = curveAt('row 4', at, { series: 9 });
    const { translated } = await deviationOf(section, '  cable 100 m, 2.5 mm2, copper', 'S/1-9');
    expect(translated!.estimates.map(({ symbol }) => symbol)).not.toContain('Rcable');
  });
});
