/**
 * The propagated uncertainties against a Monte Carlo propagation of distributions (JCGM 101:2008): every trial draws errors of
 * the inputs, gives a whole measured curve these errors, translates it and reads the parameters from the result. It shares
 * the translation equations with the code under test, and nothing else.
 */
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import { cellTemperatureFromVoc } from '../../src/physics/cellTemperature.js';
import {
  deviceCoefficients,
  estimateB1,
  estimateB2,
  estimateKappa,
  estimateKappaOfProcedure2,
  estimateRs,
  estimateRsOfProcedure2,
  type DeviceCoefficients,
} from '../../src/physics/deviceCoefficients.js';
import { standardTestConditions, type Conditions, type IvCurve } from '../../src/physics/ivCurve.js';
import {
  translateByProcedure1,
  translateByProcedure2,
  translatePointByProcedure1,
  translatePointByProcedure2,
} from '../../src/physics/translation.js';
import {
  translationUncertainty,
  type InputUncertainties,
  type TranslatedPoint,
} from '../../src/physics/uncertainty.js';
import { inSeriesParallel } from '../../src/physics/singleDiode.js';
import {
  atConditions,
  characteristicPoints,
  deSotoModule,
  pointsOfSmoothCurve,
  wideCurve,
} from './deSotoModule.js';

const names = ['isc', 'voc', 'imp', 'vmp', 'pmax', 'ff'] as const;
const from: Conditions = { irradiance: 820, cellTemperature: 48 };
const series = 18;

/** A string of 18 modules, its coefficients for a procedure, and its measured curve. */
function string(name: string, procedure: 1 | 2) {
  const module = deSotoModule(name);
  const stc = characteristicPoints(module.reference);
  const at = (t: number) =>
    characteristicPoints(atConditions(module, { irradiance: 1000, cellTemperature: t }));
  const { photocurrent, seriesResistance, shuntResistance: rsh, thermalVoltage: a } = module.reference;
  const model = { ...stc, photocurrent, rs: seriesResistance, rsh, a };
  const alpha = at(25.5).isc - at(24.5).isc;
  const beta = at(25.5).voc - at(24.5).voc;
  const gamma = at(25.5).pmax - at(24.5).pmax;
  const rs = procedure === 1 ? estimateRs(model) : estimateRsOfProcedure2(model);
  const kappa = (procedure === 1 ? estimateKappa : estimateKappaOfProcedure2)({
    ...stc,
    alpha,
    beta,
    gamma,
    rs,
  });
  const b = { b1: estimateB1(a, stc.voc), b2: estimateB2(a, stc.voc) };
  const coefficients = deviceCoefficients(
    { alpha, beta, rs, kappa, isc: stc.isc, voc: stc.voc, ...b },
    series,
    1,
  );
  const device = inSeriesParallel(atConditions(module, from), series, 1);
  const nameplate = { imp: stc.imp, vmp: stc.vmp * series, gamma: gamma * series };
  return { coefficients, curve: wideCurve(device, 600), measured: characteristicPoints(device), nameplate };
}

function translate(procedure: 1 | 2, curve: IvCurve, isc: number, start: Conditions, c: DeviceCoefficients) {
  const moved =
    procedure === 1
      ? translateByProcedure1(curve, isc, start, standardTestConditions, c)
      : translateByProcedure2(curve, start, standardTestConditions, c);
  const points = pointsOfSmoothCurve(moved);
  // Isc at STC is where the equations move the short-circuit point to (see DEVELOPERS.md), not the current of the curve at V = 0.
  const task = { isc, from: start, to: standardTestConditions, coefficients: c };
  const atShort = { voltage: 0, current: isc };
  const point =
    procedure === 1 ? translatePointByProcedure1(atShort, task) : translatePointByProcedure2(atShort, task);
  const ff = points.pmax / (point.current * points.voc);
  return { moved, points: { ...points, isc: point.current, ff } };
}

/** -dI/dV at V = 0 and -dV/dI at I = 0 of a dense curve. */
function slopes({ voltage, current }: IvCurve) {
  const i = voltage.findIndex((v) => v > 0);
  const j = current.findIndex((c) => c < 0);
  return {
    slopeAtIsc: -(current[i]! - current[i - 1]!) / (voltage[i]! - voltage[i - 1]!),
    slopeAtVoc: -(voltage[j]! - voltage[j - 1]!) / (current[j]! - current[j - 1]!),
  };
}

