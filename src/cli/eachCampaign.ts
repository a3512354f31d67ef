import path from 'node:path';
import type { Evaluation } from '../evaluation/evaluation.js';
import type { FileReader } from '../evaluation/ports.js';
import { Workbook } from '../evaluation/workbook.js';
import type { FoundCampaigns } from './findCampaigns.js';
import { NodeFiles, workspaceFolderOf } from './nodeFiles.js';

export interface EvaluatedFile {
  readonly file: string;
  readonly evaluation: Evaluation;
  readonly display: (file: string) => string;
  /** What the campaign was read through. */
  readonly files: FileReader;
}

/**
 * Evaluates one campaign after the other, so that no more than one is held at a time. Of the files that a folder or a pattern
 * brought in, those that another of them includes are parts of that campaign and are left out.
 *
 * @param root as it was given, relative to the working folder: the folder that paths may not leave
 */
export async function* eachCampaign(
  { files, found }: FoundCampaigns,
  workingFolder: string,
  root?: string,
): AsyncGenerator<EvaluatedFile> {
  const readerOf = (file: string): NodeFiles =>
    new NodeFiles(
      root === undefined ? workspaceFolderOf(file, workingFolder) : path.resolve(workingFolder, root),
      workingFolder,
    );
  const parts = found.size === 0 ? found : await partsAmong(files, readerOf);
  for (const file of files) {
    if (found.has(file) && parts.has(file)) continue;
    const reader = readerOf(file);
    const evaluation = await new Workbook(reader).evaluate(file);
    yield { file, evaluation, display: (name) => reader.displayName(name), files: reader };
  }
}

/** Which of the campaigns a file is part of; itself where no other includes it. */
export async function campaignsHolding(
  file: string,
  campaigns: readonly string[],
  readerOf: (file: string) => FileReader,
): Promise<string[]> {
  const parts = await partsAmong(campaigns, readerOf);
  if (!parts.has(file)) return campaigns.includes(file) ? [file] : [];
  const holding: string[] = [];
  for (const root of campaigns)
    if (!parts.has(root) && (await includesOf(root, new Workbook(readerOf(root)))).has(file))
      holding.push(root);
  return holding;
}

/** Those that another one includes; of files that include each other all but the first. */
export async function partsAmong(
  files: readonly string[],
  readerOf: (file: string) => FileReader,
): Promise<ReadonlySet<string>> {
  const included = new Map<string, ReadonlySet<string>>();
  for (const file of files) included.set(file, await includesOf(file, new Workbook(readerOf(file))));
  const parts = new Set<string>();
  files.forEach((file, index) => {
    for (const part of included.get(file)!)
      if (!included.get(part)?.has(file) || files.indexOf(part) > index) parts.add(part);
  });
  return parts;
}

/** Every file that `file` includes, through others too. */
async function includesOf(file: string, workbook: Workbook): Promise<ReadonlySet<string>> {
  const included = new Set<string>();
  const waiting = [file];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    for (const each of await workbook.includesOf(next)) {
      if (each === file || included.has(each)) continue;
      included.add(each);
      waiting.push(each);
    }
  }
  return included;
}
