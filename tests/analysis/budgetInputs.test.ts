/**
 * Which inputs a budget counts and how large each is, worked out by hand: divisors of JCGM 100:2008, 4.3 (k = 2 halves, a
 * rectangle is divided by the square root of 3). Curves as in cecCampaign.ts; the campaigns are invented.
 */
import { describe, expect, it } from 'vitest';
import { assumedTolerances } from '../../src/analysis/assumedTolerances.js';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { csvOf, curveAt, listed, moduleBlock, sweepBlock, type ModuleOptions } from './cecCampaign.js';

const at = { irradiance: 800, cellTemperature: 45 };
const series = 10;
const curve = curveAt('row 4', at, { series });

interface Given {
  readonly sweep?: string;
  readonly tracer?: string;
  readonly reference?: string;
  readonly limits?: string;
  readonly module?: ModuleOptions;
  readonly place?: string;
  readonly csv?: string;
}

async function analysed(given: Given = {}) {
  const text = [
    moduleBlock('row 4', given.module),
    `string S\n  modules ${series} x M`,
    given.place ?? '',
    `tracer T\n${given.tracer ?? '  voltage ± 0.5 %\n  current ± 0.5 %'}`,
    `reference R\n${given.reference ?? '  irradiance ± 2 %\n  temperature ± 1 K'}`,
    `criteria c\n  decision guarded\n${given.limits ?? '  Pmax -5 % ..'}`,
    given.sweep ?? sweepBlock('S', at, ['with T, R']),
  ];
  const evaluation = await evaluateText(text.join('\n\n'), { 's.csv': given.csv ?? csvOf(curve) });
  expect(evaluation.problems.filter(({ severity }) => severity === 'error')).toEqual([]);
  const { analysis } = evaluation.sweeps[0]!;
  const line = (start: string) => analysis.budget.find(({ source }) => source.startsWith(start));
  return { analysis, line };
}

describe('accuracies in units of the reading', () => {
  it('count as fractions of what was measured, not of what was translated', async () => {
    const { analysis, line } = await analysed({
      tracer: '  voltage ± 1 V\n  current ± 0.05 A',
      reference: '  irradiance ± 16 W/m2\n  temperature ± 1 K',
    });
    const { imp, vmp } = analysis.measured!.parameters;
    expect(line('Tracer voltage')!.standardUncertainty).toBeCloseTo(0.5 / vmp!, 9);
    expect(line('Tracer current')!.standardUncertainty).toBeCloseTo(0.025 / imp!, 9);
    expect(line('Irradiance')!.standardUncertainty).toBeCloseTo(8 / 800, 9);
  });

  it('count for an irradiance that only the table gives', async () => {
    const rows = csvOf(curve).trim().split('\n');
    const csv = rows.map((row, k) => `${row},${k === 0 ? 'G (W/m2)' : '800'}`).join('\n');
    const sweep = sweepBlock('S', at, ['with T, R']).replace(/ *irradiance .*\n/, '');
    const { analysis, line } = await analysed({
      sweep,
      csv,
      reference: '  irradiance ± 16 W/m2\n  temperature ± 1 K',
    });
    expect(line('Irradiance')!.standardUncertainty).toBeCloseTo(0.01, 9);
    expect(analysis.verdict).toBe('pass');
  });
});

describe('irradiance', () => {
  const place =
    'site s\n  position 52.4012 N, 0.2618 E\n  timezone Europe/London\n\nplane p\n  tilt 12 deg\n  azimuth 174 deg';

  it('alignment counts by the tangent of the angle of incidence', async () => {
    const reference = '  irradiance ± 2 %\n  temperature ± 1 K\n  alignment ± 2 deg\n  spectral ± 1 %';
    const { analysis, line } = await analysed({ reference, place });
    const { incidence } = analysis.conditions;
    // For 2026-05-14 11:42 BST at this place the sun stands some 25 to 35 deg off the plane: a check that it is known at all.
    expect(incidence).toBeGreaterThan(20);
    expect(incidence).toBeLessThan(40);
    const radians = Math.PI / 180;
    expect(line('Alignment')!.standardUncertainty).toBeCloseTo(Math.tan(incidence! * radians) * radians, 9);
    expect(line('Spectrum')!.standardUncertainty).toBeCloseTo(0.005, 9);
    // Each acts on Isc as an error of the irradiance does, in full.
    expect(Math.abs(line('Spectrum')!.contribution.isc)).toBeCloseTo(0.005, 4);
  });

  it('alignment counts in full where the incidence is not known, and not at all where it is not declared', async () => {
    const reference = '  irradiance ± 2 %\n  temperature ± 1 K\n  alignment ± 2 deg';
    const { line } = await analysed({ reference });
    expect(line('Alignment')!.standardUncertainty).toBeCloseTo(Math.PI / 180, 9);
    expect((await analysed()).line('Alignment')).toBeUndefined();
  });

  it('that differs before and after counts as a rectangle between the two', async () => {
    const sweep = sweepBlock('S', at, ['irradiance-after 816 W/m2', 'with T, R']);
    const { line } = await analysed({ sweep });
    expect(line('Irradiance between')!.standardUncertainty).toBeCloseTo(8 / 808 / Math.sqrt(3), 9);
  });
});

