import type { SweepReading } from '../sweeps/sweepReading.js';

/** Fewer points are a slip of the instrument, not a sweep of their own. */
const leastPoints = 10;

/**
 * How often the voltage begins anew: pieces of the table, in its own order, between jumps over more than half of the whole range. A
 * sweep up and down turns without such a jump.
 */
export function separateRuns({ curve, lines }: SweepReading): number {
  const order = Array.from(lines.keys()).sort((a, b) => lines[a]! - lines[b]!);
  const voltage = order.map((at) => curve.voltage[at]!);
  const range = curve.voltage[curve.voltage.length - 1]! - curve.voltage[0]!;
  const runs: number[] = [];
  let length = 0;
  voltage.forEach((value, at) => {
    if (at > 0 && Math.abs(value - voltage[at - 1]!) > range / 2) {
      runs.push(length);
      length = 0;
    }
    length++;
  });
  runs.push(length);
  return runs.filter((count) => count >= leastPoints).length;
}
