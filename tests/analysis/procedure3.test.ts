/**
 * Interpolation between two measured curves (IEC 60891 procedure 3, from memory, not confirmed). Truth: curves of the CEC table,
 * see cecCampaign.ts; errors as found.
 */
import { describe, expect, it } from 'vitest';
import { methodTexts } from '../../src/presentation/sweepTexts.js';
import type { Conditions } from '../../src/physics/ivCurve.js';
import { Workbook } from '../../src/evaluation/workbook.js';
import { evaluateText, inMemory, MemoryFiles } from '../evaluation/memoryFiles.js';
import { currentAtVoltage, inSeriesParallel } from '../../src/physics/singleDiode.js';
import { atConditions, deSotoModule } from '../physics/deSotoModule.js';
import { disturbed } from '../physics/noise.js';
import { csvOf, curveAt, instruments, moduleBlock, type ModuleOptions } from './cecCampaign.js';

interface Given {
  readonly name?: string;
  readonly options?: ModuleOptions;
  readonly more?: string;
  readonly noise?: number;
  readonly criteria?: string;
  readonly lines?: string;
}

const address = 'S';

function filesOf(conditions: readonly Conditions[], given: Given = {}) {
  const { name = 'row 4', options = {}, more = '', noise = 0, criteria = '', lines = '' } = given;
  const blocks = conditions.map((at, k) =>
    [
      `sweep ${address} at 2026-05-14 1${k}:00`,
      `  irradiance ${at.irradiance} W/m2`,
      `  temperature ${at.cellTemperature} degC cell`,
      `  data "${k}.csv"`,
      `  with T, R${lines}`,
    ].join('\n'),
  );
  const text = [
    moduleBlock(name, options),
    `string ${address}\n  modules 10 x M`,
    instruments,
    `criteria c\n  procedure IEC60891-3\n  Pmax -5 % .. 5 %${criteria}`,
    ...blocks,
    more,
  ].join('\n\n');
  const tables = conditions.map((at, k) => {
    const curve = curveAt(name, at, { series: 10 });
    return [`${k}.csv`, csvOf(disturbed(curve, noise * curve.current[0]!, 0, k + 1))];
  });
  return { text, tables: Object.fromEntries(tables) as Record<string, string> };
}

const evaluated = async (conditions: readonly Conditions[], given?: Given) => {
  const { text, tables } = filesOf(conditions, given);
  return evaluateText(text, tables);
};

const pairs: [Conditions, Conditions][] = [
  [
    { irradiance: 850, cellTemperature: 42 },
    { irradiance: 1100, cellTemperature: 55 },
  ],
  [
    { irradiance: 600, cellTemperature: 35 },
    { irradiance: 1050, cellTemperature: 50 },
  ],
  [
    { irradiance: 500, cellTemperature: 25 },
    { irradiance: 1100, cellTemperature: 55 },
  ],
  // Extrapolated: a = -0.33 and 1.33.
  [
    { irradiance: 900, cellTemperature: 45 },
    { irradiance: 600, cellTemperature: 35 },
  ],
];

describe.each(['row 1', 'row 2', 'row 3', 'row 4', 'row 9'])('%s', (name) => {
  it.each(pairs)('between %o and %o: close to the truth, and within its uncertainty', async (...pair) => {
    const { sweeps } = await evaluated(pair, { name });
    for (const { analysis } of sweeps) {
      expect(analysis.translated!.procedure).toBe('IEC60891-3');
      const { isc, voc, pmax } = analysis.deviation;
      expect(Math.abs(isc!)).toBeLessThan(0.0025);
      expect(Math.abs(voc!)).toBeLessThan(0.008);
      expect(Math.abs(pmax!)).toBeLessThan(0.007);
      for (const parameter of ['isc', 'voc', 'pmax'] as const)
        expect(Math.abs(analysis.deviation[parameter]!)).toBeLessThan(analysis.uncertainty[parameter]!);
    }
  });
});

