/**
 * What a diagnosis says of curves that the project's own composition makes; how often it is right is counted in tests/faults, against
 * a simulation that shares no code with it. Module, plant, noise and the sizes of all faults are invented; what is expected of
 * each number is the number that the curve was made with.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Diagnosis } from '../../src/diagnosis/diagnosis.js';
import { atConditions, fiveParametersFromNameplate } from '../../src/physics/nameplateModel.js';
import {
  composeString,
  moduleWithSubstrings,
  type ModuleDamage,
} from '../../src/physics/seriesComposition.js';
import { basisOf } from '../../src/diagnosis/expectation.js';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { disturbed } from '../physics/noise.js';
import { nameplateCoefficients, nameplatePoints } from '../nameplate.js';

const nameplate = { isc: 13.9, voc: 37.2, imp: 13.09, vmp: 31.2, alpha: 0.0063, beta: -0.1004 };
const reference = fiveParametersFromNameplate({ ...nameplate, cells: 54, technology: 'mono-Si' }).reference!;

interface Curve {
  readonly irradiance?: number;
  readonly temperature?: number;
  readonly modules?: number;
  readonly damage?: readonly ModuleDamage[];
  readonly ohm?: number;
  readonly points?: number;
}

function csv(
  { irradiance = 850, temperature = 45, modules = 18, damage = [], ohm = 0, points = 128 }: Curve,
  seed: number,
) {
  const module = atConditions(reference, { irradiance, cellTemperature: temperature });
  const sound = moduleWithSubstrings(module, 3);
  const string = Array.from({ length: modules }, (_, k) =>
    damage[k] ? moduleWithSubstrings(module, 3, damage[k]) : sound,
  );
  const fine = composeString(string, { cableResistance: ohm, points: 1000 });
  const voc = fine.voltage.at(-1)!;
  const voltage = Float64Array.from({ length: points }, (_, k) => (voc * (k + 0.3)) / points);
  let at = 1;
  const current = voltage.map((v) => {
    while (fine.voltage[at]! < v) at++;
    const share = (v - fine.voltage[at - 1]!) / (fine.voltage[at]! - fine.voltage[at - 1]!);
    return fine.current[at - 1]! + share * (fine.current[at]! - fine.current[at - 1]!);
  });
  const noisy = disturbed({ voltage, current }, 0.008, 0, seed).current;
  return [
    'V (V),I (A)',
    ...Array.from(voltage, (v, k) => `${v.toFixed(2)},${noisy[k]!.toFixed(3)}`),
    '',
  ].join('\n');
}

const head = (more: string) => `plane south
  tilt 30 deg
  azimuth 174 deg

module KF108M
  technology mono-Si
  cells 54
  ${more}
  Pmax 408.4 W ± 3 %
${nameplatePoints}${nameplateCoefficients}
module KF120M
  technology mono-Si
  cells 60
  substrings 3
  Isc 13.85 A
  Voc 41.30 V
  Imp 13.04 A
  Vmp 34.70 V
  alpha 0.045 %/K
  beta -0.27 %/K
  gamma -0.35 %/K

string 1.01 .. 1.06
  modules 18 x KF108M

tracer T1
  voltage ± 0.3 %
  current ± 0.3 %

reference RC1
  irradiance ± 1.5 %
  temperature ± 1 K
`;

const sweep = (name: string, temperature = 45, irradiance = 850) => `
sweep ${name} at 2026-05-14 12:0${name.at(-1)!}
  irradiance ${irradiance} W/m2
  temperature ${temperature} degC cell
  data "${name}.csv"
  with T1, RC1
`;

/** The string 1.01, with five sound ones beside it or alone. */
async function diagnosed(
  curve: Curve,
  { written = 45, peers = true, light = 850, substrings = 'substrings 3' } = {},
): Promise<Diagnosis> {
  const others = peers ? ['1.02', '1.03', '1.04', '1.05', '1.06'] : [];
  const text = [head(substrings), sweep('1.01', written, light), ...others.map((name) => sweep(name))].join(
    '',
  );
  const tables = Object.fromEntries(others.map((name, k) => [`${name}.csv`, csv({}, 10 + k)]));
  const { sweeps } = await evaluateText(text, { ...tables, '1.01.csv': csv(curve, 1) });
  return sweeps[0]!.diagnosis!;
}

const first = ({ causes }: Diagnosis) => causes[0]?.code;

