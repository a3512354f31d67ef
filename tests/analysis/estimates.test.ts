/** What stands in for values a nameplate does not give. Nameplates: CEC table, see cecCampaign.ts. */
import { describe, expect, it } from 'vitest';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { readTable } from '../physics/checkData.js';
import {
  csvOf,
  curveAt,
  instruments,
  moduleBlock,
  sweepBlock,
  wideCriteria,
  type ModuleOptions,
} from './cecCampaign.js';

const at = { irradiance: 850, cellTemperature: 48 };

async function analysed(options: ModuleOptions, procedure = 'IEC60891-1', module = 'row 4') {
  const text = [
    moduleBlock(module, options),
    'string S\n  modules 10 x M',
    instruments,
    `${wideCriteria}  procedure ${procedure}`,
    sweepBlock('S', at, ['with T, R']),
  ].join('\n\n');
  const csv = csvOf(curveAt(module, at, { series: 10 }));
  const { sweeps, problems } = await evaluateText(text, { 's.csv': csv });
  return { analysis: sweeps[0]!.analysis, problems };
}

const symbols = ({ analysis }: Awaited<ReturnType<typeof analysed>>): string[] =>
  analysis.translated!.estimates.map(({ symbol }) => symbol);

describe('estimates', () => {
  it('are named with their value, unit and method wherever the nameplate is silent', async () => {
    const found = await analysed({});
    expect(found.problems).toEqual([]);
    expect(symbols(found)).toEqual(['Rs', 'kappa']);
    for (const { value, unit, method } of found.analysis.translated!.estimates) {
      expect(Number.isFinite(value)).toBe(true);
      expect(unit).toMatch(/^ohm/);
      expect(method.length).toBeGreaterThan(20);
    }
    expect(symbols(await analysed({}, 'IEC60891-2'))).toEqual(['Rs', 'kappa', 'B1', 'B2']);
  });

  it('are none where it gives Rs and kappa', async () => {
    const found = await analysed({ lines: ['Rs 0.3 ohm', 'kappa 1 mohm/K'] });
    expect(found.problems).toEqual([]);
    expect(symbols(found)).toEqual([]);
    const second = { lines: ['Rs 0.3 ohm', 'kappa 1 mohm/K', 'B1 0.05'] };
    expect(symbols(await analysed(second, 'IEC60891-2'))).toEqual([]);
  });

  it('one given value is used, the other estimated', async () => {
    expect(symbols(await analysed({ lines: ['Rs 0.3 ohm'] }))).toEqual(['kappa']);
    expect(symbols(await analysed({ lines: ['kappa 1 mohm/K'] }))).toEqual(['Rs']);
  });

  // gamma_r of the CEC table, %/K; the model of a nameplate without gamma finds it within 4 % of its value.
  it.each(['row 1', 'row 2', 'row 3', 'row 4', 'row 9'])(
    'gamma of %s follows from the nameplate',
    async (name) => {
      const found = await analysed({ without: ['gamma'] }, 'IEC60891-1', name);
      expect(found.problems).toEqual([]);
      expect(symbols(found)).toEqual(['Rs', 'gamma', 'kappa']);
      const row = readTable('cec-modules-2017-06-05.csv').find((each) => each['Name'] === name)!;
      const gamma = found.analysis.translated!.estimates[1]!;
      const listed = (Number(row['gamma_r']) / 100) * Number(row['I_mp_ref']) * Number(row['V_mp_ref']) * 10;
      expect(gamma.unit).toBe('W/K');
      expect(Math.abs(gamma.value / listed - 1)).toBeLessThan(0.04);
      expect(Math.abs(found.analysis.deviation.pmax!)).toBeLessThan(0.005);
    },
  );

  it('an estimated gamma is counted in the budget, with more doubt than a declared one', async () => {
    const line = async (options: ModuleOptions) => {
      const { analysis } = await analysed(options);
      return analysis.budget.find(({ source }) => source.startsWith('gamma'))!;
    };
    const [declared, estimated] = [await line({}), await line({ without: ['gamma'] })];
    const share = ({ contribution }: typeof declared): number => Math.abs(contribution.pmax);
    expect(share(declared)).toBeGreaterThan(0);
    expect(share(estimated)).toBeGreaterThan(share(declared));
  });
});

describe('a nameplate that nothing can stand in for', () => {
  it.each(['Isc', 'Voc', 'Imp', 'Vmp'])('without %s: not judged, and said once', async (name) => {
    const { analysis, problems } = await analysed({ without: [name] });
    expect(analysis.verdict).toBe('not judged');
    expect(analysis.reasons).toHaveLength(1);
    expect(analysis.reasons[0]!.text).toContain(name);
    expect(analysis.measured!.parameters.pmax).toBeGreaterThan(0);
    expect(problems.map(({ id }) => id)).toEqual(['module/incomplete']);
    expect(problems[0]!.message).toContain(`\`${name}\``);
  });
});

describe('the choice of procedure', () => {
  it('is said where the criteria leave it open', async () => {
    const first = await analysed({}, 'auto');
    expect(first.analysis.translated!.procedure).toBe('IEC60891-1');
    const declared = { lines: ['Rs 0.3 ohm', 'kappa 1 mohm/K', 'B1 0.05'] };
    const second = await analysed(declared, 'auto');
    expect(second.analysis.translated!.procedure).toBe('IEC60891-2');
    for (const { analysis } of [first, second]) {
      const reason = analysis.reasons.find(({ code }) => code === 'procedure-chosen')!;
      expect(reason).toMatchObject({ decisive: false });
    }
  });
});
