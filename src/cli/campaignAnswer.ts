/** All that `check` needs of a campaign, as plain data: it passes between threads and is kept on disk, the evaluation is not. */
import { z } from 'zod';
import { resultLines } from '../results/resultsText.js';
import { partOf, type CheckForm } from './checkForms.js';
import { evaluatePlace, type CampaignPlace } from './eachCampaign.js';
import { tallyOf } from './exitStatus.js';
import { NodeFiles } from './nodeFiles.js';
import { RecordedFiles } from './recordedFiles.js';
import type { WorkbookOptions } from '../evaluation/workbook.js';

const position = z.object({ line: z.number(), character: z.number() });
const shownPlace = z.object({
  message: z.string(),
  file: z.string(),
  range: z.object({ start: position, end: position }),
});
const shownProblem = shownPlace.extend({
  id: z.string(),
  severity: z.enum(['error', 'warning', 'information']),
  related: z.array(shownPlace),
});
const junitSuite = z.object({
  name: z.string(),
  tests: z.array(
    z.object({
      name: z.string(),
      outcome: z.enum(['failure', 'error', 'skipped']).optional(),
      message: z.string().optional(),
      kind: z.string().optional(),
      details: z.string().optional(),
      output: z.string().optional(),
    }),
  ),
});

export const campaignAnswer = z.object({
  part: z.union([z.string(), z.array(shownProblem), junitSuite]),
  tally: z.object({ open: z.number(), judged: z.number(), errors: z.number() }),
  /** As they are committed. */
  results: z.array(z.array(z.string())),
  /** Everything that was read. */
  read: z.array(z.object({ file: z.string(), limitBytes: z.number(), answer: z.string() })),
});

export type CampaignAnswer = z.infer<typeof campaignAnswer>;

export interface CampaignJob {
  readonly place: CampaignPlace;
  readonly form: CheckForm;
}

export async function answerJob(
  { place, form }: CampaignJob,
  options: WorkbookOptions = {},
  signal?: AbortSignal,
): Promise<CampaignAnswer> {
  const files = new RecordedFiles(new NodeFiles(place.root, place.workingFolder));
  const campaign = await evaluatePlace(place, files, options, signal);
  return {
    part: (await partOf(campaign, form)) as CampaignAnswer['part'],
    tally: tallyOf(campaign.evaluation),
    results: resultLines(campaign.evaluation).map((fields) => [...fields]),
    read: files.answers,
  };
}