describe('a sound string', () => {
  it.each([25, 60, 128, 400, 3000])('with %d points: nothing is found', async (points) => {
    expect(await diagnosed({ points })).toEqual({
      healthy: true,
      findings: [],
      causes: [],
      substringsOut: 0,
    });
    expect((await diagnosed({ points }, { peers: false })).healthy).toBe(true);
  });
});

describe('beside sound strings', () => {
  it('a lost substring is counted, and the translation is told', async () => {
    const found = await diagnosed({ damage: [{ lostSubstrings: 1 }] });
    expect(first(found)).toBe('substring-out');
    expect(found.substringsOut).toBe(1);
    expect(found.causes[0]!.text).toMatch(/1 substring of 54 is missing/);
    expect(found.findings).toContainEqual(expect.objectContaining({ kind: 'low voltage' }));
  });

  it('a sensor that came off is told from a lost substring by the temperatures of the others', async () => {
    const found = await diagnosed({}, { written: 36 });
    expect(first(found)).toBe('temperature-wrong');
    expect(found.causes[0]!.text).toMatch(/above the 36\.0 degC given; the other strings had 45 degC/);
    expect(found.substringsOut).toBe(0);
  });

  it('a missing module is a wrong count before it is a fault', async () => {
    const found = await diagnosed({ modules: 17 });
    expect(first(found)).toBe('module-count-wrong');
    expect(found.causes[0]).toMatchObject({ about: 'entry' });
    expect(found.causes[0]!.text).toBe('The voltage is that of 17 modules; 18 are entered.');
    expect(found.causes[0]!.tellApart).toMatch(/Count the modules/);
  });

  it('a string with less current throughout is soiled', async () => {
    const found = await diagnosed({ irradiance: 850 * 0.92 });
    expect(first(found)).toBe('soiling');
    expect(found.causes[0]!.figures[0]!.value).toBeCloseTo(8, 0);
  });

  it.each([2, 5])('%d ohm in series come out as such, with their uncertainty', async (ohm) => {
    const found = await diagnosed({ ohm });
    expect(first(found)).toBe('series-resistance');
    const { value, uncertainty = 0 } = found.causes[0]!.figures[0]!;
    expect(Math.abs(value - ohm)).toBeLessThan(Math.max(uncertainty, 0.15));
  });
});

it('of strings swept twice the later sweep counts, wherever it stands in the text', async () => {
  const others = ['1.02', '1.03', '1.04', '1.05', '1.06'];
  // In the morning all were soiled; then they were cleaned.
  const morning = others.map((name) => sweep(name).replace(' 12:', ' 09:').replace('.csv', '-soiled.csv'));
  const text = [head('substrings 3'), sweep('1.01'), ...others.map((name) => sweep(name)), ...morning].join(
    '',
  );
  const tables = Object.fromEntries([
    ['1.01.csv', csv({}, 1)],
    ...others.map((name, k) => [`${name}.csv`, csv({}, 10 + k)]),
    ...others.map((name, k) => [`${name}-soiled.csv`, csv({ irradiance: 850 * 0.9 }, 20 + k)]),
  ]) as Record<string, string>;
  const { sweeps } = await evaluateText(text, tables);
  expect(sweeps[0]!.diagnosis!.causes).toEqual([]);
});

it('an accuracy of the tracer in V and A counts as much as the same in percent', async () => {
  const known = async (accuracies: string) => {
    const text = (head('substrings 3') + sweep('1.01')).replace(
      'voltage ± 0.3 %\n  current ± 0.3 %',
      accuracies,
    );
    const [measured] = (await evaluateText(text, { '1.01.csv': csv({}, 1) })).sweeps;
    return { ...basisOf(measured!)!.alone, ...measured!.analysis.measured!.parameters };
  };
  const fractions = await known('voltage ± 3 %\n  current ± 3 %');
  const { vmp, imp } = fractions;
  const absolute = await known(`voltage ± ${0.03 * vmp!} V\n  current ± ${0.03 * imp!} A`);
  expect(absolute.voltage.deviation).toBeCloseTo(fractions.voltage.deviation, 9);
  expect(absolute.current.deviation).toBeCloseTo(fractions.current.deviation, 9);
});

