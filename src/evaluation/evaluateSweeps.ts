/** The chain from a resolved campaign and its tables to every sweep with its analysis and diagnosis. */
import type { FileProblem } from '../text/problem.js';
import { namesOf } from './campaignNames.js';
import { diagnosing } from './diagnosedSweeps.js';
import { evaluateSweep, evaluateSweepTable, type SweepContext, type SweepsOfBlock } from './evaluateSweep.js';
import type { EvaluatedSweep } from './evaluation.js';
import { withPartners } from './interpolatedSweeps.js';
import { withRepeatability } from './repeatedSweeps.js';

export interface EvaluatedSweeps {
  /** In reading order. */
  readonly sweeps: readonly EvaluatedSweep[];
  readonly problems: readonly FileProblem[];
}

/** @param breathe called between sweeps: it answers at once, or with what is waited for; it throws to give up */
export async function evaluateSweeps(
  context: SweepContext,
  breathe: () => Promise<void> | undefined,
): Promise<EvaluatedSweeps> {
  const { campaign } = context;
  const names = namesOf(campaign);
  const blocks: SweepsOfBlock[] = [];
  for (const { record, block } of campaign.entries) {
    if (record.kind === 'sweep') blocks.push(evaluateSweep({ record, block }, context, names));
    else if (record.kind === 'sweeps') blocks.push(evaluateSweepTable({ record, block }, context));
    else continue;
    const pause = breathe();
    if (pause) await pause;
  }
  const repeated = withRepeatability(withPartners(blocks, campaign), campaign);
  const undiagnosed = repeated.flatMap((block) => block.sweeps);
  const diagnosed = diagnosing(undiagnosed, campaign);
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
}
