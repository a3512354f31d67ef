import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  astmE1036Parameters,
  continueToOpenCircuit,
  extractParameters,
} from '../../src/physics/curveParameters.js';
import type { IvCurve } from '../../src/physics/ivCurve.js';
import { atConditions, fiveParametersFromNameplate } from '../../src/physics/nameplateModel.js';
import { composeString, moduleWithSubstrings } from '../../src/physics/seriesComposition.js';
import {
  characteristicPoints,
  currentAtVoltage,
  inSeriesParallel,
  sampleCurve,
  type SingleDiode,
} from '../../src/physics/singleDiode.js';
import { readJson, readTable, relative } from './checkData.js';
import { disturbed, seeded } from './noise.js';
import { plausibleDiode } from './plausibleDiode.js';

/** The invented module of the demo. */
const reference = fiveParametersFromNameplate({
  isc: 13.9,
  voc: 37.2,
  imp: 13.09,
  vmp: 31.2,
  alpha: 0.00045 * 13.9,
  beta: -0.0027 * 37.2,
}).reference!;
const string = inSeriesParallel(reference.model, 18, 1);

const part = ({ voltage, current }: IvCurve, from: number, to: number): IvCurve => ({
  voltage: voltage.slice(from, to),
  current: current.slice(from, to),
});

const evenVoltages = (model: SingleDiode, points: number): IvCurve => {
  const { voc } = characteristicPoints(model);
  const voltage = Float64Array.from({ length: points }, (_, k) => (1.01 * voc * k) / (points - 1));
  return { voltage, current: voltage.map((v) => currentAtVoltage(model, v)) };
};

/** As many points, even in voltage, on the lines between those of a dense curve. */
function evenly({ voltage, current }: IvCurve, points: number): IvCurve {
  const at = Float64Array.from({ length: points }, (_, k) => (voltage.at(-1)! * k) / (points - 1));
  return {
    voltage: at,
    current: at.map((v) => {
      const right = Math.max(
        1,
        voltage.findIndex((other) => other >= v),
      );
      const share = (v - voltage[right - 1]!) / (voltage[right]! - voltage[right - 1]!);
      return current[right - 1]! + share * (current[right]! - current[right - 1]!);
    }),
  };
}

const codes = (curve: IvCurve): string[] => extractParameters(curve).findings.map(({ code }) => code);

describe('ASTM E1036 as in pvlib tests/ivtools/test_utils.py', () => {
  const rows = readTable('astm-e1036-curve.csv');
  const curve = {
    voltage: Float64Array.from(rows, (row) => Number(row.V)),
    current: Float64Array.from(rows, (row) => Number(row.I)),
  };
  const expected = readJson<Record<string, Record<string, number>>>('astm-e1036-expected.json');

  it('default: order 4 over 75 to 115 %, to 1e-8', () => {
    const found = astmE1036Parameters(curve);
    const wanted = expected['default (4th order, 0.75-1.15, 3 points)']!;
    expect(relative(found.isc!, wanted.isc!)).toBeLessThan(1e-8);
    expect(relative(found.voc!, wanted.voc!)).toBeLessThan(1e-8);
    expect(relative(found.vmp!, wanted.vmp!)).toBeLessThan(1e-8);
    expect(relative(found.imp!, wanted.imp!)).toBeLessThan(1e-8);
    expect(relative(found.pmax!, wanted.pmp!)).toBeLessThan(1e-8);
    expect(relative(found.ff!, wanted.ff!)).toBeLessThan(1e-8);
  });

  it('limits 85 to 110 %, to 1e-8', () => {
    const found = astmE1036Parameters(curve, { currentLimits: [0.85, 1.1], voltageLimits: [0.85, 1.1] });
    const wanted = expected['limits 0.85-1.10']!;
    expect(relative(found.vmp!, wanted.vmp!)).toBeLessThan(1e-8);
    expect(relative(found.pmax!, wanted.pmp!)).toBeLessThan(1e-8);
    expect(relative(found.ff!, wanted.ff!)).toBeLessThan(1e-8);
  });

  it('the default method agrees with it to 0.02 % in Pmax, 0.1 % in Isc and Voc', () => {
    const { parameters } = extractParameters(curve);
    const wanted = expected['default (4th order, 0.75-1.15, 3 points)']!;
    expect(relative(parameters.pmax!, wanted.pmp!)).toBeLessThan(2e-4);
    expect(relative(parameters.isc!, wanted.isc!)).toBeLessThan(1e-3);
    expect(relative(parameters.voc!, wanted.voc!)).toBeLessThan(1e-3);
  });

  it('gives nothing for points that carry nothing', () => {
    expect(
      astmE1036Parameters({ voltage: Float64Array.of(1, 2), current: Float64Array.of(2, 1) }).pmax,
    ).toBeUndefined();
  });
});

