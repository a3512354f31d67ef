/**
 * The maximum power point from a fit around it, not from the largest sample.
 *
 * The trend of the points is a single-diode curve. What remains around it near the maximum is smoothed by a polynomial of
 * an order that the points can carry, from none for a sparse sweep to the fourth for a dense one: with that order it is
 * the local polynomial of ASTM E948 and E1036 practice, with the bend of the knee taken out first. Where no single-diode
 * curve describes the points (a step nearby), a polynomial of power over voltage stands alone, in a window made smaller
 * until it describes the points; the window never crosses a hollow in power.
 */
import { fitDiode, type DiodeFit, type RoughPoints } from './diodeFit.js';
import type { Landmarks } from './landmarks.js';
import { fitRobustly, polynomialAt, polynomialDesign, type LinearFit } from './leastSquares.js';
import { describes, scatterLimit, type OneDevice } from './oneDevice.js';
import { currentAtVoltage, type SingleDiode } from './singleDiode.js';
import type { SweepPoints } from './sweepPoints.js';
import { numbersOf, pick } from './numbersOf.js';

export interface MaximumPower {
  readonly imp: number;
  readonly vmp: number;
  readonly pmax: number;
  readonly standardErrors: { readonly imp: number; readonly vmp: number; readonly pmax: number } | undefined;
  /** Robust standard deviation of the current around the fit, A. */
  readonly deviation: number;
  /** Points in the window around the maximum. */
  readonly pointsAround: number;
  /** Indices set aside as wild by the fit. */
  readonly setAside: readonly number[];
  /** The trend, where it describes the points. */
  readonly trend?: DiodeFit;
}

/** Window around the maximum, as shares of Imp and Vmp: that of ASTM E1036 as implemented in pvlib. */
const windowLow = 0.75;
const windowHigh = 1.15;

/** `device`: the trend of all points, where they lie on one curve; else one is sought between the hollows. */
export function fitMaximumPower(
  points: SweepPoints,
  landmarks: Landmarks,
  device: OneDevice | undefined,
): MaximumPower | undefined {
  const segment = device?.rows ?? segmentOf(points, landmarks);
  const pointsAround = segment.filter((k) => isAround(points, landmarks, k)).length;
  const limit = scatterLimit(points, landmarks.isc);
  const trend = device?.trend ?? fitTrend(points, segment, landmarks);
  if (trend && (device || describes(trend, points, segment, landmarks.isc))) {
    const found = maximumOfTrend(points, segment, landmarks, trend);
    if (found) return { ...found, pointsAround };
  }
  const found = maximumOfPolynomial(points, segment, landmarks, limit);
  return found && { ...found, pointsAround };
}

/** Indices of the points that belong to one device: between the hollows around the maximum, with a margin. */
function segmentOf({ voltage, smooth, wild }: SweepPoints, landmarks: Landmarks): number[] {
  const { hollowBefore, hollowAfter, vmp, imp, isc, voc } = landmarks;
  const left =
    hollowBefore === undefined ? -0.25 * voc : voltage[hollowBefore]! + 0.3 * (vmp - voltage[hollowBefore]!);
  const least = hollowAfter === undefined ? -0.5 * isc : imp - 0.6 * (imp - smooth[hollowAfter]!);
  const chosen: number[] = [];
  for (let k = 0; k < voltage.length; k++) {
    if (wild[k] || voltage[k]! < left || smooth[k]! < least) continue;
    if (hollowAfter !== undefined && k >= hollowAfter) continue;
    chosen.push(k);
  }
  return chosen;
}

function isAround({ voltage, current }: SweepPoints, { vmp, imp }: Landmarks, k: number): boolean {
  const v = voltage[k]! / vmp;
  const i = current[k]! / imp;
  return v >= windowLow && v <= windowHigh && i >= windowLow && i <= windowHigh;
}

function fitTrend(
  points: SweepPoints,
  segment: readonly number[],
  landmarks: Landmarks,
): DiodeFit | undefined {
  const last = segment.at(-1);
  const first = segment[0];
  if (first === undefined || last === undefined) return undefined;
  const rough: RoughPoints = {
    isc:
      landmarks.hollowBefore === undefined
        ? landmarks.isc
        : Math.max(points.smooth[first]!, landmarks.imp * 1.02),
    voc: landmarks.hollowAfter === undefined ? landmarks.voc : points.voltage[last]! * 1.03,
    imp: landmarks.imp,
    vmp: landmarks.vmp,
  };
  return fitDiode(pick(points.voltage, segment), pick(points.current, segment), rough);
}

type Found = Omit<MaximumPower, 'pointsAround'>;

