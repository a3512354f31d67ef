/** Isc and the slope of the curve at V = 0, from a robust line through the flat part of the curve. */
import { fitRobustly } from './leastSquares.js';
import type { DiodeFit } from './diodeFit.js';
import type { Landmarks } from './landmarks.js';
import { currentAtVoltage, junctionConductance, type SingleDiode } from './singleDiode.js';
import type { SweepPoints } from './sweepPoints.js';

export interface ShortCircuit {
  /** A. Undefined: the sweep begins too far from V = 0. */
  readonly isc: number | undefined;
  /** -dI/dV at V = 0, S. */
  readonly slope: number | undefined;
  readonly standardError: number | undefined;
  /** How far V = 0 lies below the first point, V; zero when points reach it. */
  readonly extrapolatedBy: number;
}

/** Beyond this share of Vmp a sweep begins too late for its Isc (own choice: a line over the rest is then too short). */
export const iscRefusalShare = 0.5;

/**
 * The line spans points up to half of Vmp, where an intact curve is straight; it is shortened while the points nearest to
 * V = 0 stand apart from it, as behind an early step.
 */
export function fitShortCircuit(points: SweepPoints, landmarks: Landmarks, trend?: DiodeFit): ShortCircuit {
  const { vmp, voc } = landmarks;
  const start = points.voltage[0]!;
  const extrapolatedBy = start > 0.005 * voc ? start : 0;
  const found =
    start > iscRefusalShare * vmp
      ? undefined
      : (fromTrend(points, landmarks, trend) ?? localLine(points, landmarks));
  return { ...(found ?? unknown), extrapolatedBy };
}

type Found = Omit<ShortCircuit, 'extrapolatedBy'>;

const unknown: Found = { isc: undefined, slope: undefined, standardError: undefined };

/** A line needs this many points to be as good as the trend of the whole curve. */
const enoughForLine = 16;

/** The trend at V = 0, where the flat part has too few points for a line. */
function fromTrend(
  points: SweepPoints,
  landmarks: Landmarks,
  trend: DiodeFit | undefined,
): Found | undefined {
  if (!trend || choose(points, limitOf(points, landmarks), landmarks).length >= enoughForLine)
    return undefined;
  const { isc, slope } = shortCircuitOf(trend.model);
  return { isc, slope, standardError: trend.standardErrorOf(trend.currentGradient(0)) };
}

function shortCircuitOf(model: SingleDiode): { isc: number; slope: number } {
  const isc = currentAtVoltage(model, 0);
  const junction = junctionConductance(model, isc * model.seriesResistance);
  return { isc, slope: junction / (1 + junction * model.seriesResistance) };
}

function limitOf({ voltage }: SweepPoints, { vmp, firstHollowVoltage }: Landmarks): number {
  return Math.min(Math.max(0.5 * vmp, voltage[0]! + 0.3 * vmp), (firstHollowVoltage ?? Infinity) * 0.5);
}

function localLine(points: SweepPoints, landmarks: Landmarks): Found | undefined {
  let limit = limitOf(points, landmarks);
  let best: Found | undefined;
  for (let attempt = 0; attempt < 9; attempt++) {
    const chosen = choose(points, limit, landmarks);
    const fit = chosen.length >= 2 ? lineThrough(points, chosen, landmarks.vmp) : undefined;
    if (!fit) break;
    best = fit.result;
    const tolerance = (4 * points.noise) / Math.sqrt(Math.max(1, chosen.length / 3)) + 5e-4 * landmarks.isc;
    if (chosen.length < 8 || Math.abs(fit.offsetNearby) < tolerance) break;
    limit *= 0.65;
  }
  return best;
}

/** Indices of points that are not wild between two voltages; at least four if the flat part has them. */
function choose({ voltage, wild }: SweepPoints, limit: number, { voc, vmp }: Landmarks): number[] {
  const chosen: number[] = [];
  for (let k = 0; k < voltage.length; k++) {
    if (voltage[k]! > limit && (chosen.length >= 4 || voltage[k]! > 0.85 * vmp)) break;
    if (!wild[k] && voltage[k]! >= -0.25 * voc) chosen.push(k);
  }
  return chosen;
}

function lineThrough(
  { voltage, current }: SweepPoints,
  chosen: readonly number[],
  scale: number,
): { result: Found; offsetNearby: number } | undefined {
  const design = new Float64Array(chosen.length * 2);
  const values = new Float64Array(chosen.length);
  chosen.forEach((k, row) => {
    design[2 * row] = 1;
    design[2 * row + 1] = voltage[k]! / scale;
    values[row] = current[k]!;
  });
  const line = fitRobustly(design, 2, values);
  if (!line) return undefined;
  // Current that rises with voltage is noise, or an irradiance that rose; only the second is worth a line.
  const slopeError = line.standardErrorAt([0, 1]);
  const rising = line.coefficients[1]! > 0 && line.coefficients[1]! < 3 * slopeError;
  const flat = rising ? fitRobustly(new Float64Array(chosen.length).fill(1), 1, values) : undefined;
  const fit = flat ?? line;
  const nearby = Math.max(2, Math.ceil(chosen.length / 3));
  let offset = 0;
  let counted = 0;
  for (let row = 0; row < nearby; row++) {
    const weight = Math.abs(fit.residuals[row]!) > 6 * fit.deviation ? 0 : 1;
    offset += weight * fit.residuals[row]!;
    counted += weight;
  }
  return {
    result: {
      isc: fit.coefficients[0]!,
      slope: flat ? 0 : -line.coefficients[1]! / scale,
      standardError: fit.standardErrorAt(flat ? [1] : [1, 0]),
    },
    offsetNearby: counted >= nearby / 2 ? offset / counted : Infinity,
  };
}
