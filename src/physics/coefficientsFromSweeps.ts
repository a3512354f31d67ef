/**
 * Coefficients of a device from its own sweeps at several irradiances or temperatures, each with its standard error and
 * what is left over for each sweep.
 */
import type { DeviceCoefficients } from './deviceCoefficients.js';
import { leastArgument } from './goldenSection.js';
import { backSubstitute, factorise, leverage } from './leastSquares.js';
import type { Conditions, IvCurve } from './ivCurve.js';
import { translateByProcedure1, translateByProcedure2 } from './translation.js';

/** A sweep with what was read from it: A, V. */
export interface KnownSweep {
  readonly curve: IvCurve;
  readonly conditions: Conditions;
  readonly isc: number;
  readonly voc: number;
}

export interface FittedCoefficient {
  readonly value: number;
  /** Standard error, k = 1, from the scatter of the sweeps; undefined where there are no more sweeps than unknowns. */
  readonly standardError: number | undefined;
}

/** Isc at STC (A) and alpha (A/K): Isc 1000/G = Isc,STC + alpha (T - 25), least squares. */
export interface CurrentFit {
  readonly isc: FittedCoefficient;
  readonly alpha: FittedCoefficient;
  /** Measured less fitted Isc at 1000 W/m2, A, for each sweep. */
  readonly residuals: readonly number[];
}

/** Undefined with fewer than two sweeps or temperatures that do not differ. */
export function fitCurrentCoefficients(sweeps: readonly KnownSweep[]): CurrentFit | undefined {
  const fit = leastSquares(
    sweeps.map(({ conditions }) => [1, conditions.cellTemperature - 25]),
    sweeps.map(({ isc, conditions }) => (isc * 1000) / conditions.irradiance),
  );
  return fit && { isc: fit.coefficients[0]!, alpha: fit.coefficients[1]!, residuals: fit.residuals };
}

/** Voc at STC (V), beta (V/K), and the B1 of procedure 2. */
export interface VoltageFit {
  readonly voc: FittedCoefficient;
  readonly beta: FittedCoefficient;
  readonly b1: FittedCoefficient;
  /** B1², see `estimateB1`. */
  readonly b2: number;
  /** Measured less fitted Voc, V, for each sweep. */
  readonly residuals: readonly number[];
}

/**
 * Voc = Voc,STC + beta f(G) (T - 25) - a ln(1000/G), with a = B1 Voc,STC and f(G) as in procedure 2, least squares; f(G) is
 * taken from the last round, three rounds. Undefined with fewer than three sweeps, or where irradiances or temperatures do
 * not differ independently of each other.
 */
export function fitVoltageCoefficients(sweeps: readonly KnownSweep[]): VoltageFit | undefined {
  let b1 = 0.04;
  let found: VoltageFit | undefined;
  for (let round = 0; round < 3; round++) {
    const rows = sweeps.map(({ conditions }) => {
      const logarithm = Math.log(1000 / conditions.irradiance);
      const f = 1 + b1 * logarithm + (b1 * logarithm) ** 2;
      return [1, f * (conditions.cellTemperature - 25), -logarithm];
    });
    const fit = leastSquares(
      rows,
      sweeps.map(({ voc }) => voc),
    );
    if (!fit) return undefined;
    const [voc, beta, a] = fit.coefficients as [FittedCoefficient, FittedCoefficient, FittedCoefficient];
    b1 = a.value / voc.value;
    found = {
      voc,
      beta,
      b1: { value: b1, standardError: a.standardError && a.standardError / voc.value },
      b2: b1 ** 2,
      residuals: fit.residuals,
    };
  }
  return found;
}

interface LinearSolution {
  readonly coefficients: readonly FittedCoefficient[];
  readonly residuals: readonly number[];
}

