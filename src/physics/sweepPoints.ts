/** The points of a curve made ready for fitting: equal voltages merged, wild points marked, noise estimated. */
import type { IvCurve } from './ivCurve.js';
import { median, medianAbsolute, runningMedian } from './robustStatistics.js';

export interface SweepPoints {
  /** Strictly ascending, V. */
  readonly voltage: Float64Array;
  /** A. */
  readonly current: Float64Array;
  /** Running median of the current: equals it wherever the curve falls without noise. */
  readonly smooth: Float64Array;
  /** 1 where a point stands apart from its neighbours by far more than the noise. */
  readonly wild: Uint8Array;
  /** Robust standard deviation of the current from point to point, A. */
  readonly noise: number;
}

/** How many standard deviations a point must stand apart to be wild. */
const wildLimit = 6;

export function sweepPoints(curve: IvCurve): SweepPoints {
  const { voltage, current } = mergeEqualVoltages(curve);
  const smooth = runningMedian(current, 5);
  const deviations = neighbourDeviations(voltage, current);
  let highest = 0;
  for (let k = 0; k < smooth.length; k++) highest = Math.max(highest, smooth[k]!);
  // The flat part tells the noise of the current; on the steep part noise of the voltage adds to it.
  const sorted = new Float64Array(deviations.length);
  let flat = 0;
  let steep = 0;
  for (let k = 0; k < deviations.length; k++) {
    if (smooth[k]! > 0.93 * highest) sorted[flat++] = deviations[k]!;
    else sorted[sorted.length - ++steep] = deviations[k]!;
  }
  const noise = 1.4826 * medianAbsolute(flat >= 5 ? sorted.subarray(0, flat) : deviations);
  const steepNoise = Math.max(noise, steep >= 5 ? 1.4826 * medianAbsolute(sorted.subarray(flat)) : noise);
  const wild = new Uint8Array(voltage.length);
  const limitAt = (k: number): number =>
    wildLimit * (smooth[k]! > 0.93 * highest ? noise : steepNoise) + 1e-3 * highest;
  for (let k = 0; k < voltage.length; k++) {
    if (Math.abs(current[k]! - smooth[k]!) > limitAt(k)) wild[k] = 1;
  }
  keepOrderlyPoints({ voltage, current, smooth, wild }, limitAt);
  markWildStart(current, smooth, wild, wildLimit * noise + 1e-3 * highest);
  return { voltage, current, smooth, wild, noise: Number.isFinite(noise) ? noise : 0 };
}

/**
 * On a steep part a wild point shifts the median of its neighbours, which then stand apart from it too. Those near
 * the chord between the nearest points beyond suspicion are cleared; at the others the smooth current bridges the gap.
 */
function keepOrderlyPoints(
  { voltage, current, smooth, wild }: Omit<SweepPoints, 'noise'>,
  limitAt: (k: number) => number,
): void {
  const suspected = Uint8Array.from(wild);
  for (let k = 0; k < current.length; k++) {
    if (!suspected[k]) continue;
    let left = k - 1;
    let right = k + 1;
    while (left >= 0 && suspected[left]) left--;
    while (right < current.length && suspected[right]) right++;
    if (left < 0 || right >= current.length) continue;
    const share = (voltage[k]! - voltage[left]!) / (voltage[right]! - voltage[left]!);
    const chord = current[left]! * (1 - share) + current[right]! * share;
    const bend = 0.2 * Math.abs(current[left]! - current[right]!);
    const orderly = Math.abs(current[k]! - chord) <= limitAt(k) + bend;
    if (orderly) wild[k] = 0;
    smooth[k] = orderly ? current[k]! : chord;
  }
}

/** Points of one voltage become one point with the median (of two, the mean) of their currents. */
function mergeEqualVoltages({ voltage, current }: IvCurve): IvCurve {
  let distinct = 0;
  for (let k = 0; k < voltage.length; k++) if (k === 0 || voltage[k] !== voltage[k - 1]) distinct++;
  if (distinct === voltage.length) return { voltage, current };
  const merged = { voltage: new Float64Array(distinct), current: new Float64Array(distinct) };
  let from = 0;
  for (let index = 0; index < distinct; index++) {
    let to = from + 1;
    while (to < voltage.length && voltage[to] === voltage[from]) to++;
    merged.voltage[index] = voltage[from]!;
    merged.current[index] =
      to - from === 2 ? (current[from]! + current[from + 1]!) / 2 : median(current.subarray(from, to));
    from = to;
  }
  return merged;
}

/** Distance of each inner point from the chord of its neighbours, scaled to the standard deviation of one point. */
function neighbourDeviations(voltage: Float64Array, current: Float64Array): Float64Array {
  const result = new Float64Array(voltage.length);
  for (let k = 1; k + 1 < voltage.length; k++) {
    const share = (voltage[k]! - voltage[k - 1]!) / (voltage[k + 1]! - voltage[k - 1]!);
    const chord = current[k - 1]! * (1 - share) + current[k + 1]! * share;
    result[k] = (current[k]! - chord) / Math.sqrt(1 + share ** 2 + (1 - share) ** 2);
  }
  return result;
}

/**
 * The first two points have too few neighbours before them: they are held against the median of the first seven, where
 * these are flat.
 */
function markWildStart(current: Float64Array, smooth: Float64Array, wild: Uint8Array, limit: number): void {
  if (current.length < 12) return;
  const start = current.subarray(0, 7);
  const level = median(start);
  if (medianAbsolute(start.map((value) => value - level)) > limit) return;
  for (let k = 0; k < 2; k++) {
    if (Math.abs(current[k]! - level) <= 2 * limit) continue;
    wild[k] = 1;
    smooth[k] = level;
  }
}
