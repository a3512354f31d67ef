/**
 * Weighted least squares with normal priors on the unknowns, and how well the data speak for the model: the evidence by
 * Laplace's approximation (MacKay, Neural Computation 4 (1992) 415-447, from memory, not confirmed), which charges every
 * unknown for the room that its prior left and the data did not need.
 */
import { backSubstitute, factorise } from './leastSquares.js';
import { numbersOf } from './numbersOf.js';

export interface Unknown {
  /** Prior: mean and standard deviation, above zero. */
  readonly mean: number;
  readonly deviation: number;
  readonly start: number;
  /** For the derivative. */
  readonly step: number;
  readonly least?: number;
  readonly most?: number;
}

export interface PriorProblem {
  readonly unknowns: readonly Unknown[];
  /** Modelled values into `result`. */
  readonly model: (values: Float64Array, result: Float64Array) => void;
  readonly observed: Float64Array;
  /** Standard deviation of each observation. */
  readonly deviation: Float64Array;
}

export interface PriorFit {
  readonly values: Float64Array;
  /** Standard deviations of the unknowns after the data. */
  readonly errors: Float64Array;
  /** Sum of squares of the observations, and of the priors, each in units of its standard deviation. */
  readonly misfit: number;
  readonly strain: number;
  /** ln of the room that the data left of the priors, zero or below. */
  readonly occam: number;
}

/** Levenberg-Marquardt with numerical derivatives. Always answers; the best found within `rounds`. */
export function fitWithPriors(problem: PriorProblem, rounds = 8): PriorFit {
  const { unknowns, model, observed, deviation } = problem;
  const free = unknowns.length;
  const count = observed.length;
  let values: Float64Array = numbersOf(unknowns, ({ start }) => start);
  const modelled = new Float64Array(count);
  const trial = new Float64Array(count);
  const jacobian = new Float64Array(count * free);
  const normal = new Float64Array(free * free);
  const right = new Float64Array(free);
  const misfitOf = (result: Float64Array): number => {
    let sum = 0;
    for (let k = 0; k < count; k++) sum += ((observed[k]! - result[k]!) / deviation[k]!) ** 2;
    return Number.isFinite(sum) ? sum : Infinity;
  };
  const strainOf = (at: Float64Array): number => {
    let sum = 0;
    for (let j = 0; j < free; j++) sum += ((at[j]! - unknowns[j]!.mean) / unknowns[j]!.deviation) ** 2;
    return sum;
  };
  const linearise = (): void => {
    for (let j = 0; j < free; j++) {
      const { step, most = Infinity } = unknowns[j]!;
      const change = values[j]! + step > most ? -step : step;
      const before = values[j]!;
      values[j] = before + change;
      model(values, trial);
      values[j] = before;
      for (let k = 0; k < count; k++)
        jacobian[k * free + j] = (trial[k]! - modelled[k]!) / change / deviation[k]!;
    }
    normal.fill(0);
    for (let j = 0; j < free; j++) {
      const weight = unknowns[j]!.deviation ** -2;
      right[j] = (unknowns[j]!.mean - values[j]!) * weight;
      normal[j * free + j] = weight;
    }
    for (let k = 0; k < count; k++) {
      const residual = (observed[k]! - modelled[k]!) / deviation[k]!;
      for (let j = 0; j < free; j++) {
        const slope = jacobian[k * free + j]!;
        if (slope === 0) continue;
        right[j] = right[j]! + slope * residual;
        for (let i = 0; i <= j; i++)
          normal[j * free + i] = normal[j * free + i]! + slope * jacobian[k * free + i]!;
      }
    }
  };

  model(values, modelled);
  let misfit = misfitOf(modelled);
  let strain = strainOf(values);
  let damping = 1e-4;
  linearise();
  for (let round = 0; round < rounds; round++) {
    const before = misfit + strain;
    let moved = false;
    for (let attempt = 0; attempt < 6 && !moved; attempt++) {
      const next = stepped(values, unknowns, normal, right, damping);
      if (next) {
        model(next, trial);
        const tried = misfitOf(trial);
        const tension = strainOf(next);
        if (tried + tension < before) {
          values = next;
          modelled.set(trial);
          [misfit, strain] = [tried, tension];
          damping = Math.max(damping / 10, 1e-7);
          moved = true;
          continue;
        }
      }
      damping *= 10;
    }
    if (!moved) break;
    linearise();
    if (before - misfit - strain < 0.02) break;
  }
  return { values, ...roomLeft(normal, unknowns), misfit, strain };
}

function stepped(
  values: Float64Array,
  unknowns: readonly Unknown[],
  normal: Float64Array,
  right: Float64Array,
  damping: number,
): Float64Array | undefined {
  const free = unknowns.length;
  const matrix = Float64Array.from(normal);
  for (let j = 0; j < free; j++) matrix[j * free + j] = matrix[j * free + j]! * (1 + damping);
  if (!factorise(matrix, free)) return undefined;
  const change = Float64Array.from(right);
  backSubstitute(matrix, free, change);
  return change.map((step, j) => {
    const { least = -Infinity, most = Infinity } = unknowns[j]!;
    return Math.min(most, Math.max(least, values[j]! + step));
  });
}

/** Errors from the inverse of the normal matrix; the determinant against that of the priors alone. */
function roomLeft(
  normal: Float64Array,
  unknowns: readonly Unknown[],
): { readonly errors: Float64Array; readonly occam: number } {
  const free = unknowns.length;
  const matrix = Float64Array.from(normal);
  const errors = new Float64Array(free);
  if (!factorise(matrix, free)) return { errors: errors.fill(NaN), occam: -Infinity };
  let occam = 0;
  for (let j = 0; j < free; j++) {
    occam -= Math.log(matrix[j * free + j]! * unknowns[j]!.deviation);
    const unit = new Float64Array(free);
    unit[j] = 1;
    backSubstitute(matrix, free, unit);
    errors[j] = Math.sqrt(unit[j]!);
  }
  return { errors, occam };
}