it('0.2 % of noise on either curve: Pmax within 0.7 %', async () => {
  const { sweeps } = await evaluated(pairs[0]!, { noise: 0.002 });
  for (const { analysis } of sweeps) expect(Math.abs(analysis.deviation.pmax!)).toBeLessThan(0.007);
});

it('irradiance that drifts during either sweep is corrected point by point, as in the other procedures', async () => {
  const pair = pairs[0]!;
  const { text, tables } = filesOf(pair);
  const steady = (await evaluateText(text, tables)).sweeps;
  const drifting = (column: boolean) =>
    Object.fromEntries(
      pair.map((at, k) => {
        const table = curveAt('row 4', at, { series: 10 });
        const rows = Array.from(table.voltage, (voltage, point) => {
          // 3 % up in the one sweep, 3 % down in the other; the points of each moment by their own exact curve.
          const share = 1 + (k === 0 ? 0.03 : -0.03) * (point / (table.voltage.length - 1) - 0.5);
          const moment = atConditions(deSotoModule('row 4'), { ...at, irradiance: at.irradiance * share });
          const current = currentAtVoltage(inSeriesParallel(moment, 10, 1), voltage);
          return [voltage, current, ...(column ? [at.irradiance * share] : [])].join(',');
        });
        return [
          `${k}.csv`,
          `Voltage (V),Current (A)${column ? ',Irradiance (W/m2)' : ''}\n${rows.join('\n')}\n`,
        ];
      }),
    );
  const corrected = (await evaluateText(text, drifting(true))).sweeps;
  const uncorrected = (await evaluateText(text, drifting(false))).sweeps;
  for (const name of ['isc', 'voc', 'pmax'] as const) {
    const off = (sweeps: typeof steady) =>
      Math.abs(sweeps[0]!.analysis.deviation[name]! - steady[0]!.analysis.deviation[name]!);
    expect(off(corrected), name).toBeLessThan(0.0012);
    if (name === 'isc') expect(off(uncorrected), name).toBeGreaterThan(0.004);
  }
});

describe('the choice of the partner', () => {
  const at = (irradiance: number): Conditions => ({ irradiance, cellTemperature: 40 });
  const partners = async (...irradiances: number[]) =>
    (await evaluated(irradiances.map(at))).sweeps.map(
      ({ analysis }) => analysis.translated?.interpolation?.partner,
    );

  it('is the sweep across 1000 W/m2 that differs most, else the one that differs most', async () => {
    expect(await partners(850, 500, 1020, 1060)).toEqual([
      'S at 2026-05-14 13:00',
      'S at 2026-05-14 13:00',
      'S at 2026-05-14 11:00',
      'S at 2026-05-14 11:00',
    ]);
    expect((await partners(900, 700, 600))[0]).toBe('S at 2026-05-14 12:00');
  });

  it('says the other sweep, a and the temperature step in its method, and flags an extrapolation', async () => {
    const { sweeps } = await evaluated(pairs[3]!);
    const { analysis, target } = sweeps[0]!;
    const words = methodTexts(analysis, target.criteria).join(' ');
    expect(words).toMatch(
      /procedure 3\. Interpolated with S at 2026-05-14 11:00 \(a = -0\.33\).*48\.3 degC.*by procedure 1/,
    );
    expect(analysis.translated!.flags.map(({ code }) => code)).toContain('extrapolated-between-curves');
  });

  it('a module without beta takes the temperature by the relation of the cell', async () => {
    const { sweeps } = await evaluated(pairs[0]!, { options: { without: ['beta', 'gamma'] } });
    const { analysis } = sweeps[0]!;
    expect(methodTexts(analysis, undefined).join(' ')).toContain('Hishikawa');
    expect(Math.abs(analysis.deviation.pmax!)).toBeLessThan(analysis.uncertainty.pmax!);
  });
});