describe('a step', () => {
  it('of one module low in current: its share and its width', async () => {
    const found = await diagnosed({ damage: [{ photocurrentShare: 0.8 }] });
    expect(first(found)).toBe('module-low-current');
    expect(found.causes[0]!.text).toMatch(/^One module carries only (79|80)(\.\d+)? ± .* of the current/);
    const step = found.findings.find(({ kind }) => kind === 'step')!;
    expect(step.at!.current).toBeLessThan(0.85 * 13.9 * 0.85);
    expect(step.at!.voltage).toBeGreaterThan(400);
  });

  it('of single substrings in the shade', async () => {
    const found = await diagnosed({ damage: [{ photocurrentShare: 0.4, weakSubstrings: 1 }] });
    expect(first(found)).toBe('partial-shade');
    expect(found.findings[0]!.text).toMatch(/one substring/);
  });
});

describe('several faults of one module', () => {
  const damage = [{ lostSubstrings: 2, photocurrentShare: 0.85, weakSubstrings: 1, addedResistance: 2 }];

  it('are all named, the lost substrings first, each with its number', async () => {
    const { causes, substringsOut } = await diagnosed({ damage });
    expect(causes.map(({ code }) => code)).toEqual(['substring-out', 'partial-shade', 'series-resistance']);
    expect(causes.map(({ besides }) => besides)).toEqual([undefined, 'substring-out', 'substring-out']);
    expect(substringsOut).toBe(2);
    const share = causes[1]!.figures.find(({ name }) => name === 'share of the light')!;
    expect(Math.abs(share.value - 85)).toBeLessThan(2);
    const ohm = causes[2]!.figures[0]!;
    expect(Math.abs(ohm.value - 2)).toBeLessThan(0.3);
  });
});

describe('what is entered', () => {
  it('another type of the campaign that fits is named', async () => {
    const text = (head('substrings 3') + sweep('1.01')).replace('18 x KF108M', '18 x KF120M');
    const { sweeps } = await evaluateText(text, { '1.01.csv': csv({}, 1) });
    const cause = sweeps[0]!.diagnosis!.causes[0]!;
    expect(cause.code).toBe('module-type-wrong');
    expect(cause.text).toContain('KF108M fits the curve; KF120M is entered');
  });

  it('substrings that the nameplate does not count are assumed, and that is said', async () => {
    const found = await diagnosed({ damage: [{ lostSubstrings: 1 }] }, { substrings: '' });
    expect(found.causes[0]!.text).toContain('3 substrings a module assumed');
  });
});

describe('all strings alike', () => {
  it('a current that is high in each of them is the sensor', async () => {
    const names = ['1.01', '1.02', '1.03', '1.04', '1.05', '1.06'];
    const text = [head('substrings 3'), ...names.map((name) => sweep(name, 45, 780))].join('');
    const tables = Object.fromEntries(names.map((name, k) => [`${name}.csv`, csv({}, k)]));
    const { sweeps } = await evaluateText(text, tables);
    for (const { diagnosis } of sweeps) {
      expect(diagnosis!.causes[0]!.code).toBe('sensor-soiled');
      expect(diagnosis!.causes[0]!.text).toMatch(/^The current of the 5 other strings is (8|9)\.?\d* ± /);
      expect(diagnosis!.causes[0]!.text).toContain('This string reads alike.');
    }
  });

  it('does not hide that this string has more of the same', async () => {
    const names = ['1.01', '1.02', '1.03', '1.04', '1.05', '1.06'];
    const text = [head('substrings 3'), ...names.map((name) => sweep(name))].join('');
    const lightOf = (k: number) => 850 * (k === 0 ? 0.84 : 0.92);
    const tables = Object.fromEntries(
      names.map((name, k) => [`${name}.csv`, csv({ irradiance: lightOf(k) }, k)]),
    );
    const [first] = (await evaluateText(text, tables)).sweeps[0]!.diagnosis!.causes;
    expect(first!.code).toBe('soiling');
    const [own, others] = first!.figures;
    expect(own!.value).toBeCloseTo(100 * (1 - 0.84 / 0.92), 0);
    expect(others!.value).toBeCloseTo(8, 0);
    expect(first!.text).toMatch(
      /below what is usual for the other strings.*The current of the 5 other strings lacks/,
    );
  });

  it('is told in their figures where this string has a loss of its own', async () => {
    const names = ['1.01', '1.02', '1.03', '1.04', '1.05', '1.06'];
    const text = [head('substrings 3'), ...names.map((name) => sweep(name, 45, 780))].join('');
    const soiled = csv({ irradiance: 850 * 0.92 }, 0);
    const tables = Object.fromEntries(names.map((name, k) => [`${name}.csv`, k === 0 ? soiled : csv({}, k)]));
    const { causes } = (await evaluateText(text, tables)).sweeps[0]!.diagnosis!;
    const sensor = causes.find(({ code }) => code === 'sensor-soiled')!;
    // The others see 850 W/m2 where 780 W/m2 are given; this one as good as what is given.
    expect(sensor.figures[0]!.value).toBeCloseTo(100 * (850 / 780 - 1), 0);
    expect(sensor.text).toContain('The current of the 5 other strings is');
    expect(sensor.text).not.toContain('alike');
  });
});

