/**
 * A single-diode curve through measured points. The model equation is not solved for the current; its residual
 *
 *     F = IL - I0 (exp((V + I Rs)/a) - 1) - (V + I Rs)/Rsh - I,   divided by   1 + Rs g,   g = -dI/dVd,
 *
 * is the distance in current to first order, costs one exponential a point, and is linear in three of the five unknowns.
 * Damped Gauss-Newton (Levenberg-Marquardt) in IL, ln J, Rs, 1/Rsh and ln a, where J = I0 exp(Vref/a) is the diode's
 * current at a voltage near open circuit; bisquare weights set wild points aside.
 */
import { backSubstitute, bisquare, factorise, leverage } from './leastSquares.js';
import { medianAbsolute } from './robustStatistics.js';
import { currentAtVoltage, type SingleDiode } from './singleDiode.js';

export interface RoughPoints {
  readonly isc: number;
  readonly voc: number;
  readonly imp: number;
  readonly vmp: number;
}

export interface DiodeFitOptions {
  /** Thermal voltage held at this value, V. */
  readonly thermalVoltage?: number;
  /** Set wild points aside (default true). */
  readonly robust?: boolean;
  /** Lets 1/Rsh go below zero, as irradiance that rises during the sweep makes it seem (default true). */
  readonly negativeShunt?: boolean;
  /** At most so many rounds (default 40). */
  readonly rounds?: number;
  /** Relative weights of the points. */
  readonly weights?: Float64Array;
  /** Relative change of the sum of squares at which the fit has converged (default 1e-5). */
  readonly tolerance?: number;
}

export interface DiodeFit {
  readonly model: SingleDiode;
  /** Robust standard deviation of the current around the curve, A. */
  readonly deviation: number;
  /** Measured minus fitted current, to first order, A. */
  readonly residuals: Float64Array;
  readonly weights: Float64Array;
  readonly converged: boolean;
  /** Standard error of a linear function of the unknowns, given by its gradient (see `currentGradient`). */
  readonly standardErrorOf: (gradient: ArrayLike<number>) => number;
  /** dI/d(IL, ln J, Rs, 1/Rsh, ln a) at a voltage. */
  readonly currentGradient: (voltage: number) => Float64Array;
  readonly standardErrors: StandardErrors;
}

/** Standard errors of the five parameters; relative for I0 and a, which are fitted by their logarithm. */
export interface StandardErrors {
  readonly photocurrent: number;
  readonly relativeSaturationCurrent: number;
  readonly seriesResistance: number;
  /** Of 1/Rsh, S. */
  readonly shuntConductance: number;
  readonly relativeThermalVoltage: number;
}

const unknowns = 5;

/** IL + I0, ln J, Rs, 1/Rsh, ln a. */
type Parameters = Float64Array;

interface Bounds {
  readonly low: number[];
  readonly high: number[];
}

/** Undefined when the points do not carry a curve (fewer than 6, or no fall of current). */
export function fitDiode(
  voltage: Float64Array,
  current: Float64Array,
  rough: RoughPoints,
  options: DiodeFitOptions = {},
): DiodeFit | undefined {
  const count = voltage.length;
  const free = options.thermalVoltage === undefined ? unknowns : unknowns - 1;
  if (count < free + 1 || !(rough.isc > 0) || !(rough.voc > 0)) return undefined;
  const reference = rough.voc;
  const bounds = boundsFor(rough, options);
  const work = new Workspace(voltage, current, reference);
  const given = options.weights;
  const weights = given ? Float64Array.from(given) : new Float64Array(count).fill(1);
  const tolerance = options.tolerance ?? 1e-5;
  const descent = new Descent(work, startingPoint(rough, options.thermalVoltage), bounds, free);
  let converged = descent.run(weights, options.rounds ?? 40, tolerance);
  let deviation = spread(work.residuals, given, free);
  if (options.robust ?? true) {
    // Wild points are let go of by and by: the limit sinks from their own distance to that of the noise. Weights taken at
    // once from a fit that the wild points have pulled away would cast out the few points of a steep leg instead.
    let scale = farthest(work.residuals, given) / 3;
    for (let stage = 0; stage < 16 && scale > 0 && scale * 3 > 5 * deviation; stage++) {
      scale = Math.max(deviation, scale / 2);
      for (let k = 0; k < count; k++)
        weights[k] = bisquare(work.residuals[k]! / scale) * (given ? given[k]! : 1);
      converged = descent.run(weights, 4, tolerance);
      const before = deviation;
      deviation = spread(work.residuals, given, free);
      if (scale <= before && Math.abs(deviation - before) <= 0.02 * before) break;
      if (deviation === 0) break;
    }
  }
  const parameters = descent.parameters;
  work.accumulate(weights, free);
  const factor = work.factor(free);
  if (!factor) return undefined;
  const residuals = Float64Array.from(work.residuals);
  const finalDeviation = deviation;
  const finalParameters = parameters;
  const standardErrorOf = (gradient: ArrayLike<number>): number =>
    finalDeviation * Math.sqrt(leverage(factor, free, gradient));
  return {
    model: modelOf(parameters, reference),
    deviation,
    residuals,
    weights,
    converged,
    standardErrorOf,
    currentGradient: (at) => gradientAt(finalParameters, reference, at),
    standardErrors: standardErrorsOf(standardErrorOf, parameters, reference, free),
  };
}

