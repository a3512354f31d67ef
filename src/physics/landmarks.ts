/** Where the parts of a curve lie, roughly: what the local fits start from. */
import { median } from './robustStatistics.js';
import type { SweepPoints } from './sweepPoints.js';

export interface Landmarks {
  /** Rough values, from samples without fitting. */
  readonly isc: number;
  readonly voc: number;
  readonly imp: number;
  readonly vmp: number;
  /** Index of the sample of largest power that is not wild. */
  readonly maximum: number;
  /** Maxima of power that stand out by more than the noise and 1.5 % of the largest. */
  readonly maxima: number;
  /** Indices of the hollows in power on both sides of the global maximum; undefined where the curve has no step there. */
  readonly hollowBefore?: number;
  readonly hollowAfter?: number;
  /** Current at the hollow before the last maximum: the photocurrent of the part of the curve that reaches Voc, A. */
  readonly lastPlateau?: number;
  /** Voltage at the first hollow, up to which the curve belongs to short circuit. */
  readonly firstHollowVoltage?: number;
}

/** Undefined when no sample has positive power. */
export function findLandmarks(points: SweepPoints): Landmarks | undefined {
  const { voltage, smooth, wild, noise } = points;
  let maximum = -1;
  let most = 0;
  for (let k = 0; k < voltage.length; k++) {
    const power = voltage[k]! * smooth[k]!;
    if (!wild[k] && voltage[k]! > 0 && power > most) {
      most = power;
      maximum = k;
    }
  }
  if (maximum < 0) return undefined;
  const vmp = voltage[maximum]!;
  const imp = smooth[maximum]!;
  const isc = Math.max(roughIsc(points, vmp), imp);
  const hollows = findHollows(points, Math.max(0.015 * most, 6 * noise * vmp));
  const before = hollows.filter((k) => k < maximum);
  const after = hollows.find((k) => k > maximum);
  const last = hollows.at(-1);
  const first = hollows[0];
  return {
    isc,
    voc: roughVoc(points, maximum, isc),
    imp,
    vmp,
    maximum,
    maxima: hollows.length + 1,
    hollowBefore: before.at(-1),
    hollowAfter: after,
    lastPlateau: last === undefined ? undefined : smooth[last]!,
    firstHollowVoltage: first === undefined ? undefined : voltage[first]!,
  };
}

/** Median of the samples up to a third of the way to the maximum power point. */
function roughIsc({ voltage, smooth }: SweepPoints, vmp: number): number {
  // In the order of voltage they stand side by side.
  let first = 0;
  while (first < voltage.length && !(voltage[first]! > -vmp / 10)) first++;
  let end = first;
  while (end < voltage.length && voltage[end]! < vmp / 3) end++;
  return end > first ? median(smooth.subarray(first, end)) : smooth[0]!;
}

/** Where the current changes sign; beyond the last sample by the slope that a leg usually has. */
function roughVoc({ voltage, smooth }: SweepPoints, maximum: number, isc: number): number {
  for (let k = maximum + 1; k < voltage.length; k++) {
    if (smooth[k]! > 0) continue;
    const share = smooth[k - 1]! / (smooth[k - 1]! - smooth[k]!);
    return voltage[k - 1]! + share * (voltage[k]! - voltage[k - 1]!);
  }
  const last = voltage.length - 1;
  const end = Math.max(voltage[last]!, voltage[maximum]!);
  return end * (1 + 0.12 * Math.min(1, Math.max(0, smooth[last]! / isc)));
}

/** Indices of minima of power between maxima, each `prominence` (W) below its neighbours. */
function findHollows({ voltage, smooth, wild }: SweepPoints, prominence: number): number[] {
  const hollows: number[] = [];
  let rising = true;
  let extreme = -Infinity;
  let at = 0;
  for (let k = 0; k < voltage.length; k++) {
    if (wild[k] || voltage[k]! <= 0) continue;
    const power = voltage[k]! * smooth[k]!;
    if (rising) {
      if (power > extreme) extreme = power;
      else if (power < extreme - prominence) {
        rising = false;
        extreme = power;
        at = k;
      }
    } else if (power < extreme) {
      extreme = power;
      at = k;
    } else if (power > extreme + prominence) {
      hollows.push(at);
      rising = true;
      extreme = power;
    }
  }
  return hollows;
}
