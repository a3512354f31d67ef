/** A table that holds the curve twice, up and down again: do its two passes agree? */
import { warning } from './readingProblems.js';
import { extent, type SweepPoints } from './sweepPoints.js';
import type { ReadingProblem } from './sweepReading.js';

/** Own choices: points that a pass has at least, the share of the voltages that it covers, and what is said. */
const leastPoints = 10;
const leastCover = 0.8;
const mostDifference = 0.01;

interface Pass {
  readonly voltage: readonly number[];
  readonly current: readonly number[];
}

/**
 * A warning where the areas under the two passes differ by more than 1 %: cells of high capacitance swept too fast give more
 * current one way and less the other (IEC 60904-1, from memory, not confirmed against the standard), and irradiance that changes
 * does the same. The curve between the two is then neither.
 */
export function checkTwoPasses(points: SweepPoints): ReadingProblem[] {
  const passes = passesOf(points);
  if (!passes) return [];
  const [first, second] = passes.map((pass) => Math.abs(areaUnder(pass))) as [number, number];
  const difference = (2 * Math.abs(first - second)) / (first + second);
  if (!(difference > mostDifference)) return [];
  const message =
    `The table holds the curve up and down again, and the areas under the two passes differ by ${(difference * 100).toFixed(1)} %: ` +
    'the cells were swept too fast for their capacitance, or the irradiance changed. Sweep more slowly, or keep one pass.';
  return [warning('passes-differ', message, { line: points.lines[0]! })];
}

/** Split at the highest or the lowest voltage, where both sides run over the curve in one direction. */
function passesOf({ voltage, current }: SweepPoints): readonly [Pass, Pass] | undefined {
  const whole = extent(voltage);
  for (const turn of [voltage.indexOf(whole.most), voltage.indexOf(whole.least)]) {
    const pass = (from: number, to?: number): Pass => ({
      voltage: voltage.slice(from, to),
      current: current.slice(from, to),
    });
    const [first, second] = [pass(0, turn + 1), pass(turn)];
    if ([first, second].every((each) => isPass(each, whole.most - whole.least))) return [first, second];
  }
  return undefined;
}

function isPass({ voltage }: Pass, wholeRange: number): boolean {
  if (voltage.length < leastPoints) return false;
  const { least, most } = extent(voltage);
  const net = Math.abs(voltage.at(-1)! - voltage[0]!);
  return most - least >= leastCover * wholeRange && net >= leastCover * wholeRange;
}

/** By trapezes, in V A. */
function areaUnder({ voltage, current }: Pass): number {
  let area = 0;
  for (let k = 1; k < voltage.length; k++)
    area += ((current[k]! + current[k - 1]!) / 2) * (voltage[k]! - voltage[k - 1]!);
  return area;
}
