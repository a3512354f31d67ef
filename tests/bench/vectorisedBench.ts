/** Single-diode curves and translations a second, beside scipy doing the same on whole arrays; and whether both find the same. */
import { spawnSync } from 'node:child_process';
import { deviceCoefficients } from '../../src/physics/deviceCoefficients.js';
import { standardTestConditions, type IvCurve } from '../../src/physics/ivCurve.js';
import { atConditions, fiveParametersFromNameplate } from '../../src/physics/nameplateModel.js';
import { currentAtVoltage, inSeriesParallel, voltageAtCurrent } from '../../src/physics/singleDiode.js';
import { translateByProcedure1 } from '../../src/physics/translation.js';
import { cpuMilliseconds } from './measuring.js';
import { nameplate, points, series } from './physicsBench.js';

interface Vectorised {
  readonly scipy: string;
  readonly curves: number;
  readonly translations: number;
  readonly currents: readonly number[];
  readonly translated: readonly number[];
}

/** As many as an array operation is worth while for. */
const count = 1000;

export function benchVectorised(): void {
  const reference = fiveParametersFromNameplate(nameplate).reference!;
  const conditions = Array.from({ length: count }, (_, k) => ({
    irradiance: 700 + (k % 400),
    cellTemperature: 25 + (k % 37),
  }));
  const models = conditions.map((at) => inSeriesParallel(atConditions(reference, at), series, 1));
  const voltages = models.map((model) => {
    const open = voltageAtCurrent(model, 0);
    return Float64Array.from({ length: points }, (_, k) => (open * k) / (points - 1));
  });
  const coefficients = deviceCoefficients({ ...nameplate, rs: 0.16, kappa: 0.001, b1: 0, b2: 0 }, series, 1);
  const curve = (k: number): IvCurve => ({
    voltage: voltages[k]!,
    current: voltages[k]!.map((voltage) => currentAtVoltage(models[k]!, voltage)),
  });
  const curves = models.map((_, k) => curve(k));
  const translate = (k: number) =>
    translateByProcedure1(
      curves[k]!,
      curves[k]!.current[0]!,
      conditions[k]!,
      standardTestConditions,
      coefficients,
    );
  const own = { curves: perSecond(curve), translations: perSecond(translate) };
  const input = {
    models,
    voltages: voltages.map((each) => [...each]),
    irradiances: conditions.map(({ irradiance }) => irradiance),
    temperatures: conditions.map(({ cellTemperature }) => cellTemperature),
    coefficients,
  };
  const theirs = vectorised(JSON.stringify(input));
  console.log(
    `\n${count} curves of ${points} points at even voltages, a second of one processor` +
      (theirs
        ? `, beside scipy ${theirs.scipy} on arrays of all of them.\n`
        : '; no python3 with scipy here.\n'),
  );
  for (const name of ['curves', 'translations'] as const) {
    const beside = theirs
      ? `${theirs[name].toFixed(0).padStart(10)} ${(own[name] / theirs[name]).toFixed(2).padStart(6)}`
      : '';
    console.log(`${name.padEnd(30)} ${own[name].toFixed(0).padStart(9)}${beside}`);
  }
  if (!theirs) return;
  const apart = (a: ArrayLike<number>, b: readonly number[]): number =>
    b.reduce((most, value, k) => Math.max(most, Math.abs(a[k]! - value)), 0);
  const translated = translate(0)?.voltage ?? [];
  console.log(
    `largest difference of the first: ${apart(curves[0]!.current, theirs.currents).toExponential(1)} A, ` +
      `${apart(translated, theirs.translated).toExponential(1)} V`,
  );
}

/** By the time of the processor. */
function perSecond(task: (k: number) => unknown): number {
  const all = (): void => {
    for (let k = 0; k < count; k++) task(k);
  };
  all();
  const start = cpuMilliseconds();
  let done = 0;
  while (cpuMilliseconds() - start < 700) {
    all();
    done += count;
  }
  return (done / (cpuMilliseconds() - start)) * 1000;
}

/** Undefined without python3 or scipy. */
function vectorised(input: string): Vectorised | undefined {
  // One thread, as here.
  const env = { ...process.env, OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1' };
  const answered = spawnSync('python3', ['tests/bench/vectorised.py'], { input, encoding: 'utf8', env });
  return answered.status === 0 ? (JSON.parse(answered.stdout) as Vectorised) : undefined;
}
