/** Procedure 3 needs a second curve: each sweep judged by it is looked at together with its best partner. */
import { bestPartner, type Partner } from '../analysis/interpolatedSweep.js';
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
  for (const group of sweepsByDevice(all, campaign)) {
    for (const sweep of group.filter(isInterpolated)) {
      const others = group.filter((other) => other !== sweep).map(partnerOf);
      const partner = bestPartner(sweep.analysis.conditions.irradiance, others);
      if (partner) changed.set(sweep, { ...sweep, analysis: interpolatedAnalysis(sweep, partner) });
    }
  }
  return withChanged(blocks, changed);
}

const isInterpolated = ({ target }: EvaluatedSweep): boolean => target.criteria?.procedure === 'IEC60891-3';

function partnerOf({ address, time, reading, target, analysis }: EvaluatedSweep): Partner {
  const when = time === undefined ? '' : ` at ${time.slice(0, 16).replace('T', ' ')}`;
  return { title: `${address}${when}`, reading, target, analysis, isVoid: analysis.verdict === 'void' };
}
