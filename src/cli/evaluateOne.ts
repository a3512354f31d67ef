import { analysts } from './analysts.js';
import { campaignPlaces, evaluatePlace, type EvaluatedFile } from './eachCampaign.js';
import { findCampaigns } from './findCampaigns.js';
import type { Io } from './io.js';
import { NodeFiles } from './nodeFiles.js';
import { showingSweeps } from './progress.js';

/** The one campaign that an argument names, else why it does not name one. */
export async function evaluateOne(argument: string, io: Io, root?: string): Promise<EvaluatedFile | string> {
  const { workingFolder } = io;
  const found = await findCampaigns([argument], workingFolder);
  const [only, ...others] = await campaignPlaces(found, workingFolder, root);
  if (!only) return 'no such campaign file';
  if (others.length > 0) return 'holds several campaigns; name one file';
  return showingSweeps(io, (progress) =>
    evaluatePlace(only, new NodeFiles(only.root, workingFolder), { analysts, progress }),
  );
}
