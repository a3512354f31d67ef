/** Voc and the slope of the curve at I = 0. */
import type { DiodeFit } from './diodeFit.js';
import type { Landmarks } from './landmarks.js';
import { fitRobustly, type LinearFit } from './leastSquares.js';
import { junctionConductance, pointAt, type SingleDiode } from './singleDiode.js';
import type { ShortCircuit } from './shortCircuit.js';
import type { SweepPoints } from './sweepPoints.js';

export interface OpenCircuit {
  /** V. Undefined: the sweep stops too far from I = 0. */
  readonly voc: number | undefined;
  /** -dV/dI at I = 0, ohm. */
  readonly slope: number | undefined;
  readonly standardError: number | undefined;
  /** How far Voc lies beyond the last point, V; zero when points reach it. */
  readonly extrapolatedBy: number;
  readonly setAside: readonly number[];
}

/**
 * A sweep whose last current is a larger share of Isc than this does not show its Voc. Own choice, from the accuracy that
 * simulated sweeps with 0.2 % noise reach (tests/physics/curveParameters.test.ts).
 */
export const vocRefusalShare = 0.5;

/** Rs Isc / a of a usual module; only weights and two-point fits rest on it. */
const usualBend = 2;

/** Fewer points than this on the leg are left to the trend of the whole curve, where there is one. */
const enoughForLeg = 10;

/** `trend`: the curve that all points lie on, where they lie on one. */
export function fitOpenCircuit(
  points: SweepPoints,
  landmarks: Landmarks,
  short: ShortCircuit,
  trend: DiodeFit | undefined,
): OpenCircuit {
  const plateau = landmarks.lastPlateau ?? currentWithoutDiode(landmarks, short);
  const last = lastUsable(points);
  const lastCurrent = points.smooth[last]!;
  const reaches = lastCurrent <= Math.max(0.03 * plateau, 2 * points.noise);
  if (!reaches && lastCurrent > vocRefusalShare * plateau)
    return nothing(landmarks.voc - points.voltage[last]!);
  const chosen = chooseLeg(points, landmarks, plateau);
  if (trend && (!reaches || chosen.length < enoughForLeg)) return openCircuitOfTrend(points, trend, last);
  const local = chosen.length >= 2 ? fitLeg(points, chosen, plateau) : undefined;
  return local && (reaches || lastCurrent < 0.2 * plateau)
    ? result(points, chosen, local, plateau, last)
    : nothing(0);
}

/** Isc less what the shunt takes near open circuit, A. */
function currentWithoutDiode(
  { isc: rough, voc }: Landmarks,
  { isc = rough, slope = 0 }: ShortCircuit,
): number {
  return isc - Math.max(0, Math.min(slope * voc, 0.3 * isc));
}

const nothing = (extrapolatedBy: number): OpenCircuit => ({
  voc: undefined,
  slope: undefined,
  standardError: undefined,
  extrapolatedBy,
  setAside: [],
});

function lastUsable({ wild }: SweepPoints): number {
  let last = wild.length - 1;
  while (last > 0 && wild[last]) last--;
  return last;
}

/** Points around I = 0 right of the maximum: a stretch of the leg just long enough for ten points. */
function chooseLeg(
  { voltage, current, wild }: SweepPoints,
  { vmp, maximum }: Landmarks,
  plateau: number,
): number[] {
  for (const share of [0.4, 0.6, 0.8, 0.85]) {
    const chosen: number[] = [];
    for (let k = maximum; k < voltage.length; k++) {
      const i = current[k]! / plateau;
      if (!wild[k] && voltage[k]! > 0.9 * vmp && i > -0.6 && i < share) chosen.push(k);
    }
    if (chosen.length >= enoughForLeg || share === 0.85) return chosen;
  }
  return [];
}

/**
 * V = A + B I + C ln(1 - I/Iph): the single-diode curve without shunt, linear in its coefficients; A is Voc. Rows are
 * weighted by the slope, since it is the current that carries the noise.
 */
function fitLeg(
  { voltage, current }: SweepPoints,
  chosen: readonly number[],
  plateau: number,
): LinearFit | undefined {
  const size = chosen.length >= 6 ? 3 : 2;
  const design = new Float64Array(chosen.length * size);
  const weights = new Float64Array(chosen.length);
  const values = new Float64Array(chosen.length);
  chosen.forEach((k, row) => {
    const i = current[k]! / plateau;
    design.set(legRow(i, size), row * size);
    weights[row] = ((usualBend + 1) / (usualBend + 1 / (1 - i))) ** 2;
    values[row] = voltage[k]!;
  });
  return fitRobustly(design, size, values, weights);
}

const legRow = (i: number, size: number): number[] =>
  size === 3 ? [1, i, Math.log1p(-i)] : [1, Math.log1p(-i) - usualBend * i];

function result(
  points: SweepPoints,
  chosen: readonly number[],
  fit: LinearFit,
  plateau: number,
  last: number,
): OpenCircuit {
  const [voc, second, third] = fit.coefficients as unknown as [number, number, number | undefined];
  // dV/dI at I = 0 times the plateau: B - C, or -C (1 + bend).
  const bend = third === undefined ? -second * (1 + usualBend) : second - third;
  const beyond = voc - points.voltage[last]!;
  return {
    voc,
    slope: -bend / plateau,
    standardError: fit.standardErrorAt(third === undefined ? [1, 0] : [1, 0, 0]),
    extrapolatedBy: points.current[last]! > 0 && beyond > 2e-3 * voc ? beyond : 0,
    setAside: chosen.filter((_, row) => Math.abs(fit.residuals[row]!) > 6 * fit.deviation + 2e-3 * voc),
  };
}

function openCircuitOfTrend({ voltage, current }: SweepPoints, trend: DiodeFit, last: number): OpenCircuit {
  const { model } = trend;
  const voc = openCircuitVoltage(model);
  const junction = junctionConductance(model, voc);
  const slope = model.seriesResistance + 1 / junction;
  const beyond = voc - voltage[last]!;
  return {
    voc,
    slope,
    standardError: trend.standardErrorOf(trend.currentGradient(voc)) * slope,
    extrapolatedBy: current[last]! > 0 && beyond > 2e-3 * voc ? beyond : 0,
    setAside: [],
  };
}

/** Voc of a model whose shunt may be negative, from a guess without shunt. */
function openCircuitVoltage(model: SingleDiode): number {
  let voc = model.thermalVoltage * Math.log1p(model.photocurrent / model.saturationCurrent);
  for (let round = 0; round < 20; round++) {
    const { current } = pointAt(model, voc);
    const step = current / junctionConductance(model, voc);
    voc += step;
    if (Math.abs(step) < 1e-12 * voc) break;
  }
  return voc;
}