const device = fc
  .tuple(plausibleDiode({ leastIrradiance: 200, mostIrradiance: 1200 }), fc.constantFrom(1, 1, 20, 25, 30))
  .map(([one, series]) => inSeriesParallel(one, series, 1));

describe('exact points', () => {
  it('give the parameters of the model to 0.05 %, from any device, even or knee-dense', () => {
    fc.assert(
      fc.property(device, fc.integer({ min: 25, max: 300 }), fc.boolean(), (model, points, even) => {
        const truth = characteristicPoints(model);
        const { parameters, findings } = extractParameters(
          even ? evenVoltages(model, points) : sampleCurve(model, points),
        );
        expect(findings).toEqual([]);
        for (const name of ['isc', 'voc', 'pmax', 'ff'] as const) {
          expect(relative(parameters[name]!, truth[name])).toBeLessThan(5e-4);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('give the slopes at both ends', () => {
    const { slopeAtIsc, slopeAtVoc } = extractParameters(sampleCurve(string, 200));
    const step = 1e-3;
    const atIsc = (currentAtVoltage(string, -step) - currentAtVoltage(string, step)) / (2 * step);
    const voc = characteristicPoints(string).voc;
    const atVoc = (2 * step) / (currentAtVoltage(string, voc - step) - currentAtVoltage(string, voc + step));
    expect(relative(slopeAtIsc!, atIsc)).toBeLessThan(0.02);
    expect(relative(slopeAtVoc!, atVoc)).toBeLessThan(0.02);
  });
});

describe('noise of 0.2 % of Isc', () => {
  // The aim is 0.3 %. A sweep of 25 points cannot keep it always, by any method: tests/accuracy/extraction.md has the bound.
  const cases = [
    { points: 25, wild: 0, share: 0.98, worst: 0.005 },
    { points: 60, wild: 0, share: 0.99, worst: 0.004 },
    { points: 25, wild: 1, share: 0.97, worst: 0.03 },
    { points: 25, wild: 2, share: 0.97, worst: 0.04 },
    { points: 40, wild: 2, share: 0.98, worst: 0.005 },
    { points: 60, wild: 2, share: 0.99, worst: 0.004 },
    { points: 128, wild: 3, share: 0.99, worst: 0.004 },
    { points: 500, wild: 5, share: 1, worst: 0.003 },
    { points: 3000, wild: 5, share: 1, worst: 0.001 },
  ];
  for (const { points, wild, share, worst } of cases) {
    it(`${points} points, ${wild} wild: Isc, Voc and Pmax within 0.3 % in ${share * 100} % of sweeps`, () => {
      const runs = points > 1000 ? 20 : 150;
      let good = 0;
      let all = 0;
      fc.assert(
        fc.property(device, fc.boolean(), fc.nat(), (model, even, seed) => {
          const truth = characteristicPoints(model);
          const exact = even ? evenVoltages(model, points) : sampleCurve(model, points);
          const { parameters } = extractParameters(disturbed(exact, 0.002 * truth.isc, wild, seed));
          for (const name of ['isc', 'voc', 'pmax'] as const) {
            const error = relative(parameters[name]!, truth[name]);
            expect(error).toBeLessThan(worst);
            all++;
            if (error < 0.003) good++;
          }
        }),
        // A fixed seed: this is a statement on accuracy, which some sweep in a million may break.
        { numRuns: runs, seed: 20260514, endOnFailure: true },
      );
      expect(good / all).toBeGreaterThanOrEqual(share);
    });
  }

  it('standard errors agree with the scatter of repeated sweeps', () => {
    const truth = characteristicPoints(string);
    const squares = { isc: 0, voc: 0, pmax: 0, vmp: 0, imp: 0 };
    const names = Object.keys(squares) as (keyof typeof squares)[];
    const repeats = 200;
    for (let seed = 0; seed < repeats; seed++) {
      const { parameters, standardErrors } = extractParameters(
        disturbed(sampleCurve(string, 128), 0.002 * truth.isc, 0, seed),
      );
      for (const name of names)
        squares[name] += ((parameters[name]! - truth[name]) / standardErrors[name]!) ** 2;
    }
    for (const name of names) {
      expect(Math.sqrt(squares[name] / repeats)).toBeGreaterThan(0.6);
      expect(Math.sqrt(squares[name] / repeats)).toBeLessThan(1.5);
    }
  });

  it('is found again as noise', () => {
    const isc = characteristicPoints(string).isc;
    const { noise } = extractParameters(disturbed(sampleCurve(string, 400), 0.002 * isc, 0, 1));
    expect(relative(noise!, 0.002 * isc)).toBeLessThan(0.2);
  });
});

describe('difficult sweeps', () => {
  const exact = sampleCurve(string, 128);
  const truth = characteristicPoints(string);

  it('wild points are set aside and counted, also at the maximum and at both ends', () => {
    const noisy = disturbed(exact, 0.001 * truth.isc, 0, 3);
    const maximum = exact.voltage.findIndex((v) => v > truth.vmp);
    for (const at of [0, 1, maximum - 1, maximum, 100, 126])
      noisy.current[at] = noisy.current[at]! + 0.4 * truth.isc;
    const { parameters, findings } = extractParameters(noisy);
    expect(relative(parameters.pmax!, truth.pmax)).toBeLessThan(2e-3);
    expect(relative(parameters.isc!, truth.isc)).toBeLessThan(2e-3);
    expect(relative(parameters.voc!, truth.voc)).toBeLessThan(2e-3);
    expect(findings).toEqual([{ code: 'outliers-set-aside', count: 6 }]);
  });

  it('repeated points count once and do no harm', () => {
    const twice = (values: Float64Array): Float64Array =>
      Float64Array.from({ length: 2 * values.length }, (_, k) => values[k >> 1]!);
    const found = extractParameters({ voltage: twice(exact.voltage), current: twice(exact.current) });
    expect(found.parameters).toEqual(extractParameters(exact).parameters);
  });

  it('a sweep that begins beyond V = 0 has an extrapolated Isc; one that begins beyond half of Vmp none', () => {
    const from = (share: number): IvCurve =>
      part(
        exact,
        exact.voltage.findIndex((v) => v > share * truth.vmp),
        128,
      );
    const early = extractParameters(from(0.1));
    expect(relative(early.parameters.isc!, truth.isc)).toBeLessThan(1e-3);
    expect(early.findings[0]!.code).toBe('isc-extrapolated');
    const late = extractParameters(from(0.6));
    expect(late.parameters.isc).toBeUndefined();
    expect(late.parameters.ff).toBeUndefined();
    expect(late.findings[0]!.code).toBe('isc-refused');
    expect(relative(late.parameters.pmax!, truth.pmax)).toBeLessThan(1e-3);
  });

  it('a sweep from slightly below V = 0 needs no flag', () => {
    const voltage = Float64Array.from({ length: 100 }, (_, k) => -8 + (680 * k) / 99);
    const curve = { voltage, current: voltage.map((v) => currentAtVoltage(string, v)) };
    const { parameters, findings } = extractParameters(curve);
    expect(findings).toEqual([]);
    expect(relative(parameters.isc!, truth.isc)).toBeLessThan(1e-4);
  });

  it('a sweep that stops short has an extrapolated Voc within 0.3 %, up to half of Isc, and none beyond', () => {
    for (const share of [0.05, 0.1, 0.2, 0.3, 0.4]) {
      const stop = exact.current.findIndex((i) => i < share * truth.isc);
      for (let seed = 0; seed < 20; seed++) {
        const { parameters, findings } = extractParameters(
          disturbed(part(exact, 0, stop), 0.002 * truth.isc, 0, seed),
        );
        expect(relative(parameters.voc!, truth.voc)).toBeLessThan(3e-3);
        expect(findings.map(({ code }) => code)).toEqual(['voc-extrapolated']);
        expect(relative(parameters.pmax!, truth.pmax)).toBeLessThan(4e-3);
      }
    }
    const stop = exact.current.findIndex((i) => i < 0.6 * truth.isc);
    expect(codes(part(exact, 0, stop))).toEqual(['voc-refused']);
  });

  it('a sweep that ends before or begins behind the maximum has no Pmax, and says so', () => {
    const before = part(
      exact,
      0,
      exact.voltage.findIndex((v) => v > 0.95 * truth.vmp),
    );
    expect(extractParameters(before).parameters.pmax).toBeUndefined();
    expect(codes(before)).toEqual(['stops-before-maximum', 'voc-refused']);
    expect(relative(extractParameters(before).parameters.isc!, truth.isc)).toBeLessThan(1e-3);
    const behind = part(
      exact,
      exact.voltage.findIndex((v) => v > 1.03 * truth.vmp),
      128,
    );
    expect(extractParameters(behind).parameters.pmax).toBeUndefined();
    expect(codes(behind)).toContain('starts-after-maximum');
  });

  it('points that carry no curve are named, never thrown at', () => {
    expect(codes({ voltage: new Float64Array(), current: new Float64Array() })).toEqual(['too-few-points']);
    expect(codes({ voltage: Float64Array.of(1, 1, 1), current: Float64Array.of(3, 2, 1) })).toEqual([
      'no-variation',
    ]);
    expect(
      codes({ voltage: Float64Array.of(0, 1, 2, 3, 4, 5, 6), current: new Float64Array(7).fill(5) }),
    ).toEqual(['no-variation']);
    expect(codes({ voltage: Float64Array.of(0, 1, 2, 3), current: Float64Array.of(5, 4, 3, 0) })).toEqual([
      'too-few-points',
    ]);
    expect(
      codes({ voltage: Float64Array.of(-6, -5, -4, -3, -2, -1), current: Float64Array.of(9, 8, 7, 6, 5, 4) }),
    ).toEqual(['no-variation']);
  });

  it('any finite points end in parameters that are finite or absent', () => {
    const value = fc.oneof(fc.double({ min: -2, max: 20, noNaN: true }), fc.constantFrom(0, 1, 5));
    fc.assert(
      fc.property(fc.array(fc.tuple(value, value), { maxLength: 60 }), (pairs) => {
        const sorted = [...pairs].sort(([a], [b]) => a - b);
        const curve = {
          voltage: Float64Array.from(sorted, ([v]) => v),
          current: Float64Array.from(sorted, ([, i]) => i),
        };
        const { parameters } = extractParameters(curve);
        for (const found of Object.values(parameters)) {
          if (found !== undefined) expect(Number.isFinite(found)).toBe(true);
        }
        continueToOpenCircuit(curve);
      }),
      { numRuns: 400 },
    );
  });
});

describe('curves with steps', () => {
  const intact = moduleWithSubstrings(reference.model, 3);
  const many = (count: number, damage: object) =>
    Array(count).fill(moduleWithSubstrings(reference.model, 3, damage));
  const strings = {
    'one module at 70 %': [...many(17, {}), ...many(1, { photocurrentShare: 0.7 })],
    'four modules at 30 %': [...many(14, {}), ...many(4, { photocurrentShare: 0.3 })],
    'half the string at 50 %': [...many(9, {}), ...many(9, { photocurrentShare: 0.5 })],
    'one substring of one module at 60 %': many(1, { photocurrentShare: 0.6, weakSubstrings: 1 }),
  };
  for (const [name, modules] of Object.entries(strings)) {
    it(`${name}: Pmax of the largest maximum within 0.5 %, Isc and Voc within 0.3 %`, () => {
      const exact = composeString(modules, { points: 4000 });
      const largest = exact.voltage.reduce((most, v, k) => Math.max(most, v * exact.current[k]!), 0);
      for (let seed = 0; seed < 10; seed++) {
        const every = Math.floor(exact.voltage.length / 200);
        const thinned = {
          voltage: exact.voltage.filter((_, k) => k % every === 0),
          current: exact.current.filter((_, k) => k % every === 0),
        };
        const { parameters, findings } = extractParameters(
          disturbed(thinned, 0.001 * exact.current[0]!, 0, seed),
        );
        expect(findings).toContainEqual({ code: 'several-maxima', count: 2 });
        expect(relative(parameters.pmax!, largest)).toBeLessThan(5e-3);
        expect(relative(parameters.isc!, exact.current[0]!)).toBeLessThan(3e-3);
        expect(relative(parameters.voc!, exact.voltage.at(-1)!)).toBeLessThan(3e-3);
      }
    });
  }

  // At 25 points a step may have two points of its own: no sweep of this kind tells it from two wild points by its look alone.
  const sparseStrings = {
    ...strings,
    'one module at 90 %': [...many(17, {}), ...many(1, { photocurrentShare: 0.9 })],
  };
  it.each(Object.entries(sparseStrings))(
    '%s, 25 and 40 points: the step is not taken for wild points',
    (_, modules) => {
      const exact = composeString(modules, { points: 4000 });
      const largest = exact.voltage.reduce((most, v, k) => Math.max(most, v * exact.current[k]!), 0);
      for (const points of [25, 40]) {
        const errors: number[] = [];
        for (let seed = 0; seed < 30; seed++) {
          const { parameters } = extractParameters(
            disturbed(evenly(exact, points), 0.002 * exact.current[0]!, 0, seed),
          );
          errors.push(relative(parameters.pmax!, largest));
        }
        errors.sort((a, b) => a - b);
        expect(errors[15]).toBeLessThan(points === 25 ? 0.01 : 0.02);
        expect(errors.at(-1)).toBeLessThan(0.03);
      }
    },
  );

  it('an intact string shows one maximum', () => {
    expect(codes(composeString(Array(18).fill(intact)))).toEqual([]);
  });
});

describe('continuation to open circuit', () => {
  /** IEC 60891 procedure 1 for an irradiance step at one temperature: each current grows by the step of Isc. */
  const translated = (from: number): { curve: IvCurve; voc: number } => {
    const low = inSeriesParallel(atConditions(reference, { irradiance: from, cellTemperature: 25 }), 18, 1);
    const high = inSeriesParallel(reference.model, 18, 1);
    const exact = sampleCurve(low, 150);
    const shift = characteristicPoints(high).isc - characteristicPoints(low).isc;
    const voltage = exact.voltage.map((v) => v - high.seriesResistance * shift);
    return {
      curve: { voltage, current: exact.current.map((i) => i + shift) },
      voc: characteristicPoints(high).voc,
    };
  };

  it('from 800 to 1000 W/m2: Voc within 0.3 % with noise, with and without the nameplate model', () => {
    const { curve, voc } = translated(800);
    for (let seed = 0; seed < 30; seed++) {
      const noisy = disturbed(curve, 0.002 * 13.9, 0, seed);
      for (const shape of [undefined, string]) {
        const continued = continueToOpenCircuit(noisy, { shape });
        expect(relative(continued.voc!, voc)).toBeLessThan(3e-3);
        expect(continued.continuedFrom).toBe(150);
        expect(continued.curve.current.at(-1)).toBe(0);
      }
    }
  });

  it('from 400 to 1000 W/m2, 60 % of Isc left: Voc within 1.5 %', () => {
    const { curve, voc } = translated(400);
    for (let seed = 0; seed < 30; seed++) {
      const noisy = disturbed(curve, 0.002 * 13.9, 0, seed);
      expect(relative(continueToOpenCircuit(noisy, { shape: string }).voc!, voc)).toBeLessThan(0.015);
    }
  });

  it('the continued curve rises in voltage, falls in current, and its Voc is found again', () => {
    const { curve } = translated(700);
    const { curve: longer, continuedFrom, voc } = continueToOpenCircuit(curve);
    for (let k = continuedFrom!; k < longer.voltage.length; k++) {
      expect(longer.voltage[k]!).toBeGreaterThan(longer.voltage[k - 1]!);
      expect(longer.current[k]!).toBeLessThan(longer.current[k - 1]!);
    }
    expect(relative(extractParameters(longer).parameters.voc!, voc!)).toBeLessThan(2e-3);
  });

  it('leaves a curve alone that reaches zero current, and one that stops far short', () => {
    const exact = sampleCurve(string, 128);
    expect(continueToOpenCircuit(exact)).toMatchObject({ continuedFrom: undefined, refused: undefined });
    const stop = exact.current.findIndex((i) => i < 0.8 * 13.9);
    const short = part(exact, 0, stop);
    expect(continueToOpenCircuit(short)).toMatchObject({ curve: short, refused: 'stops-too-early' });
    expect(continueToOpenCircuit(part(exact, 0, 4)).refused).toBe('no-leg');
  });

  it('does not continue a leg behind which a step lies', () => {
    const weak = moduleWithSubstrings(reference.model, 3, { photocurrentShare: 0.4 });
    const stepped = composeString([
      ...Array(9).fill(moduleWithSubstrings(reference.model, 3)),
      ...Array(9).fill(weak),
    ]);
    const stop = stepped.current.findIndex((i) => i < 0.3 * 13.9);
    expect(continueToOpenCircuit(part(stepped, 0, stop)).refused).toBe('not-one-device');
  });
});

it('the random numbers of these tests are even', () => {
  const random = seeded(1);
  const mean = Array.from({ length: 10_000 }, random).reduce((sum, value) => sum + value, 0) / 10_000;
  expect(mean).toBeCloseTo(0.5, 1);
});