/** Ordinary least squares; undefined where the columns are not independent. */
function leastSquares(
  rows: readonly (readonly number[])[],
  values: readonly number[],
): LinearSolution | undefined {
  const size = rows[0]?.length ?? 0;
  if (size === 0 || rows.length < size) return undefined;
  // Columns to unit length, so that "not independent" does not depend on units.
  const scale = Array.from({ length: size }, (_, j) => Math.hypot(...rows.map((row) => row[j]!)));
  if (scale.some((length) => !(length > 0))) return undefined;
  const normal = new Float64Array(size * size);
  const right = new Float64Array(size);
  rows.forEach((row, k) => {
    for (let i = 0; i < size; i++) {
      right[i]! += (row[i]! / scale[i]!) * values[k]!;
      for (let j = 0; j <= i; j++) normal[i * size + j]! += (row[i]! / scale[i]!) * (row[j]! / scale[j]!);
    }
  });
  if (!factorise(normal, size)) return undefined;
  // A pivot this small: the sweeps do not tell the columns apart.
  if (right.some((_, j) => normal[j * size + j]! < 1e-4)) return undefined;
  backSubstitute(normal, size, right);
  const solution = Array.from(right, (value, j) => value / scale[j]!);
  const residuals = rows.map((row, k) => values[k]! - row.reduce((sum, x, j) => sum + x * solution[j]!, 0));
  const freedom = rows.length - size;
  const deviation = Math.sqrt(residuals.reduce((sum, r) => sum + r ** 2, 0) / freedom);
  return {
    residuals,
    coefficients: solution.map((value, j) => ({
      value,
      standardError:
        freedom > 0
          ? (deviation *
              Math.sqrt(
                leverage(
                  normal,
                  size,
                  Array.from(right, (_, i) => Number(i === j)),
                ),
              )) /
            scale[j]!
          : undefined,
    })),
  };
}

/** Why a search found nothing to offer. */
export type SearchRefusal =
  /** Fewer than two sweeps, or conditions too much alike to tell. */
  | 'conditions-alike'
  /** Power cannot be read from a translated curve. */
  | 'no-power'
  /** The spread is least at an end of the range searched: the sweeps do not determine the coefficient. */
  | 'edge';

export type CoefficientSearch =
  | {
      readonly found: true;
      readonly value: number;
      /** From leaving out one sweep at a time (jackknife); undefined with fewer than three sweeps. */
      readonly standardError: number | undefined;
      /** Standard deviation over mean of the translated Pmax. */
      readonly spread: number;
      /** Translated Pmax over its mean, less 1, for each sweep. */
      readonly residuals: readonly number[];
    }
  | { readonly found: false; readonly refusal: SearchRefusal };

export interface SearchTask {
  readonly procedure: 1 | 2;
  readonly sweeps: readonly KnownSweep[];
  /** Everything but what is searched for. */
  readonly coefficients: DeviceCoefficients;
  /** Pmax of a curve in W, undefined where it has none: `extractParameters(curve).parameters.pmax`. */
  readonly powerOf: (curve: IvCurve) => number | undefined;
  /** Where all sweeps are translated to; the conditions of the sweep at the highest irradiance unless given. */
  readonly to?: Conditions | undefined;
}

/**
 * Rs (procedure 2: Rs') in ohm such that sweeps at several irradiances and about one temperature agree best in Pmax when
 * translated to one irradiance (the highest, unless `to` is given), IEC 60891, as published in MATLAB_PV_LIB (`pvl_est_Rs_IEC60891_1.m`). The range from
 * 0 to 40 % of Vmp/Imp, roughly, is scanned before it is refined, since the spread has false minima far out.
 */
export function searchSeriesResistance(task: SearchTask): CoefficientSearch {
  const irradiances = task.sweeps.map(({ conditions }) => conditions.irradiance);
  if (!(Math.max(...irradiances) > 1.1 * Math.min(...irradiances)))
    return { found: false, refusal: 'conditions-alike' };
  const { voc, isc } = task.coefficients;
  // Vmp/Imp is near 0.85 Voc/Isc; a device that loses more than 40 % of its voltage in Rs is not translated but repaired.
  return search(task, 'rs', 0, (0.35 * voc) / isc);
}

/**
 * kappa (procedure 2: kappa') in ohm/K such that sweeps at several temperatures and about one irradiance agree best in Pmax
 * when translated to one temperature. Needs temperatures at least 10 K apart.
 */
