/** What the physics costs: how many curves, translations, extractions, fits and nameplate solutions a second on one core. */
import { fiveParametersFromNameplate, atConditions } from '../../src/physics/nameplateModel.js';
import { extractParameters } from '../../src/physics/curveParameters.js';
import { deviceCoefficients } from '../../src/physics/deviceCoefficients.js';
import { standardTestConditions, type IvCurve } from '../../src/physics/ivCurve.js';
import { inSeriesParallel, sampleCurve } from '../../src/physics/singleDiode.js';
import { fitSingleDiode } from '../../src/physics/singleDiodeFit.js';
import { translateByProcedure1, translateByProcedure2 } from '../../src/physics/translation.js';
import { Noise } from '../../examples/noise.js';

export const points = 128;
export const series = 18;
/** The module of the generated campaigns, see generate.ts. */
export const nameplate = {
  isc: 13.9,
  voc: 37.2,
  imp: 13.09,
  vmp: 31.2,
  alpha: 0.00045 * 13.9,
  beta: -0.0027 * 37.2,
  cells: 54,
  technology: 'mono-Si',
} as const;

/** Runs a task for about so many milliseconds after as many of warming up; times a second. A task that fails counts as none. */
function perSecond(task: (index: number) => unknown, milliseconds = 700): number {
  let index = 0;
  const runFor = (limit: number): { answered: number; elapsed: number } => {
    const start = performance.now();
    let answered = 0;
    let elapsed = 0;
    while ((elapsed = performance.now() - start) < limit)
      for (let k = 0; k < 8; k++) if (task(index++) !== undefined) answered++;
    return { answered, elapsed };
  };
  runFor(milliseconds);
  const { answered, elapsed } = runFor(milliseconds);
  return (answered / elapsed) * 1000;
}

export function benchPhysics(): void {
  const device = fiveParametersFromNameplate(nameplate).reference!;
  const conditions = Array.from({ length: 16 }, (_, k) => ({
    irradiance: 700 + 25 * k,
    cellTemperature: 30 + 2 * k,
  }));
  const models = conditions.map((at) => inSeriesParallel(atConditions(device, at), series, 1));
  const exact = models.map((model) => sampleCurve(model, points));
  const noise = new Noise('bench');
  const noisy = exact.map(({ voltage, current }): IvCurve => ({
    voltage,
    current: current.map((i) => i + 0.008 * noise.normal()),
  }));
  const coefficients = deviceCoefficients(
    { ...nameplate, rs: 0.16, kappa: 0.001, b1: 0.037, b2: 0.0014 },
    series,
    1,
  );
  const each = <T>(values: readonly T[], index: number): T => values[index % values.length]!;
  const to = standardTestConditions;
  const rows: [string, (index: number) => unknown][] = [
    ['single-diode curves', (k) => sampleCurve(each(models, k), points)],
    [
      'translations by procedure 1',
      (k) =>
        translateByProcedure1(
          each(noisy, k),
          each(exact, k).current[0]!,
          each(conditions, k),
          to,
          coefficients,
        ),
    ],
    [
      'translations by procedure 2',
      (k) => translateByProcedure2(each(noisy, k), each(conditions, k), to, coefficients),
    ],
    ['extractions of parameters', (k) => extractParameters(each(noisy, k))],
    ['five-parameter fits', (k) => fitSingleDiode(each(noisy, k))],
    [
      'nameplate solutions',
      (k) => fiveParametersFromNameplate({ ...nameplate, imp: nameplate.imp - 0.005 * (k % 16) }).reference,
    ],
  ];
  console.log(
    `\nPhysics, a second on one core; strings of ${series} modules, ${points} points, 0.06 % of noise.\n`,
  );
  for (const [name, task] of rows)
    console.log(`${name.padEnd(30)} ${perSecond(task).toFixed(0).padStart(9)}`);
}
