/** The two states of campaigns that `diff` compares: files, folders, or revisions of a git repository. */
import { lstatSync, realpathSync, statSync } from 'node:fs';
import path from 'node:path';
import { filesOf } from '../campaign/campaignFile.js';
import type { CampaignEntry } from '../campaign/model.js';
import type { FileContent, FileReader } from '../evaluation/ports.js';
import { Workbook } from '../evaluation/workbook.js';
import { textOfSecondSide } from '../syntax/conflicts.js';
import { campaignsHolding, partsAmong } from './eachCampaign.js';
import { findCampaigns, isCampaign } from './findCampaigns.js';
import { commitOf, filesOfWorkTree, GitFailure, gitLine, workTreeOf } from './git.js';
import { GitFiles } from './gitFiles.js';
import { isInside, NodeFiles, workspaceFolderOf } from './nodeFiles.js';

export interface State {
  /** As the user calls it: a path, a revision, `working tree`. */
  readonly title: string;
  /** Root files of campaigns; those that another one includes are left out. */
  readonly campaigns: readonly string[];
  /** Names of files are told relative to it; undefined for a single campaign, which has no other of its name. */
  readonly folder: string | undefined;
  readonly readerOf: (file: string) => FileReader;
  readonly close: () => void;
}

export interface StateOptions {
  readonly workingFolder: string;
  /** Folder that the paths in a campaign may not leave. */
  readonly root?: string | undefined;
}

/** Why there is nothing to compare; the message is for the user. */
export class NoState extends Error {}

export async function stateOfPath(argument: string, options: StateOptions): Promise<State> {
  const { workingFolder } = options;
  const place = path.resolve(workingFolder, argument);
  const { files, found, missing } = await findCampaigns([argument], workingFolder);
  if (missing.length > 0) throw new NoState(`${argument}: no campaign file there (looked for *.sweepbook)`);
  const isFolder = statSync(place, { throwIfNoEntry: false })?.isDirectory() === true;
  if (found.size === 0) {
    const part = await stateOfPart(argument, place, options);
    if (part) return part;
  }
  return diskState(argument, files, isFolder ? place : undefined, found.size > 0, options);
}

const haveResults: ReadonlySet<string> = new Set<CampaignEntry['kind']>([
  'sweep',
  'sweeps',
  'insulation',
  'continuity',
  'polarity',
  'meter',
]);

/**
 * A file without sweeps is compared through the campaigns of its folder or repository that include it: alone it has no results that
 * could change. Undefined for a campaign.
 */
async function stateOfPart(
  argument: string,
  place: string,
  options: StateOptions,
): Promise<State | undefined> {
  const folder = workspaceFolderOf(place, path.dirname(place));
  const { files } = await findCampaigns([folder], options.workingFolder);
  const state = await diskState(argument, files, folder, false, options);
  const { campaign, entries } = await new Workbook(state.readerOf(place)).campaignOf(place);
  if (entries.some(({ record }) => haveResults.has(record.kind))) return undefined;
  const campaigns = await campaignsHolding(place, files, state.readerOf);
  if (campaigns.some((file) => file !== place)) return { ...state, campaigns, folder: path.dirname(place) };
  if (campaign) return undefined;
  throw new NoState(
    `${argument}: it holds no sweeps, and no campaign in ${folder} includes it; name a campaign that does`,
  );
}

async function diskState(
  title: string,
  files: readonly string[],
  folder: string | undefined,
  found: boolean,
  { workingFolder, root }: StateOptions,
): Promise<State> {
  const readerOf = (file: string): NodeFiles => {
    const own = workspaceFolderOf(file, workingFolder);
    // What lies beside each other in the folder that was named may include each other.
    return new NodeFiles(root ?? (folder && isInside(folder, own) ? folder : own), workingFolder);
  };
  const campaigns = found ? await rootsOf(files, readerOf) : files;
  return { title, campaigns, folder, readerOf, close: () => undefined };
}

async function rootsOf(
  files: readonly string[],
  readerOf: (file: string) => FileReader,
): Promise<readonly string[]> {
  const parts = await partsAmong(files, readerOf);
  return files.filter((file) => !parts.has(file));
}

