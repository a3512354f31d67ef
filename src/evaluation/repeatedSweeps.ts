/** Sweeps of the same device are looked at together: their scatter enters the uncertainty of each. */
import { agreeing, repeatabilityOf } from '../analysis/repeatability.js';
import type { Repeatability, SweepAnalysis } from '../analysis/sweepAnalysis.js';
import { repeatedAnalysis } from './analyses.js';

export interface Repeated {
  /** Among the sweeps that this one agrees with. */
  readonly repeatability: Repeatability;
  readonly analysis: SweepAnalysis;
}

/** Those sweeps of one device whose scatter is told by others that agree with them, analysed with it. */
export function repeatedAmong<S extends { readonly analysis: SweepAnalysis }>(
  device: readonly S[],
): ReadonlyMap<S, Repeated> {
  const found = new Map<S, Repeated>();
  for (const group of agreeing(device)) {
    const repeatability = repeatabilityOf(group.map(({ analysis }) => analysis));
    if (!repeatability) continue;
    for (const sweep of group)
      found.set(sweep, { repeatability, analysis: repeatedAnalysis(sweep, repeatability) });
  }
  return found;
}
