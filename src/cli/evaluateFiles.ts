import { version } from '../../package.json';
import type { Evaluation } from '../evaluation/evaluation.js';
import { Workbook } from '../evaluation/workbook.js';
import { findCampaigns, type FoundCampaigns } from './findCampaigns.js';
import { NodeFiles, workspaceFolderOf } from './nodeFiles.js';

export interface EvaluatedFile {
  readonly file: string;
  readonly evaluation: Evaluation;
  readonly display: (file: string) => string;
}

export interface EvaluatedFiles {
  readonly evaluated: readonly EvaluatedFile[];
  readonly missing: FoundCampaigns['missing'];
}

/**
 * Evaluates what the arguments name. Of the files that a folder or a pattern brought in, those that another of them
 * includes are parts of that campaign and are not evaluated on their own.
 */
export async function evaluateFiles(
  args: readonly string[],
  workingFolder: string,
  root?: string,
): Promise<EvaluatedFiles> {
  const { files, found, missing } = await findCampaigns(args, workingFolder);
  const results: EvaluatedFile[] = [];
  for (const file of files) {
    const reader = new NodeFiles(root ?? workspaceFolderOf(file, workingFolder), workingFolder);
    const evaluation = await new Workbook(reader).evaluate(file);
    results.push({ file, evaluation, display: (name) => reader.displayName(name) });
  }
  const included = new Set(results.flatMap(({ evaluation }) => evaluation.files.slice(1)));
  return { evaluated: results.filter(({ file }) => !found.has(file) || !included.has(file)), missing };
}

/** The version of the program, from its package file at the time it was built. */
export const programVersion = version;
