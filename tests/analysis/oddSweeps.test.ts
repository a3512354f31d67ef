/** Sweeps as a bad day gives them. The curves are those of a module of the CEC table; what is done to them is invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { csvOf, curveAt, instruments, moduleBlock, sweepBlock, wideCriteria } from './cecCampaign.js';

const at = { irradiance: 850, cellTemperature: 48 };
const series = 10;

async function sweepOf(csv: string, sweep = sweepBlock('S', at, ['with T, R']), criteria = wideCriteria) {
  const text = [moduleBlock('row 4'), `string S\n  modules ${series} x M`, instruments, criteria, sweep].join(
    '\n\n',
  );
  const evaluation = await evaluateText(text, { 's.csv': csv });
  const found = evaluation.sweeps[0]!;
  for (const { text: words } of found.analysis.reasons) expect(words).not.toMatch(/NaN|undefined|Infinity/);
  expect(found.analysis.reasons.length).toBeGreaterThan(0);
  return { evaluation, sweep: found, analysis: found.analysis };
}

const whole = curveAt('row 4', at, { series });

/** A table with more columns; `G(k)` and `T(k)` make them. */
function tableWith(columns: Readonly<Record<string, (k: number) => string>>): string {
  const header = ['Voltage (V)', 'Current (A)', ...Object.keys(columns)].join(',');
  const rows = Array.from(whole.voltage, (v, k) =>
    [v.toFixed(4), whole.current[k]!.toFixed(5), ...Object.values(columns).map((of) => of(k))].join(','),
  );
  return [header, ...rows, ''].join('\n');
}

