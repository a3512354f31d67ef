/** Scatter of repeated sweeps: what one sweep of a device differs from the next although nothing was changed. */
import type { ParameterName } from '../campaign/model.js';
import { parameterNames } from '../physics/ivCurve.js';
import type { Repeatability, SweepAnalysis } from './sweepAnalysis.js';

/** Fewer sweeps tell no scatter: own choice; with three, the standard deviation itself is known to about 50 %. */
export const leastRepeats = 3;

/**
 * Relative standard deviation of each translated parameter (JCGM 100:2008, 4.2: type A evaluation), of one sweep, not of
 * their mean. Only judged sweeps count: one in poor light or declared void says nothing about the others. Interpolated
 * ones share their curves and do not scatter freely. Undefined with fewer than three.
 */
export function repeatabilityOf(analyses: readonly SweepAnalysis[]): Repeatability | undefined {
  const counted = analyses.filter(
    ({ verdict, translated }) =>
      translated && translated.procedure !== 'IEC60891-3' && verdict !== 'not judged' && verdict !== 'void',
  );
  if (counted.length < leastRepeats) return undefined;
  const relative: Partial<Record<ParameterName, number>> = {};
  for (const name of parameterNames) {
    const values = counted.flatMap(({ translated }) => translated!.parameters[name] ?? []);
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    if (values.length < leastRepeats || !(mean > 0)) continue;
    const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
    relative[name] = Math.sqrt(squares / (values.length - 1)) / mean;
  }
  return { sweeps: counted.length, relative };
}
