/** Second readings of irradiance and temperature, and Voc as a thermometer. Campaigns are invented, curves as in cecCampaign.ts. */
import { describe, expect, it } from 'vitest';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { csvOf, curveAt, moduleBlock, sweepBlock, wideCriteria } from './cecCampaign.js';

const at = { irradiance: 900, cellTemperature: 40 };

async function evaluated(
  more: string[],
  { modules = 1, drift = '', csv = csvOf(curveAt('row 4', at)) } = {},
) {
  const text = [
    moduleBlock('row 4'),
    `string S\n  modules ${modules} x M`,
    wideCriteria + drift,
    sweepBlock('S', at, more),
  ].join('\n\n');
  const evaluation = await evaluateText(text, { 's.csv': csv });
  return { analysis: evaluation.sweeps[0]!.analysis, ids: evaluation.problems.map(({ id }) => id) };
}

describe('irradiance before and after', () => {
  it('counts with its mean, and its difference is the drift', async () => {
    const { analysis, ids } = await evaluated(['irradiance-after 918 W/m2']);
    expect(ids).toEqual([]);
    expect(analysis.conditions.irradiance).toBeCloseTo(909, 9);
    expect(analysis.conditions.drift).toBeCloseTo(18 / 909, 9);
  });

  it('gates the verdict by the drift that the criteria allow', async () => {
    const { analysis } = await evaluated(['irradiance-after 936 W/m2'], { drift: '  drift .. 2 %\n' });
    expect(analysis.verdict).toBe('not judged');
    expect(analysis.reasons[0]!.code).toBe('condition-drift');
  });
});

describe('two temperatures', () => {
  it('are compared, and more than 5 K is said', async () => {
    expect((await evaluated(['temperature-check 44.9 degC cell'])).ids).toEqual([]);
    expect((await evaluated(['temperature-check 45.1 degC cell'])).ids).toEqual([
      'sweep/temperatures-disagree',
    ]);
  });

  it('take the offset of a sensor behind the module into account', async () => {
    // 32.5 + 0.9 x 3 K (King et al., SAND2004-3535) is 4.8 K below 40 degC; without the offset it would be 7.5 K.
    const { analysis, ids } = await evaluated(['temperature-check 32.5 degC module offset 3 K']);
    expect(analysis.conditions.checkTemperature).toBeCloseTo(35.2, 9);
    expect(ids).toEqual([]);
  });

  it('come from a column too', async () => {
    const rows = csvOf(curveAt('row 4', at)).trim().split('\n');
    const csv = rows.map((row, k) => `${row},${k === 0 ? 'Tmod (degC)' : '52.0'}`).join('\n');
    const { analysis, ids } = await evaluated([], { csv });
    expect(analysis.conditions.cellTemperature).toBe(40);
    expect(analysis.conditions.checkTemperature).toBeCloseTo(52, 6);
    expect(ids).toEqual(['sweep/temperatures-disagree']);
  });
});

describe('Voc as a thermometer', () => {
  it('agrees with the temperature of a sound device', async () => {
    const { analysis } = await evaluated([]);
    expect(analysis.conditions.vocTemperature).toBeCloseTo(40, 0);
    expect(analysis.reasons.map(({ code }) => code)).not.toContain('voc-temperature');
  });

  it('says so where a module too many was declared', async () => {
    const csv = csvOf(curveAt('row 4', at, { series: 17 }));
    const { analysis } = await evaluated([], { modules: 18, csv });
    const reason = analysis.reasons.find(({ code }) => code === 'voc-temperature');
    expect(reason?.text).toContain('more modules declared than measured');
    expect(reason?.decisive).toBe(false);
  });
});

describe('distance of translation', () => {
  it('is warned about where a sweep in poor light is judged', async () => {
    const csv = csvOf(curveAt('row 4', { irradiance: 500, cellTemperature: 40 }));
    const text = [
      moduleBlock('row 4'),
      'string S\n  modules 1 x M',
      wideCriteria,
      sweepBlock('S', { irradiance: 500, cellTemperature: 40 }),
    ].join('\n\n');
    const { problems } = await evaluateText(text, { 's.csv': csv });
    expect(problems.map(({ id }) => id)).toEqual(['sweep/translated-far']);
    const gated = await evaluateText(
      text.replace(wideCriteria, `${wideCriteria}  irradiance 700 W/m2 ..\n`),
      { 's.csv': csv },
    );
    expect(gated.sweeps[0]!.analysis.verdict).toBe('not judged');
    expect(gated.problems).toEqual([]);
  });
});