function farthest(residuals: Float64Array, weights: Float64Array | undefined): number {
  let most = 0;
  for (let k = 0; k < residuals.length; k++) {
    if (!weights || weights[k]! > 0.01) most = Math.max(most, Math.abs(residuals[k]!));
  }
  return most;
}

function standardErrorsOf(
  standardErrorOf: (gradient: ArrayLike<number>) => number,
  parameters: Parameters,
  reference: number,
  free: number,
): StandardErrors {
  const unit = (index: number): number[] => Array.from({ length: free }, (_, j) => (j === index ? 1 : 0));
  // ln I0 = ln J - Vref/a
  const saturation = [0, 1, 0, 0, reference / Math.exp(parameters[4]!)].slice(0, free);
  return {
    photocurrent: standardErrorOf(unit(0)),
    relativeSaturationCurrent: standardErrorOf(saturation),
    seriesResistance: standardErrorOf(unit(2)),
    shuntConductance: standardErrorOf(unit(3)),
    relativeThermalVoltage: free === unknowns ? standardErrorOf(unit(4)) : 0,
  };
}

function spread(residuals: Float64Array, weights: Float64Array | undefined, free: number): number {
  let counted = residuals;
  if (weights) counted = residuals.filter((_, k) => weights[k]! > 0.01);
  const freedom = Math.sqrt(counted.length / Math.max(1, counted.length - free));
  return 1.4826 * medianAbsolute(counted) * freedom;
}

/** From the rough maximum power point by the equations without shunt. */
function startingPoint({ isc, voc, imp, vmp }: RoughPoints, fixed: number | undefined): Parameters {
  const a = fixed ?? voc / 26;
  const rest = Math.max(0.002, 1 - imp / isc);
  const rs = (voc + a * Math.log(rest) - vmp) / imp;
  return Float64Array.of(
    isc,
    Math.log(isc),
    Math.max(0.005 * (voc / isc), rs),
    0.01 * (isc / voc),
    Math.log(a),
  );
}

function boundsFor({ isc, voc }: RoughPoints, options: DiodeFitOptions): Bounds {
  const conductance = isc / voc;
  return {
    low: [
      0.3 * isc,
      Math.log(isc) - 12,
      0,
      options.negativeShunt === false ? 0 : -0.3 * conductance,
      Math.log(voc / 90),
    ],
    high: [3 * isc, Math.log(isc) + 12, 0.7 / conductance, 2 * conductance, Math.log(voc / 5)],
  };
}

function modelOf(parameters: Parameters, reference: number): SingleDiode {
  const [total, logCurrent, rs, conductance, logThermal] = parameters as unknown as number[];
  const a = Math.exp(logThermal!);
  const saturationCurrent = Math.exp(logCurrent! - reference / a);
  return {
    photocurrent: total! - saturationCurrent,
    saturationCurrent,
    seriesResistance: rs!,
    shuntResistance: conductance === 0 ? Infinity : 1 / conductance!,
    thermalVoltage: a,
  };
}

function gradientAt(parameters: Parameters, reference: number, voltage: number): Float64Array {
  const current = currentAtVoltage(modelOf(parameters, reference), voltage);
  const work = new Workspace(Float64Array.of(voltage), Float64Array.of(current), reference);
  work.evaluate(parameters);
  return Float64Array.from(work.jacobian);
}

/** Levenberg-Marquardt for fixed weights. */
class Descent {
  private damping = 1e-3;

  constructor(
    private readonly work: Workspace,
    public parameters: Parameters,
    private readonly bounds: Bounds,
    private readonly free: number,
  ) {
    work.evaluate(parameters);
  }

  /** True when the sum of squares stood still twice. */
  run(weights: Float64Array, rounds: number, tolerance: number): boolean {
    let still = 0;
    for (let round = 0; round < rounds && still < 2; round++) {
      this.work.accumulate(weights, this.free);
      const before = this.work.sumOfSquares(weights);
      const after = this.improve(weights, before);
      still = before - after <= tolerance * before ? still + 1 : 0;
    }
    return still >= 2;
  }

  /** One accepted step, or none after eight attempts with ever more damping. Leaves the residuals at the parameters. */
  private improve(weights: Float64Array, before: number): number {
    const { low, high } = this.bounds;
    for (let attempt = 0; attempt < 8; attempt++) {
      const step = this.work.step(this.damping, this.free, this.parameters, this.bounds);
      if (step) {
        const tried = new Float64Array(unknowns);
        for (let j = 0; j < unknowns; j++)
          tried[j] = Math.min(high[j]!, Math.max(low[j]!, this.parameters[j]! + step[j]!));
        this.work.evaluate(tried);
        const sum = this.work.sumOfSquares(weights);
        // Equal to rounding counts as accepted: the fit stands still.
        if (sum <= before * (1 + 1e-12)) {
          this.parameters = tried;
          this.damping = Math.max(this.damping / 8, 1e-12);
          return sum;
        }
      }
      this.damping = Math.max(this.damping * 8, 1e-8);
    }
    this.work.evaluate(this.parameters);
    return before;
  }
}