function maximumOfTrend(
  points: SweepPoints,
  segment: readonly number[],
  landmarks: Landmarks,
  trend: DiodeFit,
): Found | undefined {
  const scale = landmarks.vmp * 0.25;
  const rows: number[] = [];
  const setAside: number[] = [];
  segment.forEach((k, row) => {
    if (Math.abs(trend.residuals[row]!) > 6 * trend.deviation + 2e-3 * landmarks.isc) setAside.push(k);
    if (isAround(points, landmarks, k) && trend.weights[row]! > 0) rows.push(row);
  });
  const order = Math.min(4, Math.floor(rows.length / 8) - 1);
  let correction: LinearFit | undefined;
  if (order >= 0) {
    const x = numbersOf(rows, (row) => (points.voltage[segment[row]!]! - landmarks.vmp) / scale);
    const rest = numbersOf(rows, (row) => trend.residuals[row]!);
    correction = fitRobustly(polynomialDesign(x, order), order + 1, rest, undefined, 3);
  }
  const left = correction?.residuals ?? numbersOf(rows, (row) => trend.residuals[row]!);
  if (wavers(left, Math.max(points.noise, 2e-4 * landmarks.isc))) return undefined;
  const coefficients = correction?.coefficients ?? [];
  const currentAt = (voltage: number): { current: number; slope: number } => {
    const current = currentAtVoltage(trend.model, voltage);
    const [more, moreSlope] = polynomialAt(coefficients, (voltage - landmarks.vmp) / scale);
    return { current: current + more, slope: slopeAt(trend.model, voltage, current) + moreSlope / scale };
  };
  const low = Math.max(points.voltage[segment[0]!]!, 0.6 * landmarks.vmp);
  const high = Math.min(points.voltage[segment.at(-1)!]!, 1.3 * landmarks.vmp);
  const vmp = rootOfPowerSlope(currentAt, low, high, landmarks.vmp);
  if (vmp === undefined) return undefined;
  const { current: imp } = currentAt(vmp);
  const currentError = Math.hypot(
    trend.standardErrorOf(trend.currentGradient(vmp)),
    correction ? correction.standardErrorAt(powers((vmp - landmarks.vmp) / scale, order + 1)) : 0,
  );
  const powerSlopeError = Math.hypot(
    slopeError(trend, vmp, landmarks.vmp),
    correction
      ? correction.standardErrorAt(powerSlopeRow((vmp - landmarks.vmp) / scale, order + 1, vmp / scale))
      : 0,
  );
  return {
    imp,
    vmp,
    pmax: vmp * imp,
    standardErrors: errorsAt(vmp, imp, currentError, powerSlopeError, curvatureOfPower(currentAt, vmp)),
    deviation: trend.deviation,
    setAside,
    trend,
  };
}

/** Points in a row that lie to one side by more than chance allows: the fit misses a bend. Needs 16 points. */
function wavers(residuals: Float64Array, noise: number): boolean {
  const width = Math.max(4, Math.round(residuals.length / 8));
  if (residuals.length < 16) return false;
  const limit = 3.8 * noise * Math.sqrt(width);
  let sum = 0;
  for (let k = 0; k < residuals.length; k++) {
    // A single wild point makes no bend.
    sum += Math.max(-3 * noise, Math.min(3 * noise, residuals[k]!));
    if (k >= width) sum -= Math.max(-3 * noise, Math.min(3 * noise, residuals[k - width]!));
    if (k >= width - 1 && Math.abs(sum) > limit) return true;
  }
  return false;
}

const powers = (x: number, count: number): number[] => Array.from({ length: count }, (_, j) => x ** j);

/** d(V x^j)/dV, x in units of some scale, the voltage given in the same units. */
const powerSlopeRow = (x: number, count: number, voltage: number): number[] =>
  powers(x, count).map((power, j) => power + (j === 0 ? 0 : voltage * j * x ** (j - 1)));

/** Standard error of d(V I)/dV of the trend at a voltage. */
function slopeError(trend: DiodeFit, voltage: number, scale: number): number {
  const step = 0.01 * scale;
  const above = trend.currentGradient(voltage + step);
  const below = trend.currentGradient(voltage - step);
  return trend.standardErrorOf(
    above.map((value, j) => (value * (voltage + step) - below[j]! * (voltage - step)) / (2 * step)),
  );
}

function errorsAt(
  vmp: number,
  imp: number,
  currentError: number,
  powerSlopeError: number,
  curvature: number,
): { imp: number; vmp: number; pmax: number } {
  // At the maximum the power does not depend on where it is read, so its error is that of the current there.
  const voltageError = powerSlopeError / Math.abs(curvature);
  return {
    pmax: vmp * currentError,
    vmp: voltageError,
    imp: Math.hypot(currentError, (imp / vmp) * voltageError),
  };
}

type Characteristic = (voltage: number) => { current: number; slope: number };

const powerSlope = (at: Characteristic, voltage: number): number => {
  const { current, slope } = at(voltage);
  return current + voltage * slope;
};

function curvatureOfPower(at: Characteristic, voltage: number): number {
  const step = 0.002 * voltage;
  return (powerSlope(at, voltage + step) - powerSlope(at, voltage - step)) / (2 * step);
}

