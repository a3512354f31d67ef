/** A measured curve reduced to some tens of means along its length, each with what it is known to. */
import { findLandmarks, type Landmarks } from './landmarks.js';
import type { IvCurve } from './ivCurve.js';
import { sweepPoints } from './sweepPoints.js';
import { numbersOf } from './numbersOf.js';

export interface ThinnedSweep {
  readonly voltage: Float64Array;
  readonly current: Float64Array;
  /** Moment of each point in the sweep, -0.5 to 0.5. */
  readonly moment: Float64Array;
  /** Standard deviation of the current, A: noise, and what a model of a real device leaves over. */
  readonly deviation: Float64Array;
  readonly landmarks: Landmarks;
  /** From point to point, A. */
  readonly noise: number;
}

/** Along the curve, half of them by voltage and half by current. */
const pieces = 96;

/**
 * What a single-diode model of a nameplate leaves over on a sound device, as fractions of Isc and Voc (k = 1), where so many
 * points count as independent: own choice, from the CEC modules by the tests.
 */
const leftOver = { current: 0.0013, voltage: 0.0008, independent: 40 } as const;

/** @param order rank of each point in time, from 0; absent: in the order of voltage. Undefined where nothing generates. */
export function thinSweep(curve: IvCurve, order?: ArrayLike<number>): ThinnedSweep | undefined {
  const points = sweepPoints(curve);
  const landmarks = findLandmarks(points);
  if (!landmarks) return undefined;
  const { voltage, current, wild, noise } = points;
  const ranks = order && voltage === curve.voltage ? order : undefined;
  const { isc, voc } = landmarks;
  const last = Math.max(1, voltage.length - 1);
  const sums: { voltage: number; current: number; moment: number; count: number }[] = [];
  let piece = -1;
  for (let k = 0; k < voltage.length; k++) {
    if (wild[k] || voltage[k]! < -0.02 * voc || current[k]! < -0.1 * isc) continue;
    const along = (voltage[k]! / voc + (isc - points.smooth[k]!) / isc) / 2;
    const own = Math.floor(along * pieces);
    if (own > piece || sums.length === 0) {
      sums.push({ voltage: 0, current: 0, moment: 0, count: 0 });
      piece = Math.max(own, piece);
    }
    const sum = sums.at(-1)!;
    sum.voltage += voltage[k]!;
    sum.current += current[k]!;
    sum.moment += (ranks ? ranks[k]! : k) / last - 0.5;
    sum.count++;
  }
  const mean = (key: 'voltage' | 'current' | 'moment'): Float64Array =>
    numbersOf(sums, (sum) => sum[key] / sum.count);
  const thinned = { voltage: mean('voltage'), current: mean('current'), moment: mean('moment') };
  const crowd = Math.max(1, sums.length / leftOver.independent);
  const deviation = numbersOf(sums, ({ count }, k) => {
    const slope = slopeAt(thinned, k);
    const systematic = (leftOver.current * isc) ** 2 + (slope * leftOver.voltage * voc) ** 2;
    return Math.sqrt(noise ** 2 / count + systematic * crowd);
  });
  return { ...thinned, deviation, landmarks, noise };
}

function slopeAt({ voltage, current }: Pick<ThinnedSweep, 'voltage' | 'current'>, k: number): number {
  const from = Math.max(0, k - 1);
  const to = Math.min(voltage.length - 1, k + 1);
  const run = voltage[to]! - voltage[from]!;
  return run > 0 ? Math.max(0, (current[from]! - current[to]!) / run) : 0;
}