/** Residuals and derivatives for all points, kept in typed arrays through the iteration. */
class Workspace {
  readonly residuals: Float64Array;
  /** Derivative of the modelled current, point after point. */
  readonly jacobian: Float64Array;
  private readonly normal = new Float64Array(unknowns * unknowns);
  private readonly right = new Float64Array(unknowns);

  constructor(
    private readonly voltage: Float64Array,
    private readonly current: Float64Array,
    private readonly reference: number,
  ) {
    this.residuals = new Float64Array(voltage.length);
    this.jacobian = new Float64Array(voltage.length * unknowns);
  }

  evaluate(parameters: Parameters): void {
    const [total, logCurrent, rs, conductance, logThermal] = parameters as unknown as [
      number,
      number,
      number,
      number,
      number,
    ];
    const a = Math.exp(logThermal);
    const { voltage, current: measured, reference, residuals, jacobian } = this;
    for (let k = 0; k < voltage.length; k++) {
      const current = measured[k]!;
      const diodeVoltage = voltage[k]! + current * rs;
      const above = (diodeVoltage - reference) / a;
      // No measured point lies so far beyond open circuit; a trial step might put it there.
      const diode = Math.exp(Math.min(logCurrent + above, 60));
      const junction = diode / a + conductance;
      const divider = 1 + rs * junction;
      residuals[k] = (current - (total - diode - diodeVoltage * conductance)) / divider;
      const at = k * unknowns;
      jacobian[at] = 1 / divider;
      jacobian[at + 1] = -diode / divider;
      jacobian[at + 2] = (-junction * current) / divider;
      jacobian[at + 3] = -diodeVoltage / divider;
      jacobian[at + 4] = (diode * above) / divider;
    }
  }

  sumOfSquares(weights: Float64Array): number {
    let sum = 0;
    for (let k = 0; k < weights.length; k++) sum += weights[k]! * this.residuals[k]! ** 2;
    return Number.isFinite(sum) ? sum : Infinity;
  }

  accumulate(weights: Float64Array, free: number): void {
    const { normal, right, jacobian, residuals } = this;
    normal.fill(0);
    right.fill(0);
    for (let k = 0; k < weights.length; k++) {
      const weight = weights[k]!;
      if (weight === 0) continue;
      const at = k * unknowns;
      const residual = residuals[k]!;
      for (let row = 0; row < free; row++) {
        const weighted = weight * jacobian[at + row]!;
        right[row] = right[row]! + weighted * residual;
        for (let column = 0; column <= row; column++) {
          normal[row * free + column] = normal[row * free + column]! + weighted * jacobian[at + column]!;
        }
      }
    }
  }

  /** Marquardt's step. An unknown that would leave its bounds goes to the bound, and the others are solved for that. */
  step(damping: number, free: number, parameters: Parameters, bounds: Bounds): Float64Array | undefined {
    const held = new Float64Array(unknowns).fill(NaN);
    for (let attempt = 0; attempt <= free; attempt++) {
      const step = this.solve(damping, free, held);
      if (!step) return undefined;
      let leaving = false;
      for (let j = 0; j < free; j++) {
        const aim = parameters[j]! + step[j]!;
        const bound = Math.min(bounds.high[j]!, Math.max(bounds.low[j]!, aim));
        if (bound === aim || !Number.isNaN(held[j]!)) continue;
        held[j] = bound - parameters[j]!;
        leaving = true;
      }
      if (!leaving) return step;
    }
    return undefined;
  }

  /** Solves for the step with the changes in `held` given where they are numbers. */
  private solve(damping: number, free: number, held: Float64Array): Float64Array | undefined {
    const matrix = this.normal.slice(0, free * free);
    const step = new Float64Array(unknowns);
    for (let j = 0; j < free; j++) {
      step[j] = this.right[j]!;
      matrix[j * free + j] = matrix[j * free + j]! * (1 + damping) + 1e-300;
    }
    for (let j = 0; j < free; j++) {
      const given = held[j]!;
      if (Number.isNaN(given)) continue;
      for (let k = 0; k < free; k++) {
        if (k === j) continue;
        const at = k < j ? j * free + k : k * free + j;
        step[k] = step[k]! - matrix[at]! * given;
        matrix[at] = 0;
      }
      matrix[j * free + j] = 1;
    }
    for (let j = 0; j < free; j++) if (!Number.isNaN(held[j]!)) step[j] = held[j]!;
    if (!factorise(matrix, free)) return undefined;
    backSubstitute(matrix, free, step);
    return step;
  }

  /** Factor of the normal matrix for standard errors; a trace of damping keeps it positive definite. */
  factor(free: number): Float64Array | undefined {
    const matrix = this.normal.slice(0, free * free);
    for (let j = 0; j < free; j++) matrix[j * free + j] = matrix[j * free + j]! * (1 + 1e-12) + 1e-300;
    return factorise(matrix, free) ? matrix : undefined;
  }
}
