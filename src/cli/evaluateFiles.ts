import { version } from '../../package.json';
import { eachCampaign, type EvaluatedFile } from './eachCampaign.js';
import { findCampaigns, type FoundCampaigns } from './findCampaigns.js';

export interface EvaluatedFiles {
  readonly evaluated: readonly EvaluatedFile[];
  readonly missing: FoundCampaigns['missing'];
}

/** Evaluates what the arguments name, without the files that are parts of others of them. */
export async function evaluateFiles(
  args: readonly string[],
  workingFolder: string,
  root?: string,
): Promise<EvaluatedFiles> {
  const found = await findCampaigns(args, workingFolder);
  const evaluated: EvaluatedFile[] = [];
  for await (const each of eachCampaign(found, workingFolder, root)) evaluated.push(each);
  return { evaluated, missing: found.missing };
}

/** The one campaign that an argument names, else why it does not name one. */
export async function evaluateOne(
  argument: string,
  workingFolder: string,
  root?: string,
): Promise<EvaluatedFile | string> {
  let only: EvaluatedFile | undefined;
  for await (const each of eachCampaign(
    await findCampaigns([argument], workingFolder),
    workingFolder,
    root,
  )) {
    if (only) return 'holds several campaigns; name one file';
    only = each;
  }
  return only ?? 'no such campaign file';
}

/** The version of the program, from its package file at the time it was built. */
export const programVersion = version;
