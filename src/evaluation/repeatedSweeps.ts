/** Sweeps of the same device are looked at together: their scatter enters the uncertainty of each. */
import { repeatabilityOf } from '../analysis/repeatability.js';
import type { Repeatability, SweepAnalysis } from '../analysis/sweepAnalysis.js';
import { repeatedAnalysis } from './analyses.js';

/** The analyses of sweeps of one device with their scatter; undefined where too few tell it. */
export function repeatedAmong<S extends { readonly analysis: SweepAnalysis }>(
  device: readonly S[],
): { readonly repeatability: Repeatability; readonly analyses: ReadonlyMap<S, SweepAnalysis> } | undefined {
  const repeatability =
    device.length > 1 ? repeatabilityOf(device.map(({ analysis }) => analysis)) : undefined;
  if (!repeatability) return undefined;
  const counted = device.filter(({ analysis }) => analysis.translated?.procedure !== 'IEC60891-3');
  const analyses = new Map(counted.map((sweep) => [sweep, repeatedAnalysis(sweep, repeatability)]));
  return { repeatability, analyses };
}