function described(name: string, procedure: 1 | 2) {
  const device = string(name, procedure);
  const { moved, points } = translate(
    procedure,
    device.curve,
    device.measured.isc,
    from,
    device.coefficients,
  );
  const point: TranslatedPoint = {
    procedure,
    measuredIsc: device.measured.isc,
    from,
    to: standardTestConditions,
    coefficients: device.coefficients,
    isc: points.isc,
    voc: points.voc,
    imp: points.imp,
    vmp: points.vmp,
    ...slopes(moved),
  };
  return { ...device, point };
}

/** Standard deviations of the parameters over `trials`, relative, times 2. */
function monteCarlo(
  device: ReturnType<typeof described>,
  inputs: InputUncertainties,
  trials: number,
  follow: { temperatureFromVoc?: boolean; kappaFromGamma?: boolean } = {},
) {
  const random = xoroshiro128plus(20260514);
  const uniform = (): number => ((random.next() >>> 5) + 0.5) / 2 ** 27;
  const normal = (u: number | undefined = 0): number =>
    u * Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  const { point, curve, coefficients: c, measured, nameplate } = device;
  const sums = names.map(() => ({ sum: 0, squares: 0 }));
  for (let trial = 0; trial < trials; trial++) {
    const [ev, ei] = [normal(inputs.voltage), normal(inputs.current)];
    const read = {
      voltage: curve.voltage.map((v) => v * (1 + ev)),
      current: curve.current.map((i) => i * (1 + ei)),
    };
    const coefficients = {
      ...c,
      alpha: c.alpha + normal(inputs.alpha),
      beta: c.beta + normal(inputs.beta),
      rs: c.rs + normal(inputs.rs),
      kappa: c.kappa + normal(inputs.kappa),
      b1: c.b1 + normal(inputs.b1),
      b2: c.b2 + normal(inputs.b2),
    };
    if (follow.kappaFromGamma) {
      const estimate = point.procedure === 1 ? estimateKappa : estimateKappaOfProcedure2;
      const gamma = nameplate.gamma + normal(inputs.gamma);
      const kappa = estimate({ ...coefficients, imp: nameplate.imp, vmp: nameplate.vmp, gamma });
      Object.assign(coefficients, { kappa });
    }
    const { alignment, spectrum, drift } = inputs;
    const ofReference = [inputs.irradiance, alignment, spectrum, drift].map(normal);
    const irradiance = from.irradiance * (1 + ofReference.reduce((sum, error) => sum + error, 0));
    const ofVoc = (voc: number, g: number, of: DeviceCoefficients): number =>
      cellTemperatureFromVoc(voc, g, of)!;
    const shift = follow.temperatureFromVoc
      ? ofVoc(measured.voc * (1 + ev), irradiance, {
          ...coefficients,
          voc: c.voc * (1 + normal(inputs.vocAtStandard)),
        }) - ofVoc(measured.voc, from.irradiance, c)
      : 0;
    const start = { irradiance, cellTemperature: from.cellTemperature + normal(inputs.temperature) + shift };
    const { points } = translate(point.procedure, read, measured.isc * (1 + ei), start, coefficients);
    names.forEach((name, k) => {
      sums[k]!.sum += points[name];
      sums[k]!.squares += points[name] ** 2;
    });
  }
  return Object.fromEntries(
    names.map((name, k) => {
      const mean = sums[k]!.sum / trials;
      return [name, (2 * Math.sqrt(Math.max(0, sums[k]!.squares / trials - mean ** 2))) / mean];
    }),
  ) as Record<(typeof names)[number], number>;
}

/** Usual instruments, and coefficients as datasheets state them. */
function usual(c: DeviceCoefficients): InputUncertainties {
  return {
    voltage: 0.0025,
    current: 0.003,
    irradiance: 0.0125,
    temperature: 1,
    alpha: 0.15 * Math.abs(c.alpha),
    beta: 0.03 * Math.abs(c.beta),
    rs: 0.15 * c.rs,
    kappa: 0.2 * c.kappa,
    b1: 0.1 * c.b1,
    b2: 0.3 * c.b2,
  };
}

