import path from 'node:path';
import type { Evaluation } from '../evaluation/evaluation.js';
import type { FileReader } from '../evaluation/ports.js';
import { Workbook, type WorkbookOptions } from '../evaluation/workbook.js';
import { analysts } from './analysts.js';
import type { FoundCampaigns } from './findCampaigns.js';
import type { Io } from './io.js';
import { NodeFiles, workspaceFolderOf } from './nodeFiles.js';
import { showingSweeps } from './progress.js';

export interface EvaluatedFile {
  readonly file: string;
  readonly evaluation: Evaluation;
  readonly display: (file: string) => string;
  /** What the campaign was read through. */
  readonly files: FileReader;
}

/** A campaign, and where it is read from and named. */
export interface CampaignPlace {
  readonly file: string;
  /** That its paths may not leave. */
  readonly root: string;
  readonly workingFolder: string;
}

/**
 * The campaigns to evaluate. Of the files that a folder or a pattern brought in, those that another of them includes are parts of
 * that campaign and are left out.
 *
 * @param root as it was given, relative to the working folder: the folder that paths may not leave
 */
export async function campaignPlaces(
  { files, found }: FoundCampaigns,
  workingFolder: string,
  root?: string,
): Promise<CampaignPlace[]> {
  const places = files.map((file) => ({
    file,
    root: root === undefined ? workspaceFolderOf(file, workingFolder) : path.resolve(workingFolder, root),
    workingFolder,
  }));
  if (found.size === 0) return places;
  const roots = new Map(places.map((place) => [place.file, place.root]));
  const parts = await partsAmong(files, (file) => new NodeFiles(roots.get(file)!, workingFolder));
  return places.filter(({ file }) => !(found.has(file) && parts.has(file)));
}

/** Evaluates one campaign after the other, so that no more than one is held at a time. */
export async function* eachCampaign(
  found: FoundCampaigns,
  io: Io,
  root?: string,
): AsyncGenerator<EvaluatedFile> {
  const { workingFolder } = io;
  for (const place of await campaignPlaces(found, workingFolder, root))
    yield showingSweeps(io, (progress) =>
      evaluatePlace(place, new NodeFiles(place.root, workingFolder), { analysts, progress }),
    );
}

/**
 * @param files that read what is inside the root of the place
 * @param signal rejects with `EvaluationCancelled` when it is aborted; it is seen between sweeps where `breathe` lets it in
 */
export async function evaluatePlace(
  { file }: CampaignPlace,
  files: FileReader,
  options: WorkbookOptions = {},
  signal?: AbortSignal,
): Promise<EvaluatedFile> {
  const evaluation = await new Workbook(files, options).evaluate(file, signal);
  return { file, evaluation, display: (name) => files.displayName(name), files };
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
