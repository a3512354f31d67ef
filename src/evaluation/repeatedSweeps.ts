/** Sweeps of the same device are looked at together: their scatter enters the uncertainty of each. */
import { stringOf } from '../campaign/names.js';
import { repeatabilityOf } from '../analysis/repeatability.js';
import type { Campaign } from '../campaign/model.js';
import { isDoneBefore } from '../campaign/moment.js';
import { repeatedAnalysis } from './analyses.js';
import type { SweepsOfBlock } from './evaluateSweep.js';
import type { EvaluatedSweep } from './evaluation.js';
import { replacementsByString } from './replacements.js';

/**
 * The same blocks with the sweeps of repeated measurements analysed anew. Two sweeps repeat each other when they have the same
 * address and no module of the string was replaced between them.
 */
export function withRepeatability(
  blocks: readonly SweepsOfBlock[],
  campaign: Campaign,
): readonly SweepsOfBlock[] {
  const groups = sweepsByDevice(
    blocks.flatMap(({ sweeps }) => sweeps),
    campaign,
  );
  const changed = new Map<EvaluatedSweep, EvaluatedSweep>();
  for (const group of groups) {
    const repeatability =
      group.length > 1 ? repeatabilityOf(group.map(({ analysis }) => analysis)) : undefined;
    if (!repeatability) continue;
    for (const sweep of group.filter(({ analysis }) => analysis.translated?.procedure !== 'IEC60891-3'))
      changed.set(sweep, { ...sweep, analysis: repeatedAnalysis(sweep, repeatability) });
  }
  return withChanged(blocks, changed);
}

export function withChanged(
  blocks: readonly SweepsOfBlock[],
  changed: ReadonlyMap<EvaluatedSweep, EvaluatedSweep>,
): readonly SweepsOfBlock[] {
  if (changed.size === 0) return blocks;
  return blocks.map((block) => ({
    ...block,
    sweeps: block.sweeps.map((sweep) => changed.get(sweep) ?? sweep),
  }));
}

/** Sweeps of the same address with no module of the string replaced between them, in reading order. */
export function sweepsByDevice(sweeps: readonly EvaluatedSweep[], campaign: Campaign): EvaluatedSweep[][] {
  const groups = new Map<string, EvaluatedSweep[]>();
  const replacements = replacementsByString(campaign);
  for (const sweep of sweeps) {
    const before = (replacements.get(stringOf(sweep.address)) ?? []).filter(({ time }) =>
      isDoneBefore(time, sweep),
    );
    const key = before.length === 0 ? sweep.address : `${sweep.address}\n${before.length}`;
    const group = groups.get(key);
    if (group) group.push(sweep);
    else groups.set(key, [sweep]);
  }
  return [...groups.values()];
}