describe('irradiance of each point', () => {
  const steady = 'G (W/m2)';

  it('counts before the written one, and its gaps are filled by the mean', async () => {
    const plain = (await sweepOf(csvOf(whole))).analysis.translated!.parameters.pmax!;
    const gaps = await sweepOf(tableWith({ [steady]: (k) => (k % 3 === 0 ? '' : '850') }));
    expect(gaps.analysis.conditions).toMatchObject({ irradiance: 850, drift: 0 });
    expect(gaps.analysis.translated!.parameters.pmax! / plain).toBeCloseTo(1, 4);
  });

  it('that drifts is corrected point by point and shown as drift', async () => {
    // The current of a cell follows its irradiance: each point is scaled to the moment it was taken at.
    const factor = (k: number): number => 1 + 0.02 * (k / (whole.voltage.length - 1) - 0.5);
    const drifting = {
      voltage: whole.voltage,
      current: whole.current.map((i, k) => i + (factor(k) - 1) * whole.current[0]!),
    };
    const rows = Array.from(drifting.voltage, (v, k) =>
      [v.toFixed(4), drifting.current[k]!.toFixed(5), (850 * factor(k)).toFixed(2)].join(','),
    );
    const { analysis } = await sweepOf(['Voltage (V),Current (A),G (W/m2)', ...rows].join('\n'));
    expect(analysis.conditions.drift).toBeCloseTo(0.02, 4);
    const plain = (await sweepOf(csvOf(whole))).analysis.translated!.parameters.pmax!;
    expect(Math.abs(analysis.translated!.parameters.pmax! / plain - 1)).toBeLessThan(0.003);
  });

  /** The reading of point k follows `factor`, and the current of every point with it, as the photocurrent of a cell does. */
  function drifting(factor: (k: number) => number): string {
    const rows = Array.from(whole.voltage, (v, k) => {
      const current = whole.current[k]! + (factor(k) - 1) * whole.current[0]!;
      return [v.toFixed(4), current.toFixed(5), (850 * factor(k)).toFixed(3)].join(',');
    });
    return ['Voltage (V),Current (A),G (W/m2)', ...rows].join('\n');
  }

  it.each([0.02, 0.04, -0.04])('that drifts by %f leaves no parameter off, Isc neither', async (drift) => {
    const steadily = (await sweepOf(csvOf(whole))).analysis.deviation;
    const csv = drifting((k) => 1 + drift * (k / (whole.voltage.length - 1) - 0.5));
    const { analysis } = await sweepOf(csv);
    for (const name of ['isc', 'voc', 'imp', 'vmp', 'pmax', 'ff'] as const)
      expect(Math.abs(analysis.deviation[name]! - steadily[name]!), name).toBeLessThan(0.002);
  });

  it('of which some readings fell out counts by the others, and that is said', async () => {
    const steadily = (await sweepOf(csvOf(whole))).analysis.deviation;
    const { analysis } = await sweepOf(tableWith({ [steady]: (k) => (k % 10 === 0 ? '0' : '850') }));
    expect(analysis.conditions.irradiance).toBe(850);
    for (const name of ['isc', 'voc', 'pmax'] as const)
      expect(analysis.deviation[name]).toBeCloseTo(steadily[name]!, 4);
    const said = analysis.reasons.find(({ code }) => code === 'irradiance-dropped')!;
    expect(said.text).toContain('15 of 150 readings');
  });

  it.each([
    ['all zero', () => '0'],
    ['negative', () => '-3.2'],
  ])('%s: not judged, with the column named', async (_, value) => {
    const { analysis } = await sweepOf(tableWith({ [steady]: value }));
    expect(analysis.verdict).toBe('not judged');
    expect(analysis.reasons[0]!.code).toBe('no-irradiance');
    expect(analysis.reasons[0]!.text).toContain('column');
  });

  it.each(['0', '-1', '1e-9', '1500'])('one point at %s spoils no number silently', async (wild) => {
    const csv = tableWith({ [steady]: (k) => (k === 70 ? wild : '850') });
    const { analysis } = await sweepOf(csv, sweepBlock('S', at), `${wideCriteria}  drift .. 2 %`);
    for (const value of Object.values(analysis.deviation))
      if (value !== undefined) expect(Number.isFinite(value)).toBe(true);
    expect(analysis.verdict).toBe('not judged');
    expect(analysis.reasons[0]!.code).toBe('condition-drift');
  });

  it('whose mean no sun gives is not used', async () => {
    const { analysis } = await sweepOf(tableWith({ [steady]: (k) => (k === 70 ? '1e30' : '850') }));
    expect(analysis.verdict).toBe('not judged');
    expect(analysis.reasons[0]!.code).toBe('no-irradiance');
  });
});

describe('temperature', () => {
  it('from Voc is that of the curve, for a string and for a section of it', async () => {
    for (const [address, modules] of [
      ['S', 10],
      ['S/4-7', 4],
      ['S/2', 1],
    ] as const) {
      const sweep = sweepBlock(address, at, ['with T, R']).replace('48 degC cell', 'from Voc');
      const { analysis, evaluation } = await sweepOf(csvOf(curveAt('row 4', at, { series: modules })), sweep);
      expect(evaluation.problems).toEqual([]);
      expect(analysis.conditions.temperatureSource).toBe('voc');
      // IEC 60904-5: the equivalent cell temperature of an exact curve; B1, B2 come from the nameplate's model.
      expect(Math.abs(analysis.conditions.cellTemperature! - 48)).toBeLessThan(0.5);
    }
  });

  it('from a Voc that no cell of this string can have is not used', async () => {
    const sweep = sweepBlock('S', at).replace('48 degC cell', 'from Voc');
    const { analysis } = await sweepOf(csvOf(curveAt('row 4', at, { series: 4 })), sweep);
    expect(analysis.verdict).toBe('not judged');
    expect(analysis.reasons[0]!.code).toBe('no-temperature');
  });

  // The back of module is cooler by the offset at 1000 W/m2: Tc = Tm + G/1000 dT (SAND2004-3535, King and others, eq. 12).
  it('of the back of the module is raised by irradiance times offset', async () => {
    const sweep = sweepBlock('S', at).replace('48 degC cell', '45.45 degC module offset 3 K');
    const { analysis, evaluation } = await sweepOf(csvOf(whole), sweep);
    expect(evaluation.problems).toEqual([]);
    expect(analysis.conditions.cellTemperature).toBeCloseTo(45.45 + 0.85 * 3, 9);
  });
});

