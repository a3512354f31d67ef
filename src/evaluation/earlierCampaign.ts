/** The campaign that another one names as its earlier one: found, read, and kept computed. */
import type { CampaignFile } from '../campaign/campaignFile.js';
import { decodeBlock } from '../campaign/decodeBlock.js';
import type { Campaign, CampaignRecord, Placed, Words } from '../campaign/model.js';
import { shiftRange } from '../text/place.js';
import type { FileProblem } from '../text/problem.js';
import type { FileStore } from './fileStore.js';
import { failureText, loadFiles } from './loadFiles.js';
import type { FileReader } from './ports.js';

export interface EarlierFile {
  /** Root of the earlier campaign as it was loaded; absent where there is none or it cannot be had. */
  readonly file?: string;
  /** Asked for, readable or not: a host watches them. */
  readonly watched: readonly string[];
  readonly problems: readonly FileProblem[];
}

/** Longer rows of earlier campaigns are not followed to their end. */
const longestRow = 32;

/** Finds the file that `compare` names. What is wrong with it is one problem at that line. */
export async function findEarlier(
  { campaign }: Campaign,
  files: readonly string[],
  store: FileStore,
  reader: FileReader,
): Promise<EarlierFile> {
  const named = campaign?.record.compareWith;
  if (!campaign || !named) return { watched: [], problems: [] };
  const wrong = (id: string, message: string, watched: readonly string[] = []): EarlierFile => ({
    watched,
    problems: [problemAt(campaign, named, id, message)],
  });
  const { file: from } = campaign.block;
  const file = reader.resolve(from, named.text);
  if (file === undefined)
    return wrong(
      'compare/outside',
      `"${named.text}" leads out of the workspace folder; the earlier campaign stays inside it.`,
    );
  if (files.includes(file))
    return wrong('compare/itself', `"${named.text}" is a file of this campaign; the earlier one is another.`);
  const loaded = await store.document(file);
  if (loaded.failure)
    return wrong(
      'compare/unreadable',
      `"${named.text}" ${failureText(loaded.failure, reader.displayName(from))}.`,
      [file],
    );
  const circle = await leadsBack(file, files[0]!, store, reader);
  return circle
    ? wrong(
        'compare/cycle',
        `"${named.text}" is compared with this campaign, directly or through others: one of the two is the earlier.`,
        [file],
      )
    : { file, watched: [file], problems: [] };
}

function problemAt(
  { block }: Placed<CampaignRecord>,
  { range }: Words,
  id: string,
  message: string,
): FileProblem {
  const at = shiftRange(range, block.startLine);
  return { id, severity: 'error', file: block.file, range: at, message };
}

/** Does the row of earlier campaigns that begins at `file` come to `root`, or to one of its own again? */
async function leadsBack(file: string, root: string, store: FileStore, reader: FileReader): Promise<boolean> {
  const seen = new Set([root]);
  let at: string | undefined = file;
  for (let step = 0; at !== undefined && step < longestRow; step++) {
    if (seen.has(at)) return true;
    seen.add(at);
    const { root: loaded } = await loadFiles(at, store, reader);
    const compared: { readonly from: string; readonly path: string } | undefined =
      loaded && comparedIn(loaded);
    at = compared && reader.resolve(compared.from, compared.path);
  }
  return false;
}

/** What the `campaign` block of a file or of its includes is compared with. */
function comparedIn(file: CampaignFile): { from: string; path: string } | undefined {
  for (const { block } of file.document.blocks) {
    const { entry } = decodeBlock(block);
    if (entry?.kind !== 'campaign') continue;
    return entry.compareWith && { from: file.file, path: entry.compareWith.text };
  }
  for (const included of file.includes) {
    const found = typeof included === 'string' ? undefined : comparedIn(included);
    if (found) return found;
  }
  return undefined;
}

/** One problem for all that is wrong in the earlier campaign: it is mended there. */
export function errorsProblem(
  campaign: Campaign,
  shown: string,
  problems: readonly FileProblem[],
): FileProblem[] {
  const errors = problems.filter(({ severity }) => severity === 'error');
  const placed = campaign.campaign;
  if (errors.length === 0 || !placed?.record.compareWith) return [];
  const what = errors.length === 1 ? 'an error' : `${errors.length} errors`;
  const message = `The earlier campaign ${shown} has ${what}; what could be computed of it is compared.`;
  const problem = problemAt(placed, placed.record.compareWith, 'compare/errors', message);
  return [{ ...problem, severity: 'warning' }];
}
