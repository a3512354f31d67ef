import { Workbook } from '../evaluation/workbook.js';
import type { EvaluatedFile } from './evaluateFiles.js';
import { NodeFiles, workspaceFolderOf } from './nodeFiles.js';
import type { FoundCampaigns } from './findCampaigns.js';

/**
 * Evaluates one campaign after the other, so that no more than one is held at a time. Of the files that a folder or a pattern
 * brought in, those that another of them includes are parts of that campaign and are left out.
 */
export async function* eachCampaign(
  { files, found }: FoundCampaigns,
  workingFolder: string,
  root?: string,
): AsyncGenerator<EvaluatedFile> {
  const readerOf = (file: string): NodeFiles =>
    new NodeFiles(root ?? workspaceFolderOf(file, workingFolder), workingFolder);
  const included = new Set<string>();
  for (const file of files) await addIncludes(file, new Workbook(readerOf(file)), included);
  for (const file of files) {
    if (found.has(file) && included.has(file)) continue;
    const reader = readerOf(file);
    const evaluation = await new Workbook(reader).evaluate(file);
    yield { file, evaluation, display: (name) => reader.displayName(name) };
  }
}

/** Every file that `file` includes, through others too. */
async function addIncludes(file: string, workbook: Workbook, included: Set<string>): Promise<void> {
  const seen = new Set([file]);
  const waiting = [file];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    for (const each of await workbook.includesOf(next)) {
      if (seen.has(each)) continue;
      seen.add(each);
      included.add(each);
      waiting.push(each);
    }
  }
}