describe('what all strings have more or less is no part of what one has', () => {
  /** Six strings that all have `common`, the first of them `own` besides. */
  async function beside(common: Curve, own: Curve): Promise<Diagnosis> {
    const names = ['1.01', '1.02', '1.03', '1.04', '1.05', '1.06'];
    const text = [head('substrings 3'), ...names.map((name) => sweep(name))].join('');
    const tables = Object.fromEntries(
      names.map((name, k) => [`${name}.csv`, csv(k === 0 ? own : common, k)]),
    );
    return (await evaluateText(text, tables)).sweeps[0]!.diagnosis!;
  }

  it('series resistance: the cause and the finding have one figure', async () => {
    const { causes, findings } = await beside({ ohm: 0.8 }, { ohm: 2.8 });
    expect(causes[0]!.code).toBe('series-resistance');
    expect(causes[0]!.figures[0]!.value).toBeCloseTo(2, 1);
    expect(causes[0]!.text).toContain('more series resistance than usual for the other strings');
    const found = findings.find(({ kind }) => kind === 'slope of the vertical leg')!;
    expect(found.figures[0]!.value).toBeCloseTo(causes[0]!.figures[0]!.value, 1);
  });

  it('soiling: the cause and the finding have one figure', async () => {
    const { causes, findings } = await beside({ irradiance: 850 * 0.97 }, { irradiance: 850 * 0.97 * 0.9 });
    expect(causes[0]!.code).toBe('soiling');
    expect(causes[0]!.figures[0]!.value).toBeCloseTo(10, 0);
    expect(causes[0]!.text).toContain('below what is usual for the other strings');
    const found = findings.find(({ kind }) => kind === 'low current')!;
    expect(-found.figures[0]!.value).toBeCloseTo(causes[0]!.figures[0]!.value, 0);
  });

  it('temperature: that of the cells is named beside that of the others', async () => {
    const names = ['1.01', '1.02', '1.03', '1.04', '1.05', '1.06'];
    const text = [head('substrings 3'), ...names.map((name) => sweep(name, name === '1.01' ? 35 : 45))].join(
      '',
    );
    // Voc of all strings is as if they were 3 K warmer: a lot a little below its nameplate.
    const tables = Object.fromEntries(names.map((name, k) => [`${name}.csv`, csv({ temperature: 48 }, k)]));
    const [cause] = (await evaluateText(text, tables)).sweeps[0]!.diagnosis!.causes;
    expect(cause!.code).toBe('temperature-wrong');
    expect(cause!.figures[0]!.value).toBeCloseTo(10, 0);
    expect(cause!.text).toMatch(
      /^The curve fits cells at 4[45]\.\d+ ± .*; the other strings had 45 degC in like light\.$/,
    );
  });
});

it('shares sum to one at most, likeliest first', async () => {
  const { causes } = await diagnosed({ damage: [{ lostSubstrings: 1 }] }, { peers: false });
  const shares = causes.map(({ share }) => share);
  expect(shares.reduce((sum, share) => sum + share, 0)).toBeLessThanOrEqual(1 + 1e-9);
  expect(shares).toEqual([...shares].sort((a, b) => b - a));
});

