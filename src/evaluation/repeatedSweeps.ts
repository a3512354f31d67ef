/** Sweeps of the same device are looked at together: their scatter enters the uncertainty of each. */
import { stringOf } from '../campaign/names.js';
import { repeatabilityOf } from '../analysis/repeatability.js';
import type { Repeatability, SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { Campaign } from '../campaign/model.js';
import { isDoneBefore, type Timed } from '../campaign/moment.js';
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
    for (const [sweep, analysis] of repeatedAmong(group)?.analyses ?? [])
      changed.set(sweep, { ...sweep, analysis });
  }
  return withChanged(blocks, changed);
}

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
export function sweepsByDevice<S extends Timed & { readonly address: string }>(
  sweeps: readonly S[],
  campaign: Campaign,
): S[][] {
  const groups = new Map<string, S[]>();
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
