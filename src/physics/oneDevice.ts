/**
 * The hypothesis that all points lie on one single-diode curve, but for some wild ones. Where it holds, it tells the wild
 * points from the rest even on a steep leg and in a sparse sweep, and gives the trend for the local fits.
 */
import { fitDiode, type DiodeFit } from './diodeFit.js';
import type { Landmarks } from './landmarks.js';
import { currentAtVoltage } from './singleDiode.js';
import type { SweepPoints } from './sweepPoints.js';

export interface OneDevice {
  readonly trend: DiodeFit;
  /** The points with those marked wild that the trend sets aside. */
  readonly points: SweepPoints;
  /** Index into `points` of each row of the trend's residuals. */
  readonly rows: readonly number[];
}

/** How far the scatter around a trend may exceed the noise from point to point, A. */
export function scatterLimit({ noise, voltage }: SweepPoints, isc: number): number {
  // Both estimates of the noise scatter, the more so the fewer the points.
  return Math.max(1.7 * (1 + 25 / voltage.length) * noise, 8e-4 * isc);
}

/** Undefined where the points do not bear the hypothesis out: too much scatter, or too many points off the curve. */
export function asOneDevice(points: SweepPoints, landmarks: Landmarks): OneDevice | undefined {
  const { voltage, current, smooth, wild } = points;
  const rows: number[] = [];
  for (let k = 0; k < voltage.length; k++) {
    if (!wild[k] && voltage[k]! > -0.25 * landmarks.voc && smooth[k]! > -0.5 * landmarks.isc) rows.push(k);
  }
  const limit = scatterLimit(points, landmarks.isc);
  const trend = fitDiode(pick(voltage, rows), pick(current, rows), landmarks);
  if (!trend) return undefined;
  if (describes(trend, points, rows, landmarks.isc)) {
    const far = farRows(trend, rows, landmarks.isc);
    return far.length === 0 ? { trend, points, rows } : setAside(points, rows, far, landmarks);
  }
  const far = fewestWild(points, rows, landmarks, limit);
  return far && setAside(points, rows, far, landmarks);
}

/** Is the scatter that of the noise, and are the points off the curve few and apart from each other? */
export function describes(
  trend: DiodeFit,
  points: SweepPoints,
  rows: readonly number[],
  isc: number,
): boolean {
  if (trend.deviation > scatterLimit(points, isc)) return false;
  const far = farRows(trend, rows, isc);
  return far.length <= Math.max(2, 0.1 * rows.length) && longestRun(far) <= 1;
}

function farRows(trend: DiodeFit, rows: readonly number[], isc: number): number[] {
  const limit = 6 * trend.deviation + 1e-3 * isc;
  return rows.filter((_, row) => Math.abs(trend.residuals[row]!) > limit);
}

/** The hypothesis with some points left out. */
function setAside(
  points: SweepPoints,
  rows: readonly number[],
  far: readonly number[],
  landmarks: Landmarks,
): OneDevice | undefined {
  const kept = rows.filter((k) => !far.includes(k));
  const trend = fitDiode(pick(points.voltage, kept), pick(points.current, kept), landmarks);
  if (!trend) return undefined;
  const marked = {
    ...points,
    smooth: Float64Array.from(points.smooth),
    wild: Uint8Array.from(points.wild),
  };
  for (const k of far) {
    marked.wild[k] = 1;
    marked.smooth[k] = currentAtVoltage(trend.model, points.voltage[k]!);
  }
  return { trend, points: marked, rows: kept };
}

/** Sweeps up to so many points are searched for wild points one by one. */
const sparse = 64;

/**
 * In a sparse sweep a wild point on the knee bends the curve so far to itself that its residual no longer stands out. So
 * each point in turn is left out, and the one is dropped without which the others agree best; at most three times.
 */
function fewestWild(
  { voltage, current }: SweepPoints,
  rows: readonly number[],
  landmarks: Landmarks,
  limit: number,
): number[] | undefined {
  if (rows.length > sparse) return undefined;
  const dropped: number[] = [];
  let kept = rows;
  let before = Infinity;
  while (dropped.length < 3 && kept.length > 12) {
    let best = Infinity;
    let without = -1;
    for (const k of kept) {
      const others = kept.filter((other) => other !== k);
      const fit = fitDiode(pick(voltage, others), pick(current, others), landmarks, {
        robust: false,
        rounds: 15,
      });
      const scatter = fit ? rootMeanSquare(fit.residuals) : Infinity;
      if (scatter < best) {
        best = scatter;
        without = k;
      }
    }
    dropped.push(without);
    kept = kept.filter((k) => k !== without);
    // A step in the curve gets hardly better by one point less.
    if (best > 0.8 * before) return undefined;
    before = best;
    if (best <= limit) return longestRun([...dropped].sort((a, b) => a - b)) <= 1 ? dropped : undefined;
  }
  return undefined;
}

function rootMeanSquare(values: Float64Array): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}

function longestRun(indices: readonly number[]): number {
  let longest = 0;
  let run = 0;
  indices.forEach((k, at) => {
    run = at > 0 && indices[at - 1] === k - 1 ? run + 1 : 1;
    longest = Math.max(longest, run);
  });
  return longest;
}

export function pick(values: Float64Array, indices: readonly number[]): Float64Array {
  return Float64Array.from(indices, (k) => values[k]!);
}