const expectAlike = (propagated: Record<string, number>, drawn: Record<string, number>): void => {
  for (const name of names) {
    expect(
      Math.abs(propagated[name]! / drawn[name]! - 1),
      `${name}: ${propagated[name]} and ${drawn[name]}`,
    ).toBeLessThan(0.05);
  }
};

const cases = [
  ['row 1', 1],
  ['row 1', 2],
  ['row 5', 1],
  ['row 5', 2],
  ['row 9', 2],
] as const;
const trials = 6000;

describe.each(cases)('%s by procedure %i: within 5 %% of a Monte Carlo propagation', (name, procedure) => {
  const device = described(name, procedure);

  it('all inputs together', () => {
    const inputs = usual(device.coefficients);
    expectAlike(translationUncertainty(device.point, inputs).expanded, monteCarlo(device, inputs, trials));
  });

  it.each(['voltage', 'current', 'irradiance', 'temperature', 'alpha', 'beta', 'rs', 'kappa'] as const)(
    '%s alone',
    (source) => {
      const inputs = { [source]: usual(device.coefficients)[source] };
      const { expanded } = translationUncertainty(device.point, inputs);
      const drawn = monteCarlo(device, inputs, 500);
      for (const parameter of names) {
        // 500 trials tell a standard deviation to about 3 %; contributions that do not count are left out.
        if (Math.max(expanded[parameter], drawn[parameter]) < 5e-4) continue;
        expect(
          Math.abs(expanded[parameter] / drawn[parameter] - 1),
          `${parameter}: ${expanded[parameter]} and ${drawn[parameter]}`,
        ).toBeLessThan(0.15);
      }
    },
  );
});

describe('inputs that hang together', () => {
  it.each([1, 2] as const)('procedure %i: temperature from Voc, kappa from gamma', (procedure) => {
    const device = described('row 3', procedure);
    const inputs = {
      ...usual(device.coefficients),
      kappa: undefined,
      gamma: 0.05 * Math.abs(device.nameplate.gamma),
      vocAtStandard: 0.01,
      alignment: 0.008,
      spectrum: 0.005,
      drift: 0.003,
    };
    const point = {
      ...device.point,
      temperatureFromVoc: device.measured.voc,
      kappaFromGamma: device.nameplate,
    };
    const drawn = monteCarlo(device, inputs, trials, { temperatureFromVoc: true, kappaFromGamma: true });
    expect(drawn.pmax).toBeGreaterThan(0.03);
    expectAlike(translationUncertainty(point, inputs).expanded, drawn);
  });
});

describe('budget', () => {
  const { point, coefficients } = described('row 3', 1);
  const budget = translationUncertainty(point, {
    ...usual(coefficients),
    onResults: [{ source: 'repeatability', relative: { pmax: 0.003, isc: 0.002, voc: 0.001 } }],
  });

  it('adds up: expanded is twice the root of the summed squares of the lines', () => {
    for (const name of names) {
      const sum = budget.lines.reduce((total, line) => total + line.contribution[name] ** 2, 0);
      expect(budget.expanded[name]).toBeCloseTo(2 * Math.sqrt(sum), 12);
    }
  });

  it('keeps the signs that tell how inputs act, and what is exact by hand', () => {
    const line = (source: string) => budget.lines.find((each) => each.source === source)!;
    // Isc at STC is Isc1 G2/G1 + …: a reading of irradiance too high makes it too low, by nearly the same fraction.
    expect(line('irradiance').contribution.isc).toBeLessThan(-0.012);
    expect(line('irradiance').contribution.isc).toBeGreaterThan(-0.0127);
    // A gain error of the voltmeter enters Voc nearly in full and leaves FF alone to first order.
    expect(line('voltage').contribution.voc).toBeGreaterThan(0.0022);
    expect(Math.abs(line('voltage').contribution.ff)).toBeLessThan(5e-4);
    expect(line('repeatability').contribution.ff).toBeCloseTo(Math.hypot(0.003, 0.002, 0.001), 12);
    expect(line('repeatability').unit).toBe('1');
    expect(line('temperature').unit).toBe('K');
  });

  it('without any input there is no uncertainty, and no line', () => {
    const empty = translationUncertainty(point, {});
    expect(empty.lines).toEqual([]);
    expect(empty.expanded.pmax).toBe(0);
  });
});