describe('points', () => {
  it.each([
    ['Windows line ends', csvOf(whole).replaceAll('\n', '\r\n')],
    ['a byte order mark', `\uFEFF${csvOf(whole)}`],
    ['no last line end', csvOf(whole).trimEnd()],
    [
      'voltage falling',
      [csvOf(whole).split('\n')[0], ...csvOf(whole).trim().split('\n').slice(1).reverse()].join('\n'),
    ],
    ['each point twice', csvOf(whole).replace(/^(\d.*)$/gm, '$1\n$1')],
  ])('with %s give the same Pmax', async (_, csv) => {
    const plain = (await sweepOf(csvOf(whole))).analysis;
    const { analysis } = await sweepOf(csv);
    expect(analysis.translated!.parameters.pmax! / plain.translated!.parameters.pmax!).toBeCloseTo(1, 4);
    expect(analysis.verdict).toBe(plain.verdict);
  });

  it.each([
    ['an empty file', ''],
    ['a header alone', 'Voltage (V),Current (A)\n'],
    ['words', 'this is not\na table at all\n'],
    ['NaN everywhere', `Voltage (V),Current (A)\n${'NaN,NaN\n'.repeat(40)}`],
    ['all zero', `Voltage (V),Current (A)\n${'0,0\n'.repeat(40)}`],
    ['one point again and again', `Voltage (V),Current (A)\n${'300,8\n'.repeat(40)}`],
    [
      'numbers beyond all bounds',
      `Voltage (V),Current (A)\n${Array.from({ length: 40 }, (_, k) => `1e${300 + (k % 8)},1e308`).join('\n')}`,
    ],
  ])('that are %s: not judged, one problem that says why', async (_, csv) => {
    const { analysis, sweep } = await sweepOf(csv);
    expect(analysis.verdict).toBe('not judged');
    expect(sweep.problems.filter(({ severity }) => severity === 'error').length).toBeLessThanOrEqual(1);
    expect(analysis.reasons[0]!.decisive).toBe(true);
  });

  it('of any kind never throw, and every number stays finite or absent', async () => {
    const value = fc.oneof(
      fc.double({ min: -1000, max: 1000, noNaN: true }),
      fc.constantFrom(0, -0, 1e-300, 1e300, -1e12),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(fc.tuple(value, value), { minLength: 0, maxLength: 40 }), async (points) => {
        const csv = ['V (V),I (A)', ...points.map(([v, i]) => `${v},${i}`)].join('\n');
        const { analysis } = await sweepOf(csv);
        for (const each of [analysis.deviation, analysis.uncertainty])
          for (const number of Object.values(each)) if (number !== undefined) expect(number).not.toBeNaN();
      }),
      { numRuns: 120 },
    );
  });
});

