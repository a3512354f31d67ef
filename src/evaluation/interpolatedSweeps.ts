/** Procedure 3 needs a second curve: each sweep judged by it is looked at together with its best partner. */
import { bestPartner, type Partner } from '../analysis/interpolatedSweep.js';
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import { interpolatedAnalysis } from './analyses.js';
import type { EvaluatedSweep } from './evaluation.js';

type SweepOfDevice = Pick<EvaluatedSweep, 'address' | 'time' | 'reading' | 'target' | 'analysis'>;

/** Those of the sweeps of one device that are interpolated, each with its analysis and with the sweep that is its partner. */
export function interpolatedAmong<S extends SweepOfDevice>(
  device: readonly S[],
): Map<S, { readonly partner: S; readonly analysis: SweepAnalysis }> {
  const found = new Map<S, { partner: S; analysis: SweepAnalysis }>();
  for (const sweep of device.filter(isInterpolated)) {
    const others = new Map(
      device.filter((other) => other !== sweep).map((other) => [partnerOf(other), other]),
    );
    const best = bestPartner(sweep.analysis.conditions.irradiance, [...others.keys()]);
    if (best) found.set(sweep, { partner: others.get(best)!, analysis: interpolatedAnalysis(sweep, best) });
  }
  return found;
}

const isInterpolated = ({ target }: Pick<EvaluatedSweep, 'target'>): boolean =>
  target.criteria?.procedure === 'IEC60891-3';

export function partnerOf({ address, time, reading, target, analysis }: SweepOfDevice): Partner {
  const when = time === undefined ? '' : ` at ${time.slice(0, 16).replace('T', ' ')}`;
  return { title: `${address}${when}`, reading, target, analysis, isVoid: analysis.verdict === 'void' };
}
