/**
 * Small linear least-squares problems, two to six unknowns, by normal equations and Cholesky in plain loops. The callers
 * centre and scale their abscissae, so the normal equations keep enough digits (checked in the tests). Plain loops, since
 * a general matrix library takes longer to build its objects than these problems take to solve.
 */
import { medianAbsolute } from './robustStatistics.js';

/** Cholesky in place: the lower triangle of the `size` x `size` matrix becomes its factor. False if not positive definite. */
export function factorise(matrix: Float64Array, size: number): boolean {
  for (let row = 0; row < size; row++) {
    for (let column = 0; column <= row; column++) {
      let sum = matrix[row * size + column]!;
      for (let k = 0; k < column; k++) sum -= matrix[row * size + k]! * matrix[column * size + k]!;
      if (row === column) {
        if (!(sum > 1e-14 * matrix[row * size + row]!)) return false;
        matrix[row * size + row] = Math.sqrt(sum);
      } else {
        matrix[row * size + column] = sum / matrix[column * size + column]!;
      }
    }
  }
  return true;
}

/** Solves factor factor^T x = right, in place of `right`. */
export function backSubstitute(factor: Float64Array, size: number, right: Float64Array): void {
  for (let row = 0; row < size; row++) {
    let sum = right[row]!;
    for (let k = 0; k < row; k++) sum -= factor[row * size + k]! * right[k]!;
    right[row] = sum / factor[row * size + row]!;
  }
  for (let row = size - 1; row >= 0; row--) {
    let sum = right[row]!;
    for (let k = row + 1; k < size; k++) sum -= factor[k * size + row]! * right[k]!;
    right[row] = sum / factor[row * size + row]!;
  }
}

/** r^T (factor factor^T)^-1 r: the leverage of a row of the design, times the variance its variance. */
export function leverage(factor: Float64Array, size: number, row: ArrayLike<number>): number {
  const half = new Float64Array(size);
  let total = 0;
  for (let j = 0; j < size; j++) {
    let sum = row[j]!;
    for (let k = 0; k < j; k++) sum -= factor[j * size + k]! * half[k]!;
    half[j] = sum / factor[j * size + j]!;
    total += half[j]! ** 2;
  }
  return total;
}

export interface LinearFit {
  readonly coefficients: Float64Array;
  /** Observed minus fitted, per row, unweighted. */
  readonly residuals: Float64Array;
  /** Robust weights of the last round, 0 to 1, times the weights given. */
  readonly weights: Float64Array;
  /** Robust standard deviation of a residual of weight one. */
  readonly deviation: number;
  /** Standard error of the fitted value at a row of the design. */
  readonly standardErrorAt: (row: ArrayLike<number>) => number;
}

/**
 * Fits `values` by the columns of `design` (row after row), least squares with the bisquare weights of Beaton and Tukey,
 * Technometrics 16 (1974) 147-185 (tuning constant 4.685, from memory, not confirmed), so that some wild rows do no harm.
 * `weights` are inverse variances up to a factor. Undefined when the columns are not independent.
 */
export function fitRobustly(
  design: Float64Array,
  size: number,
  values: Float64Array,
  weights?: Float64Array,
  rounds = 5,
): LinearFit | undefined {
  const count = values.length;
  if (count < size) return undefined;
  const used = weights ? Float64Array.from(weights) : new Float64Array(count).fill(1);
  const residuals = new Float64Array(count);
  const scaled = new Float64Array(count);
  const normal = new Float64Array(size * size);
  const coefficients = new Float64Array(size);
  let deviation = 0;
  for (let round = 0; round < rounds; round++) {
    accumulate(design, size, values, used, normal, coefficients);
    if (!factorise(normal, size)) return undefined;
    backSubstitute(normal, size, coefficients);
    for (let k = 0; k < count; k++) {
      let fitted = 0;
      for (let j = 0; j < size; j++) fitted += design[k * size + j]! * coefficients[j]!;
      residuals[k] = values[k]! - fitted;
      scaled[k] = residuals[k]! * (weights ? Math.sqrt(weights[k]!) : 1);
    }
    // The residuals of n points around a fit of p unknowns are too small by this factor.
    const freedom = Math.sqrt(count / Math.max(1, count - size));
    const before = deviation;
    deviation = medianAbsolute(scaled) * 1.4826 * freedom;
    if (round > 0 && Math.abs(deviation - before) <= 0.01 * before) break;
    if (deviation === 0 || count <= size + 1 || round === rounds - 1) break;
    for (let k = 0; k < count; k++) used[k] = bisquare(scaled[k]! / deviation) * (weights ? weights[k]! : 1);
  }
  const factor = normal;
  return {
    coefficients,
    residuals,
    weights: used,
    deviation,
    standardErrorAt: (row) => deviation * Math.sqrt(leverage(factor, size, row)),
  };
}

/** Weight of a residual in units of the standard deviation. */
export function bisquare(residual: number): number {
  const ratio = residual / 4.685;
  return ratio > -1 && ratio < 1 ? (1 - ratio * ratio) ** 2 : 0;
}

function accumulate(
  design: Float64Array,
  size: number,
  values: Float64Array,
  weights: Float64Array,
  normal: Float64Array,
  right: Float64Array,
): void {
  normal.fill(0);
  right.fill(0);
  for (let k = 0; k < values.length; k++) {
    const weight = weights[k]!;
    if (weight === 0) continue;
    for (let row = 0; row < size; row++) {
      const weighted = weight * design[k * size + row]!;
      right[row] = right[row]! + weighted * values[k]!;
      for (let column = 0; column <= row; column++) {
        normal[row * size + column] = normal[row * size + column]! + weighted * design[k * size + column]!;
      }
    }
  }
}

/** Rows 1, x, x^2, … of a polynomial. */
export function polynomialDesign(abscissae: Float64Array, order: number): Float64Array {
  const size = order + 1;
  const design = new Float64Array(abscissae.length * size);
  for (let k = 0; k < abscissae.length; k++) {
    let power = 1;
    for (let j = 0; j < size; j++) {
      design[k * size + j] = power;
      power *= abscissae[k]!;
    }
  }
  return design;
}

/** Value and first two derivatives of a polynomial, constant term first. */
export function polynomialAt(coefficients: ArrayLike<number>, x: number): [number, number, number] {
  let value = 0;
  let slope = 0;
  let curvature = 0;
  for (let j = coefficients.length - 1; j >= 0; j--) {
    curvature = curvature * x + 2 * slope;
    slope = slope * x + value;
    value = value * x + coefficients[j]!;
  }
  return [value, slope, curvature];
}