export function searchKappa(task: SearchTask): CoefficientSearch {
  const temperatures = task.sweeps.map(({ conditions }) => conditions.cellTemperature);
  if (!(Math.max(...temperatures) - Math.min(...temperatures) >= 10)) {
    return { found: false, refusal: 'conditions-alike' };
  }
  // kappa dT stays well below Voc/Isc: 0.5 %/K of it either way.
  const most = (0.005 * task.coefficients.voc) / task.coefficients.isc;
  return search(task, 'kappa', -most, most);
}

const gridSteps = 60;

function search(task: SearchTask, key: 'rs' | 'kappa', least: number, most: number): CoefficientSearch {
  const brightest = task.sweeps.reduce((best, sweep) =>
    sweep.conditions.irradiance > best.conditions.irradiance ? sweep : best,
  );
  const to = task.to ?? brightest.conditions;
  // The jackknife asks for the same values with one sweep fewer each time.
  const known = new Map<number, Map<KnownSweep, number>>();
  const powers = (value: number, sweeps: readonly KnownSweep[]): number[] => {
    let atValue = known.get(value);
    if (!atValue) known.set(value, (atValue = new Map()));
    return sweeps.map((sweep) => {
      let power = atValue.get(sweep);
      if (power === undefined)
        atValue.set(sweep, (power = translatedPower({ ...task, to }, key, value, sweep)));
      return power;
    });
  };
  const minimum = (sweeps: readonly KnownSweep[]): number | SearchRefusal =>
    leastSpread((value) => spreadOf(powers(value, sweeps)), least, most);
  const value = minimum(task.sweeps);
  if (typeof value === 'string') return { found: false, refusal: value };
  const at = powers(value, task.sweeps);
  const mean = at.reduce((sum, p) => sum + p, 0) / at.length;
  return {
    found: true,
    value,
    standardError: jackknife(task.sweeps, minimum),
    spread: spreadOf(at),
    residuals: at.map((p) => p / mean - 1),
  };
}

/** Pmax of a sweep at `to`. */
function translatedPower(
  { procedure, coefficients, powerOf, to }: SearchTask & { readonly to: Conditions },
  key: 'rs' | 'kappa',
  value: number,
  { curve, isc, conditions }: KnownSweep,
): number {
  const device = { ...coefficients, [key]: value };
  const moved =
    procedure === 1
      ? translateByProcedure1(curve, isc, conditions, to, device)
      : translateByProcedure2(curve, conditions, to, device);
  return powerOf(moved) ?? NaN;
}

function spreadOf(values: readonly number[]): number {
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
  return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1)) / mean;
}

/** Grid scan, then golden section around the best grid point. A best point at either end is refused. */
function leastSpread(spread: (value: number) => number, least: number, most: number): number | SearchRefusal {
  const step = (most - least) / gridSteps;
  const grid = Array.from({ length: gridSteps + 1 }, (_, k) => spread(least + k * step));
  const finite = grid.filter(Number.isFinite);
  if (finite.length === 0) return 'no-power';
  const best = grid.indexOf(Math.min(...finite));
  if (best === 0 || best === gridSteps) return 'edge';
  return leastArgument(spread, least + (best - 1) * step, least + (best + 1) * step, 22);
}

/** Standard error from the estimates without one sweep each (Efron, Ann. Statist. 7 (1979) 1-26). */
function jackknife(
  sweeps: readonly KnownSweep[],
  estimate: (sweeps: readonly KnownSweep[]) => number | SearchRefusal,
): number | undefined {
  const count = sweeps.length;
  if (count < 3) return undefined;
  const values = sweeps.map((_, left) => estimate(sweeps.filter((__, k) => k !== left)));
  const numbers = values.filter((value) => typeof value === 'number');
  if (numbers.length < count) return undefined;
  const mean = numbers.reduce((sum, value) => sum + value, 0) / count;
  return Math.sqrt(((count - 1) / count) * numbers.reduce((sum, value) => sum + (value - mean) ** 2, 0));
}