describe('the rear of a bifacial module', () => {
  const sweep = sweepBlock('S', at, ['rear 100 W/m2', 'with T, R']).replace('800 W/m2', '730 W/m2');
  const own = async (bifaciality: string, rear = '') =>
    (
      await analysed({
        sweep: sweep.replace('rear 100 W/m2', `rear 100 W/m2${rear}`),
        module: { lines: bifaciality === '' ? [] : [`bifaciality ${bifaciality}`] },
      })
    ).line('Rear of bifacial modules');

  it('has a line where its reading counts: of the coefficient and of the irradiance, over 730 + 0.7 x 100 W/m2', async () => {
    expect((await own('70 %'))!.standardUncertainty).toBeCloseTo(
      Math.hypot(assumedTolerances.bifaciality * 100, 0.7 * 10) / 800,
      9,
    );
    expect((await own('70 % ± 4 %', ' ± 10 %'))!.standardUncertainty).toBeCloseTo(
      Math.hypot(0.02 * 100, 0.7 * 5) / 800,
      9,
    );
    expect(Math.abs((await own('70 %'))!.contribution.isc)).toBeCloseTo(Math.hypot(2.9, 7) / 800, 3);
  });

  it('has none where it does not', async () => {
    expect(await own('')).toBeUndefined();
    expect((await analysed({ module: { lines: ['bifaciality 70 %'] } })).line('Rear')).toBeUndefined();
  });
});

describe('cells against the place of the sensor', () => {
  const start = 'Cells against';

  it('count a rectangle of 1.5 K among modules and of 1 K within one, beside what the sensor declares', async () => {
    const { line } = await analysed();
    expect(line(start)!.standardUncertainty).toBeCloseTo(1.5 / Math.sqrt(3), 2);
    expect(line(start)!.unit).toBe('K');
    expect(line('Cell temperature')!.standardUncertainty).toBeCloseTo(0.5, 9);
    // The same effect for a kelvin as an error of the sensor.
    expect(line(start)!.contribution.voc).toBeCloseTo(
      (0.87 / 0.5) * line('Cell temperature')!.contribution.voc,
      6,
    );
    const one = await analysed({
      sweep: sweepBlock('S/1', at, ['with T, R']),
      csv: csvOf(curveAt('row 4', at)),
    });
    expect(one.line(start)!.standardUncertainty).toBeCloseTo(1 / Math.sqrt(3), 2);
  });

  it('count nothing where the temperature is that of all cells, from Voc', async () => {
    const sweep = sweepBlock('S', at, ['with T, R']).replace('45 degC cell', 'from Voc');
    expect((await analysed({ sweep })).line(start)).toBeUndefined();
  });
});

describe('temperature behind the module', () => {
  const behind = (offset: string) =>
    sweepBlock('S', at, ['with T, R']).replace('45 degC cell', `43 degC module${offset}`);

  it('has the error of its offset: as written, or as the usual values differ', async () => {
    const temperature = async (offset: string) =>
      (await analysed({ sweep: behind(offset) })).line('Cell temperature')!.standardUncertainty;
    expect(await temperature(' offset 3 K')).toBeCloseTo(0.5, 9);
    expect(await temperature(' offset 3 K ± 1 K')).toBeCloseTo(Math.hypot(0.5, 0.5 * 0.8), 9);
    // SAND2004-3535: 0 to 3 K at 1000 W/m2, a rectangle of half-width 1.5 K.
    expect(Math.abs((await temperature('')) - Math.hypot(0.5, (1.5 / Math.sqrt(3)) * 0.8))).toBeLessThan(
      0.03,
    );
  });
});

describe('temperature from Voc', () => {
  const sweep = sweepBlock('S', at, ['with T, R']).replace('45 degC cell', 'from Voc');

  it('judges no Voc, which would agree with the nameplate whatever the device is, and says what it hides', async () => {
    // A third of one module of ten is bypassed: 3.3 % less voltage.
    const lost = { voltage: curve.voltage.map((v) => v * (1 - 1 / 30)), current: curve.current };
    const limits = '  Pmax -5 % ..\n  Voc -2 % .. 2 %';
    const { analysis } = await analysed({ sweep, limits, csv: csvOf(lost) });
    expect(Math.abs(analysis.deviation.voc!)).toBeLessThan(0.01);
    expect(analysis.verdict).toBe('not judged');
    expect(analysis.reasons[0]).toMatchObject({
      code: 'voc-is-thermometer',
      parameter: 'voc',
      decisive: true,
    });
    expect(analysis.reasons.map(({ code }) => code)).toContain('temperature-from-voc');
  });

  it('counts what the Voc of the nameplate and B1 may be off by', async () => {
    const { line } = await analysed({ sweep });
    expect(line('Voc of the nameplate')!.standardUncertainty).toBe(0.01);
    expect(line('B1')).toBeDefined();
    // Translated to 25 degC, Voc is that of the nameplate: an error of that one is an error of this one, in full.
    expect(Math.abs(line('Voc of the nameplate')!.contribution.voc)).toBeCloseTo(0.01, 3);
    expect((await analysed()).line('Voc of the nameplate')).toBeUndefined();
  });

  it('takes the declared tolerance of Voc as a rectangle', async () => {
    const { voc } = listed('row 4');
    const module = { without: ['Voc'], lines: [`Voc ${voc} V ± 3 %`] };
    const { line } = await analysed({ sweep, module });
    expect(line('Voc of the nameplate')!.standardUncertainty).toBeCloseTo(0.03 / Math.sqrt(3), 9);
  });
});