/** Where d(V I)/dV falls through zero: regula falsi (Illinois). Undefined when it does not in the interval. */
function rootOfPowerSlope(at: Characteristic, from: number, to: number, near: number): number | undefined {
  let low = Math.max(from, 0.95 * near);
  let high = Math.min(to, 1.05 * near);
  let atLow = powerSlope(at, low);
  let atHigh = powerSlope(at, high);
  if (!(atLow > 0)) atLow = powerSlope(at, (low = from));
  if (!(atHigh < 0)) atHigh = powerSlope(at, (high = to));
  if (!(atLow > 0) || !(atHigh < 0)) return undefined;
  for (let round = 0; round < 60; round++) {
    const middle = (low * atHigh - high * atLow) / (atHigh - atLow);
    const value = powerSlope(at, middle);
    if (value > 0) {
      if (middle - low < 1e-9 * near) return middle;
      low = middle;
      atLow = value;
      atHigh /= 2;
    } else {
      if (high - middle < 1e-9 * near) return middle;
      high = middle;
      atHigh = value;
      atLow /= 2;
    }
  }
  return (low + high) / 2;
}

/** dI/dV of a model at a point of it. */
function slopeAt(model: SingleDiode, voltage: number, current: number): number {
  const { saturationCurrent, thermalVoltage: a, seriesResistance: rs } = model;
  const junction =
    (saturationCurrent / a) * Math.exp((voltage + current * rs) / a) + 1 / model.shuntResistance;
  return -junction / (1 + junction * rs);
}

/** Power over voltage by a polynomial, in a window that shrinks until the polynomial describes the points. */
function maximumOfPolynomial(
  { voltage, current, noise }: SweepPoints,
  segment: readonly number[],
  landmarks: Landmarks,
  tolerance: number,
): Found | undefined {
  let centre = landmarks.vmp;
  let low = 1 - windowLow;
  let high = windowHigh - 1;
  let best: Found | undefined;
  for (let attempt = 0; attempt < 10; attempt++) {
    const chosen = segment.filter((k) => {
      const v = voltage[k]! / centre - 1;
      const i = current[k]! / landmarks.imp - 1;
      return v >= -low && v <= high && i >= -2 * low && i <= 2 * high;
    });
    // Two points a coefficient, so that a wild one among few cannot bend the polynomial to itself.
    const order = Math.max(2, Math.min(4, (chosen.length >> 1) - 1));
    if (chosen.length < 4) break;
    const fit = fitPower(voltage, current, chosen, centre, order);
    if (!fit) break;
    best = fit;
    if (fit.deviation <= tolerance && !fit.wavering(noise)) break;
    centre = fit.vmp;
    low *= 0.75;
    high *= 0.75;
  }
  return best;
}

function fitPower(
  voltage: Float64Array,
  current: Float64Array,
  chosen: readonly number[],
  centre: number,
  order: number,
): (Found & { wavering: (noise: number) => boolean }) | undefined {
  const from = voltage[chosen[0]!]!;
  const to = voltage[chosen.at(-1)!]!;
  const scale = (to - from) / 2;
  const x = numbersOf(chosen, (k) => (voltage[k]! - centre) / scale);
  const power = numbersOf(chosen, (k) => voltage[k]! * current[k]!);
  const fit = fitRobustly(polynomialDesign(x, order), order + 1, power);
  if (!fit) return undefined;
  const at = maximumOf(fit.coefficients, (from - centre) / scale, (to - centre) / scale);
  const vmp = centre + at * scale;
  const [pmax, , curvature] = polynomialAt(fit.coefficients, at);
  const slopeRow = powers(at, order + 1).map((_, j) => (j === 0 ? 0 : j * at ** (j - 1)));
  const powerError = fit.standardErrorAt(powers(at, order + 1));
  const voltageError = curvature < 0 ? (fit.standardErrorAt(slopeRow) / -curvature) * scale : scale;
  const imp = pmax / vmp;
  return {
    imp,
    vmp,
    pmax,
    standardErrors: {
      pmax: powerError,
      vmp: voltageError,
      imp: Math.hypot(powerError / vmp, (imp / vmp) * voltageError),
    },
    deviation: fit.deviation / vmp,
    wavering: (noise) => wavers(fit.residuals, Math.max(noise, 2e-4 * imp) * vmp),
    setAside: chosen.filter((_, row) => Math.abs(fit.residuals[row]!) > 6 * fit.deviation + 2e-3 * pmax),
  };
}

/** Argument of the largest value of a polynomial between two ends: scan, then Newton. */
export function maximumOf(coefficients: ArrayLike<number>, from: number, to: number): number {
  const steps = 40;
  let best = from;
  let most = -Infinity;
  for (let k = 0; k <= steps; k++) {
    const x = from + ((to - from) * k) / steps;
    const [value] = polynomialAt(coefficients, x);
    if (value > most) {
      most = value;
      best = x;
    }
  }
  for (let round = 0; round < 20; round++) {
    const [, slope, curvature] = polynomialAt(coefficients, best);
    if (!(curvature < 0)) break;
    const next = Math.min(to, Math.max(from, best - slope / curvature));
    if (Math.abs(next - best) < 1e-14) return next;
    best = next;
  }
  return best;
}