describe('not judged, with what to measure', () => {
  const good = pairs[0]!;
  const first = async (conditions: readonly Conditions[], given?: Given) =>
    (await evaluated(conditions, given)).sweeps[0]!.analysis;

  it.each([
    ['alone', [good[0]], {}],
    ['too near in irradiance', [good[0], { irradiance: 900, cellTemperature: 44 }], {}],
    ['across a replacement', good, { more: 'replace S/3 at 2026-05-14 10:30\n  serial "A" -> "B"' }],
  ] as [string, Conditions[], Given][])('%s', async (_, conditions, given) => {
    const analysis = await first(conditions, given);
    expect(analysis.verdict).toBe('not judged');
    expect(analysis.reasons[0]).toMatchObject({ code: 'no-partner', decisive: true });
    expect(analysis.reasons[0]!.text).toMatch(/measure string S again at least 100 W\/m2 from 850 W\/m2/);
  });

  it('a void sweep is no partner', async () => {
    const { text, tables } = filesOf(good);
    const { sweeps } = await evaluateText(
      text.replace('  data "1.csv"', '  data "1.csv"\n  void "Cloud."'),
      tables,
    );
    expect(sweeps.map(({ analysis }) => analysis.reasons[0]!.code)).toEqual(['no-partner', 'void']);
  });

  it('too far outside the two curves', async () => {
    const analysis = await first([
      { irradiance: 800, cellTemperature: 40 },
      { irradiance: 600, cellTemperature: 40 },
    ]);
    expect(analysis.reasons[0]).toMatchObject({ code: 'partner-too-near', decisive: true });
    expect(analysis.reasons[0]!.text).toMatch(/S at 2026-05-14 11:00.*a = -1\.00.*nearer to or above 1000/);
  });
});

describe('uncertainty', () => {
  it('counts irradiance and temperature once between the curves, and more beyond', async () => {
    const shareOf = async (pair: readonly Conditions[], source: string) => {
      const { sweeps } = await evaluated(pair);
      return sweeps[0]!.analysis.budget.find((line) => line.source === source)!.standardUncertainty;
    };
    expect(await shareOf(pairs[0]!, 'Irradiance')).toBeCloseTo(0.01, 6);
    expect(await shareOf(pairs[0]!, 'Cell temperature')).toBeCloseTo(0.5, 6);
    // a = -1/3: (4/3 · 900 + 1/3 · 600)/1000 and 4/3 + 1/3, by hand.
    expect(await shareOf(pairs[3]!, 'Irradiance')).toBeCloseTo(0.014, 6);
    expect(await shareOf(pairs[3]!, 'Cell temperature')).toBeCloseTo(0.8333, 3);
  });

  it('is not known where one of the two sweeps names no instruments', async () => {
    const { text, tables } = filesOf(pairs[0]!, { criteria: '\n  decision guarded' });
    const at = text.lastIndexOf('  with T, R');
    const { sweeps } = await evaluateText(text.slice(0, at) + text.slice(at + 11), tables);
    expect(sweeps[0]!.analysis.reasons[0]!.code).toBe('uncertainty-missing');
  });
});

it('keeps what did not change, and follows an edit of the partner', async () => {
  const { text, tables } = filesOf(pairs[0]!);
  const files = new MemoryFiles({ 'c.sweepbook': text, ...tables });
  const workbook = new Workbook(files);
  const run = async (now: string) => {
    workbook.setText(inMemory('c.sweepbook'), now);
    return (await workbook.evaluate(inMemory('c.sweepbook'))).sweeps.map(({ analysis }) => analysis);
  };
  const before = await run(text);
  const moved = await run(`# a line above\n${text}`);
  expect(moved[0]).toBe(before[0]);
  expect(moved[1]).toBe(before[1]);
  const edited = await run(text.replace('irradiance 1100', 'irradiance 1110'));
  expect(edited[0]).not.toBe(before[0]);
  expect(edited[0]!.deviation.pmax).not.toBe(before[0]!.deviation.pmax);
  const fresh = await evaluateText(text.replace('irradiance 1100', 'irradiance 1110'), tables);
  expect(edited[0]!.deviation).toEqual(fresh.sweeps[0]!.analysis.deviation);
});