describe('other ways to measure', () => {
  const plainSweep = (more: string, points: string) => `${head('substrings 3')}
string 2.01
  modules 18 x KF108M
  parallel 2

sweep ${more}
  with T1, RC1
  data "${points}"
`;

  it('a drift that the irradiance column follows is no finding; one that it does not is', async () => {
    const steady = csv({}, 3)
      .trim()
      .split('\n')
      .slice(1)
      .map((row) => row.split(',').map(Number) as [number, number]);
    const light = steady.map((_, k) => 850 * (1 + 0.08 * (k / 127 - 0.5)));
    const drifted = steady.map(([v, i], k) => [v, (i * light[k]!) / 850] as const);
    const withColumn = [
      'V (V),I (A),G (W/m2)',
      ...drifted.map(([v, i], k) => `${v},${i.toFixed(3)},${light[k]!.toFixed(1)}`),
    ];
    const without = ['V (V),I (A)', ...drifted.map(([v, i]) => `${v},${i.toFixed(3)}`)];
    const temperature = '\n  temperature 45 degC cell';
    const followed = await evaluateText(plainSweep(`1.01 at 2026-05-14 12:01${temperature}`, 'g.csv'), {
      'g.csv': withColumn.join('\n'),
    });
    expect(followed.sweeps[0]!.diagnosis!.healthy).toBe(true);
    const readings = '\n  irradiance 816 W/m2\n  irradiance-after 884 W/m2';
    const told = await evaluateText(
      plainSweep(`1.01 at 2026-05-14 12:01${temperature}${readings}`, 'd.csv'),
      {
        'd.csv': without.join('\n'),
      },
    );
    expect(first(told.sweeps[0]!.diagnosis!)).toBe('drift');
    expect(told.sweeps[0]!.diagnosis!.causes[0]!.figures[0]!.value).toBeCloseTo(8, 0);
  });

  it('of two strings in parallel, one lost a module', async () => {
    const parts = [csv({ modules: 17 }, 5), csv({}, 6)].map((text) =>
      text
        .trim()
        .split('\n')
        .slice(1)
        .map((row) => row.split(',').map(Number) as [number, number]),
    );
    const at = (rows: readonly [number, number][], voltage: number): number => {
      const k = rows.findIndex(([v]) => v >= voltage);
      if (k < 1) return k === 0 ? rows[0]![1] : 0;
      const [[v0, i0], [v1, i1]] = [rows[k - 1]!, rows[k]!];
      return i0 + ((voltage - v0) / (v1 - v0)) * (i1 - i0);
    };
    const rows = parts[0]!.map(([v, i]) => `${v},${(i + at(parts[1]!, v)).toFixed(3)}`);
    const where = '2.01 at 2026-05-14 12:01\n  irradiance 850 W/m2\n  temperature 45 degC cell';
    const { sweeps } = await evaluateText(plainSweep(where, 'p.csv'), {
      'p.csv': ['V (V),I (A)', ...rows].join('\n'),
    });
    const { healthy, causes } = sweeps[0]!.diagnosis!;
    expect(healthy).toBe(false);
    expect(['substring-out', 'module-count-wrong', 'partial-shade', 'temperature-wrong']).toContain(
      causes[0]!.code,
    );
  });
});

it('whatever the points are: numbers that are finite, shares between 0 and 1, sentences that end', async () => {
  const point = fc.tuple(
    fc.double({ min: -20, max: 800, noNaN: true }),
    fc.double({ min: -2, max: 20, noNaN: true }),
  );
  await fc.assert(
    fc.asyncProperty(fc.array(point, { minLength: 8, maxLength: 30 }), async (points) => {
      const falling = points.map(([v]) => v).sort((a, b) => a - b);
      const currents = points.map(([, i]) => i).sort((a, b) => b - a);
      const rows = falling.map((v, k) => `    ${v.toFixed(2)} ${currents[k]!.toFixed(3)}`);
      const text = `${head('substrings 3')}
sweep 1.01 at 2026-05-14 12:01
  irradiance 850 W/m2
  temperature 45 degC cell
  with T1, RC1
  points V, A
${rows.join('\n')}
`;
      const { diagnosis } = (await evaluateText(text)).sweeps[0]!;
      for (const { share, text: said, tellApart, figures } of diagnosis?.causes ?? []) {
        expect(share).toBeGreaterThan(0);
        expect(share).toBeLessThanOrEqual(1);
        expect(said).toMatch(/^[A-Z0-9].*\.$/);
        expect(tellApart).toMatch(/\.$/);
        expect(said + tellApart).not.toMatch(/NaN|Infinity|undefined/);
        for (const { value } of figures) expect(Number.isFinite(value)).toBe(true);
      }
      for (const { text: said } of diagnosis?.findings ?? [])
        expect(said).not.toMatch(/NaN|Infinity|undefined/);
    }),
    { numRuns: 25 },
  );
});
