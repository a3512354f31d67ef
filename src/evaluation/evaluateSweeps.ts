/** The chain from a resolved campaign and its tables to every sweep with its analysis and diagnosis. */
import { peerLevels } from '../diagnosis/peerLevels.js';
import type { FileProblem } from '../text/problem.js';
import { SweepsAhead } from './ahead.js';
import type { Analysts } from './analysts.js';
import { namesOf } from './campaignNames.js';
import type { ComingSweep } from './comingSweep.js';
import { diagnosing } from './diagnosedSweeps.js';
import {
  comingSweep,
  comingSweepsOfTable,
  evaluateSweep,
  evaluateSweepTable,
  rememberedSweep,
  type SweepContext,
  type SweepsOfBlock,
} from './evaluateSweep.js';
import type { EvaluatedSweep } from './evaluation.js';
import { withPartners } from './interpolatedSweeps.js';
import { withRepeatability } from './repeatedSweeps.js';

export interface EvaluatedSweeps {
  /** In reading order. */
  readonly sweeps: readonly EvaluatedSweep[];
  readonly problems: readonly FileProblem[];
}

/**
 * @param breathe called between sweeps: it answers at once, or with what is waited for; it throws to give up
 * @param analysts asked where much is to be computed
 */
export async function evaluateSweeps(
  context: SweepContext,
  breathe: () => Promise<void> | undefined,
  analysts?: Analysts,
): Promise<EvaluatedSweeps> {
  const { campaign } = context;
  const names = namesOf(campaign);
  const blocks: SweepsOfBlock[] = [];
  const missing: MissingBlock[] = [];
  const miss = (block: Omit<MissingBlock, 'at'>): number =>
    missing.push({ ...block, at: blocks.push(nothing) - 1 });
  for (const { record, block } of campaign.entries) {
    if (record.kind === 'sweep') {
      const placed = { record, block };
      const known = rememberedSweep(placed, context, names);
      if (known) blocks.push(known);
      else
        miss({
          coming: () => comingSweep(placed, context),
          evaluate: () => evaluateSweep(placed, context, names),
        });
    } else if (record.kind === 'sweeps') {
      const placed = { record, block };
      miss({
        coming: () => comingSweepsOfTable(placed, context),
        evaluate: () => evaluateSweepTable(placed, context),
      });
    } else continue;
    const pause = breathe();
    if (pause) await pause;
  }
  const coming = analysts?.canWork ? await comingOf(missing, breathe) : [];
  const work = analysts && coming.length >= analysts.leastSweeps ? analysts.begin() : undefined;
  try {
    const ahead = work && new SweepsAhead(work);
    await ahead?.analyse(coming, campaign, breathe);
    for (const { at, evaluate } of missing) {
      blocks[at] = evaluate();
      const pause = breathe();
      if (pause) await pause;
    }
    const repeated = withRepeatability(withPartners(blocks, campaign), campaign);
    const undiagnosed = repeated.flatMap((block) => block.sweeps);
    const levels = peerLevels(undiagnosed);
    const otherTypes = [...campaign.modules.values()].map(({ record }) => record);
    await ahead?.diagnose(undiagnosed, levels, otherTypes, breathe);
    const diagnosed = diagnosing(levels, otherTypes);
    const sweeps: EvaluatedSweep[] = [];
    for (const sweep of undiagnosed) {
      sweeps.push(diagnosed(sweep));
      const pause = breathe();
      if (pause) await pause;
    }
    const problems = repeated.flatMap((block) => [
      ...block.problems,
      ...block.sweeps.flatMap((sweep) => sweep.problems),
    ]);
    return { sweeps, problems };
  } finally {
    work?.close();
  }
}

/** A block that is not remembered as a whole. */
interface MissingBlock {
  /** Its place among the blocks. */
  readonly at: number;
  readonly coming: () => readonly ComingSweep[];
  readonly evaluate: () => SweepsOfBlock;
}

const nothing: SweepsOfBlock = { sweeps: [], problems: [] };

async function comingOf(
  missing: readonly MissingBlock[],
  breathe: () => Promise<void> | undefined,
): Promise<ComingSweep[]> {
  const coming: ComingSweep[] = [];
  for (const block of missing) {
    for (const sweep of block.coming()) coming.push(sweep);
    const pause = breathe();
    if (pause) await pause;
  }
  return coming;
}
