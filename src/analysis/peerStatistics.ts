/** How far one value stands from those that should be like it, without the odd ones moving the measure. */
import { select } from '../physics/robustStatistics.js';

/** Median of finite values, the mean of the middle two for an even count; NaN for none. */
export function middle(values: ArrayLike<number>): number {
  if (values.length === 0) return NaN;
  const partly = Float64Array.from(values);
  const half = partly.length >> 1;
  const upper = select(partly, half);
  if (partly.length % 2 === 1) return upper;
  // What stands before the upper of the two is not larger.
  let lower = -Infinity;
  for (let at = 0; at < half; at++) if (partly[at]! > lower) lower = partly[at]!;
  return (lower + upper) / 2;
}

export interface RobustSpread {
  readonly count: number;
  readonly median: number;
  /** Median absolute deviation times 1.4826, which is the standard deviation of normal values. */
  readonly spread: number;
}

/** Undefined with fewer than three values: a median of two says nothing of either. */
export function robustSpread(values: ArrayLike<number>): RobustSpread | undefined {
  if (values.length < 3) return undefined;
  const median = middle(values);
  const distances = new Float64Array(values.length);
  for (let at = 0; at < values.length; at++) distances[at] = Math.abs(values[at]! - median);
  return { count: values.length, median, spread: 1.4826 * middle(distances) };
}

/** The robust rule needs at least so many values: own choice. */
export const leastForRule = 5;

/** Limits of the distance from the median; what is outside stands out. */
export interface SpreadLimits {
  readonly least: number;
  readonly most: number;
}

/**
 * Where no limits are agreed: 3.5 scaled median absolute deviations on either side (Iglewicz and Hoaglin 1993, modified z-score,
 * from memory, not confirmed), but no less than `floor`, below which a difference is none; undefined with fewer than five.
 */
export function robustLimits({ count, spread }: RobustSpread, floor: number): SpreadLimits | undefined {
  if (count < leastForRule) return undefined;
  const most = Math.max(3.5 * spread, floor);
  return { least: -most, most };
}
