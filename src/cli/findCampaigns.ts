import { statSync } from 'node:fs';
import path from 'node:path';
import { isDynamicPattern } from 'tinyglobby';
import { globFiles } from './globFiles.js';

export interface FoundCampaigns {
  /** Absolute paths, sorted, each once. */
  readonly files: readonly string[];
  /** Those that a folder or pattern brought in: a file that another one includes is not checked on its own. */
  readonly found: ReadonlySet<string>;
  /** Arguments that name nothing, or a file of another kind. */
  readonly missing: readonly string[];
}

/** Files, folders (every `.sweepbook` file below them) and patterns such as `sites/**\/*.sweepbook`. */
export async function findCampaigns(args: readonly string[], workingFolder: string): Promise<FoundCampaigns> {
  const named = new Set<string>();
  const found = new Set<string>();
  const missing: string[] = [];
  for (const argument of args) {
    const absolute = path.resolve(workingFolder, argument);
    const kind = kindOf(absolute);
    if (kind === 'file') {
      // A table of points, named by mistake, would be one error a line.
      if (isCampaign(absolute)) named.add(absolute);
      else missing.push(argument);
      continue;
    }
    const matches =
      kind === 'folder'
        ? await campaignsMatching('**/*.sweepbook', absolute)
        : isDynamicPattern(argument)
          ? await campaignsMatching(argument, workingFolder)
          : [];
    if (matches.length === 0) missing.push(argument);
    for (const match of matches) found.add(match);
  }
  for (const file of named) found.delete(file);
  return { files: [...named, ...found].sort(), found, missing };
}

/** A pattern may match data too: `sites/**` means the campaigns among what it matches. */
const campaignsMatching = async (pattern: string, folder: string): Promise<string[]> =>
  (await globFiles(pattern, folder)).filter(isCampaign);

export const isCampaign = (file: string): boolean => file.endsWith('.sweepbook');

function kindOf(file: string): 'file' | 'folder' | undefined {
  const stat = statSync(file, { throwIfNoEntry: false });
  if (!stat) return undefined;
  return stat.isDirectory() ? 'folder' : 'file';
}