describe('what does not resolve', () => {
  it('a sweep of an unknown string keeps its measured values and says so once', async () => {
    const { analysis, evaluation } = await sweepOf(csvOf(whole), sweepBlock('X9', at));
    expect(analysis.verdict).toBe('not judged');
    expect(analysis.reasons[0]!.code).toBe('no-string');
    expect(analysis.measured!.parameters.isc).toBeGreaterThan(0);
    expect(evaluation.problems.map(({ id }) => id)).toEqual(['name/unknown']);
  });

  it('void keeps the numbers and loses the verdict', async () => {
    const { analysis } = await sweepOf(csvOf(whole), sweepBlock('S', at, ['void "Clamp loose."']));
    expect(analysis.verdict).toBe('void');
    expect(analysis.translated).toBeDefined();
    expect(analysis.reasons[0]).toMatchObject({ code: 'void', decisive: true });
    expect(analysis.reasons[0]!.text).toContain('Clamp loose.');
    expect(analysis.reasons.slice(1).every(({ decisive }) => !decisive)).toBe(true);
  });

  it('several criteria and none named: not judged, with the way out', async () => {
    const two = 'criteria strict\n  Pmax -1 % ..\n\ncriteria lax\n  Pmax -50 % ..';
    const open = await sweepOf(csvOf(whole), sweepBlock('S', at), two);
    expect(open.analysis.verdict).toBe('not judged');
    expect(open.analysis.reasons[0]).toMatchObject({ code: 'no-criteria', decisive: true });
    const named = await sweepOf(csvOf(whole), sweepBlock('S', at, ['criteria lax']), two);
    expect(named.analysis.verdict).toBe('pass');
    expect(named.evaluation.problems).toEqual([]);
  });

  it('guarded and no instruments: not judged, and the words say what to add', async () => {
    const guarded = `${wideCriteria}  decision guarded`;
    const { analysis } = await sweepOf(csvOf(whole), sweepBlock('S', at), guarded);
    expect(analysis.verdict).toBe('not judged');
    expect(analysis.reasons[0]!.code).toBe('uncertainty-missing');
    expect(
      (await sweepOf(csvOf(whole), sweepBlock('S', at, ['with T, R']), guarded)).analysis.verdict,
    ).not.toBe('not judged');
  });
});

describe('a module replaced by another type', () => {
  // Rows 3 and 4 of the CEC table: 200 W and 250 W.
  it('is held against the type that stood there at that time', async () => {
    const text = [
      moduleBlock('row 4'),
      moduleBlock('row 3', { type: 'N' }),
      'string S\n  modules 10 x M',
      wideCriteria,
      sweepBlock('S/4', at),
      'replace S/4 at 2026-05-14 13:10\n  type M -> N',
      sweepBlock('S/4', at).replace('11:42', '13:42').replace('s.csv', 'n.csv'),
    ].join('\n\n');
    const tables = { 's.csv': csvOf(curveAt('row 4', at)), 'n.csv': csvOf(curveAt('row 3', at)) };
    const { sweeps, problems } = await evaluateText(text, tables);
    expect(problems).toEqual([]);
    expect(sweeps.map(({ target }) => target.module!.name.text)).toEqual(['M', 'N']);
    expect(sweeps.map(({ analysis }) => analysis.verdict)).toEqual(['pass', 'pass']);
  });
});

describe('a curve swept up and down again', () => {
  const rows = ({ voltage, current }: typeof whole, order: number[]): string[] =>
    order.map((k) => `${voltage[k]!.toFixed(4)},${current[k]!.toFixed(5)}`);
  const up = [...whole.voltage.keys()];
  const down = [...up].reverse();
  const bothWays = (share: number, first = up, second = down): string => {
    const back = { voltage: whole.voltage, current: whole.current.map((i) => i * share) };
    return ['Voltage (V),Current (A)', ...rows(whole, first), ...rows(back, second), ''].join('\n');
  };
  const idsOf = async (csv: string): Promise<string[]> =>
    (await sweepOf(csv)).evaluation.problems.map(({ id }) => id);

  it('says that its passes differ, whichever way it began', async () => {
    expect(await idsOf(bothWays(0.98))).toEqual(['sweep/passes-differ']);
    expect(await idsOf(bothWays(0.98, down, up))).toEqual(['sweep/passes-differ']);
  });

  it('says nothing where they agree, nor of one pass with a noisy voltage', async () => {
    expect(await idsOf(bothWays(0.997))).toEqual([]);
    const jitter = up.map((k) => (k % 2 === 0 && k + 1 < up.length ? k + 1 : k % 2 === 1 ? k - 1 : k));
    const csv = ['Voltage (V),Current (A)', ...rows(whole, jitter), ''].join('\n');
    expect(await idsOf(csv)).toEqual([]);
  });
});