/** The two sides of the merge conflicts in a file and in what it includes. */
export async function statesOfConflict(argument: string, options: StateOptions): Promise<[State, State]> {
  const first = await stateOfPath(argument, options);
  for (const file of first.campaigns) {
    const sources = await new Workbook(first.readerOf(file)).sourcesOf(file);
    const files = sources ? filesOf(sources.root) : [];
    if (!files.some(({ document }) => document.conflicts.conflicts.length > 0)) continue;
    const second = { ...first, readerOf: (each: string) => new SecondSide(first.readerOf(each)) };
    return [
      { ...first, title: `${argument}, first side` },
      { ...second, title: `${argument}, second side` },
    ];
  }
  throw new NoState(
    `${argument}: there is no merge conflict in it whose sides could be compared; name a second file, or give --rev`,
  );
}

/** The same files as the second side of each merge conflict has them. */
class SecondSide implements FileReader {
  constructor(readonly files: FileReader) {}

  async read(file: string, limitBytes: number): Promise<FileContent> {
    const content = await this.files.read(file, limitBytes);
    if (!content.ok || !file.endsWith('.sweepbook')) return content;
    const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(content.bytes);
    return { ok: true, bytes: new TextEncoder().encode(textOfSecondSide(text)) };
  }

  resolve(from: string, relative: string): string | undefined {
    return this.files.resolve(from, relative);
  }

  displayName(file: string): string {
    return this.files.displayName(file);
  }
}

/**
 * The states that `--rev` means: `A..B`, `A...B` (from where the two parted), `A` against the working tree. `argument` is a file or
 * a folder of the working tree, there or not any more.
 */
export async function statesOfRevisions(
  revisions: string,
  argument: string | undefined,
  options: StateOptions,
): Promise<[State, State]> {
  const workingFolder = realpathSync(options.workingFolder);
  const place = realPath(path.resolve(workingFolder, argument ?? '.'));
  const top = await workTreeOf(existingFolder(place));
  const own = { ...options, workingFolder };
  const [, from = revisions, dots, to = ''] = /^(.*?)(\.{2,3})(.*)$/.exec(revisions) ?? [];
  const first = await commitOf(top, from === '' ? 'HEAD' : from);
  if (dots === undefined) {
    const before = await commitState(from, first, top, place, own);
    return [before, await workTreeState(place, top, own)];
  }
  const second = await commitOf(top, to === '' ? 'HEAD' : to);
  const start = dots === '...' ? await mergeBase(top, first, second) : first;
  return [
    await commitState(dots === '...' ? start.slice(0, 10) : from || 'HEAD', start, top, place, own),
    await commitState(to || 'HEAD', second, top, place, own),
  ];
}

async function mergeBase(top: string, first: string, second: string): Promise<string> {
  try {
    return await gitLine(top, 'merge-base', first, second);
  } catch (error) {
    if (error instanceof GitFailure) throw new GitFailure('the two revisions have no common ancestor');
    throw error;
  }
}

async function commitState(
  title: string,
  commit: string,
  top: string,
  place: string,
  { workingFolder }: StateOptions,
): Promise<State> {
  const reader = await GitFiles.ofCommit(top, commit, workingFolder);
  // A file that a campaign includes stands for that campaign.
  const campaigns = isCampaign(place)
    ? await campaignsHolding(place, reader.campaignsBelow(top), () => reader)
    : await rootsOf(reader.campaignsBelow(place), () => reader);
  return { title, campaigns, folder: top, readerOf: () => reader, close: () => reader.close() };
}

/** A draft that git does not know yet is a campaign too; what it ignores, and the repositories in this one, are not of any revision. */
async function workTreeState(place: string, top: string, options: StateOptions): Promise<State> {
  const all = [...(await filesOfWorkTree(top))]
    .map((name) => path.join(top, name))
    .filter((file) => isCampaign(file) && lstatSync(file, { throwIfNoEntry: false })?.isFile())
    .sort();
  if (!isCampaign(place)) {
    const files = all.filter((file) => isInside(place, file));
    return diskState('working tree', files, top, true, options);
  }
  const state = await diskState('working tree', all, top, false, options);
  return { ...state, campaigns: await campaignsHolding(place, all, state.readerOf) };
}

/** The nearest folder above, or the place itself, that is there: what was deleted is still in the revisions. */
function existingFolder(place: string): string {
  for (let folder = place; ; folder = path.dirname(folder))
    if (statSync(folder, { throwIfNoEntry: false })?.isDirectory()) return folder;
}

function realPath(place: string): string {
  const folder = existingFolder(place);
  return path.join(realpathSync(folder), path.relative(folder, place));
}
