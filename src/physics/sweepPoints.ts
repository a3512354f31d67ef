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
  const highest = smooth.reduce((most, value) => Math.max(most, value), 0);
  // The flat part tells the noise of the current; on the steep part noise of the voltage adds to it.
  const flat = deviations.filter((_, k) => smooth[k]! > 0.93 * highest);
  const steep = deviations.filter((_, k) => smooth[k]! <= 0.93 * highest);
  const noise = 1.4826 * medianAbsolute(flat.length >= 5 ? flat : deviations);
  const steepNoise = Math.max(noise, steep.length >= 5 ? 1.4826 * medianAbsolute(steep) : noise);
  const wild = new Uint8Array(voltage.length);
  for (let k = 0; k < voltage.length; k++) {
    const scale = smooth[k]! > 0.93 * highest ? noise : steepNoise;
    if (Math.abs(current[k]! - smooth[k]!) > wildLimit * scale + 1e-3 * highest) wild[k] = 1;
  }
  markWildStart(current, smooth, wild, wildLimit * noise + 1e-3 * highest);
  return { voltage, current, smooth, wild, noise: Number.isFinite(noise) ? noise : 0 };
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

/** The first point has no neighbour before it: it is held against the median of those behind it, where these are flat. */
function markWildStart(current: Float64Array, smooth: Float64Array, wild: Uint8Array, limit: number): void {
  if (current.length < 6) return;
  const behind = median(current.subarray(1, 6));
  if (Math.abs(current[5]! - current[1]!) > limit || Math.abs(current[0]! - behind) <= 2 * limit) return;
  wild[0] = 1;
  smooth[0] = behind;
}
