/** Procedure 3 needs a second curve: each sweep judged by it is looked at together with its best partner. */
import { bestPartner, type Partner } from '../analysis/interpolatedSweep.js';
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { Campaign } from '../campaign/model.js';
import { interpolatedAnalysis } from './analyses.js';
import type { SweepsOfBlock } from './evaluateSweep.js';
import type { EvaluatedSweep } from './evaluation.js';
import { sweepsByDevice, withChanged } from './repeatedSweeps.js';

/** The same blocks with every sweep analysed anew that procedure 3 finds a partner for. */
export function withPartners(blocks: readonly SweepsOfBlock[], campaign: Campaign): readonly SweepsOfBlock[] {
  const all = blocks.flatMap(({ sweeps }) => sweeps);
  if (!all.some(isInterpolated)) return blocks;
  const changed = new Map<EvaluatedSweep, EvaluatedSweep>();
  for (const group of sweepsByDevice(all, campaign))
    for (const [sweep, { analysis }] of interpolatedAmong(group)) changed.set(sweep, { ...sweep, analysis });
  return withChanged(blocks, changed);
}

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
