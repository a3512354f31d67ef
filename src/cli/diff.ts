import path from 'node:path';
import { compareCampaigns, defaultThreshold } from '../difference/compareCampaigns.js';
import type { Difference } from '../difference/difference.js';
import { haveSameSources } from '../difference/sameSources.js';
import type { SweepsProgress } from '../evaluation/ports.js';
import { Workbook } from '../evaluation/workbook.js';
import { briefMarkdown, briefText, type Brief } from '../presentation/brief.js';
import { differenceResult } from '../presentation/differenceResult.js';
import type { DifferenceResult } from '../presentation/differenceResultSchema.js';
import { differenceBrief, type DifferenceNames } from '../presentation/differenceTexts.js';
import { countsLine } from '../presentation/verdictWords.js';
import { analysts } from './analysts.js';
import { programVersion } from './programVersion.js';
import { exitStatus } from './exitStatus.js';
import { GitFailure } from './git.js';
import { complain, type Io } from './io.js';
import { painterFor } from './paint.js';
import { showingSweeps } from './progress.js';
import { NoState, stateOfPath, statesOfConflict, statesOfRevisions, type State } from './states.js';

export const diffFormats = ['text', 'json', 'markdown'] as const;

export interface DiffOptions {
  readonly rev?: string;
  readonly format: (typeof diffFormats)[number];
  readonly threshold?: string;
  readonly root?: string;
}

/** What `diff` answers to the shell: nothing moved, something did, or it cannot be told. */
export const diffStatus = { same: 0, changed: 1, notComparable: 2 } as const;

export async function diff(args: readonly string[], options: DiffOptions, io: Io): Promise<number> {
  const threshold = thresholdOf(options.threshold);
  const fault =
    threshold === undefined
      ? `--threshold ${options.threshold!}: write a percentage, such as 0.5%`
      : faultOfUse(args.length, options);
  if (threshold === undefined || fault !== undefined) {
    complain(io, fault!);
    return exitStatus.usage;
  }
  try {
    const states = await statesOf(args, options, io);
    try {
      return await report(states, threshold, options, io);
    } finally {
      for (const state of states) state.close();
    }
  } catch (error) {
    if (!(error instanceof GitFailure || error instanceof NoState)) throw error;
    complain(io, options.rev === undefined ? error.message : `--rev ${options.rev}: ${error.message}`);
    return diffStatus.notComparable;
  }
}

function faultOfUse(count: number, { rev }: DiffOptions): string | undefined {
  if (rev?.trim() === '') return '--rev: name a revision, such as HEAD, or two, such as main..HEAD';
  if (rev === undefined ? count > 0 : count < 2) return undefined;
  return 'diff compares two files, two folders, the sides of the merge conflicts in one, or with --rev revisions of one';
}

/** A fraction; undefined where it is no percentage. */
export function thresholdOf(text: string | undefined): number | undefined {
  if (text === undefined) return defaultThreshold;
  const [, number] = /^(\d+(?:\.\d+)?|\.\d+)\s*%$/.exec(text.trim()) ?? [];
  return number === undefined ? undefined : Number(number) / 100;
}

async function statesOf(
  args: readonly string[],
  { rev, root }: DiffOptions,
  io: Io,
): Promise<[State, State]> {
  const { workingFolder } = io;
  const own = { workingFolder, root: root === undefined ? undefined : path.resolve(workingFolder, root) };
  if (rev !== undefined) return statesOfRevisions(rev, args[0], own);
  if (args.length === 1) return statesOfConflict(args[0]!, own);
  const [before, after] = [await stateOfPath(args[0]!, own), await stateOfPath(args[1]!, own)];
  if ((before.folder === undefined) !== (after.folder === undefined))
    throw new NoState(
      `${args.join(' and ')}: one is a file and the other a folder, or a file that campaigns include`,
    );
  return [before, after];
}

/** One campaign in both states, or in one of them. */
interface Pair {
  readonly before?: string;
  readonly after?: string;
}

interface Compared {
  readonly title: string;
  readonly state: DifferenceResult['campaigns'][number]['state'];
  readonly difference: Difference;
  readonly names: DifferenceNames;
}

async function report(
  [before, after]: readonly [State, State],
  threshold: number,
  { format }: DiffOptions,
  io: Io,
): Promise<number> {
  const pairs = await pairsOf(before, after);
  if (pairs.length === 0) throw new NoState('there is no campaign file in either of the two');
  const found: Compared[] = [];
  for (const pair of pairs) {
    const compared = await showingSweeps(io, (progress) =>
      comparedPair(pair, before, after, { threshold, progress }),
    );
    if (compared) found.push(compared);
  }
  const changed = found.filter(({ state }) => state !== 'unchanged').length;
  if (format === 'json') io.out(`${JSON.stringify(resultOf(found, before, after, threshold), null, 2)}\n`);
  else {
    const paint = painterFor(io.isTerminal, io.environment);
    const write = format === 'markdown' ? briefMarkdown : (brief: Brief) => briefText(brief, paint);
    const briefs = found.map(briefOf);
    io.out(briefs.map(write).join('\n'));
    if (briefs.length === 0) io.out('No change of results.\n');
    if (pairs.length > 1)
      io.out(
        `\n${pairs.length} campaigns: ${changed} with other results, ${pairs.length - changed} without.\n`,
      );
  }
  return changed > 0 ? diffStatus.changed : diffStatus.same;
}

function resultOf(
  found: readonly Compared[],
  before: State,
  after: State,
  threshold: number,
): DifferenceResult {
  return {
    program: { name: 'sweepbook', version: programVersion },
    schemaVersion: 1,
    before: before.title,
    after: after.title,
    threshold,
    campaigns: found.map(({ difference, title, state, names }) =>
      differenceResult(difference, title, state, names),
    ),
  };
}

function briefOf({ title, state, difference, names }: Compared): Brief {
  if (state !== 'added' && state !== 'removed') return differenceBrief(difference, title, names);
  const { counts } = state === 'added' ? difference.after : difference.before;
  return { title, summary: [`Campaign ${state}. ${countsLine(counts)}.`], sections: [] };
}

/** By the name of the file; campaigns whose file moved, by the name that their text gives them. */
async function pairsOf(before: State, after: State): Promise<Pair[]> {
  const nameIn = ({ folder }: State, file: string): string =>
    folder === undefined ? '' : path.relative(folder, file);
  const later = new Map(after.campaigns.map((file) => [nameIn(after, file), file]));
  const pairs: Pair[] = [];
  const gone: string[] = [];
  for (const file of before.campaigns) {
    const name = nameIn(before, file);
    const now = later.get(name);
    if (now === undefined) gone.push(file);
    else pairs.push({ before: file, after: now });
    later.delete(name);
  }
  const came = [...later.values()];
  const named = gone.length > 0 && came.length > 0 ? await namesOf(after, came) : new Map<string, string>();
  for (const [name, file] of gone.length > 0 && came.length > 0 ? await namesOf(before, gone) : []) {
    const now = named.get(name);
    if (now === undefined) continue;
    pairs.push({ before: file, after: now });
    gone.splice(gone.indexOf(file), 1);
    came.splice(came.indexOf(now), 1);
  }
  return [...pairs, ...gone.map((file) => ({ before: file })), ...came.map((file) => ({ after: file }))];
}

/** Files by the name that the campaign in them has; the first of a name. */
async function namesOf(state: State, files: readonly string[]): Promise<Map<string, string>> {
  const names = new Map<string, string>();
  for (const file of files) {
    const { campaign } = await new Workbook(state.readerOf(file)).campaignOf(file);
    const name = campaign?.record.name.text;
    if (name !== undefined && !names.has(name)) names.set(name, file);
  }
  return names;
}

/** Undefined where every file that the results rest on is the same. */
async function comparedPair(
  pair: Pair,
  before: State,
  after: State,
  { threshold, progress }: { readonly threshold: number; readonly progress: SweepsProgress | undefined },
): Promise<Compared | undefined> {
  const [old, now] = [sideOf(before, pair.before, pair, progress), sideOf(after, pair.after, pair, progress)];
  if (pair.before !== undefined && pair.after !== undefined) {
    const sources = [await old.workbook.sourcesOf(old.file), await now.workbook.sourcesOf(now.file)];
    const [a, b] = sources;
    if (haveSameSources({ sources: a, nameOf: old.nameOf }, { sources: b, nameOf: now.nameOf }))
      return undefined;
    const unread = a ? (b ? undefined : now) : old;
    if (unread) throw new NoState(`${unread.display(unread.file)}: it cannot be read as a campaign`);
  }
  const difference = await compareCampaigns(
    { evaluation: await old.workbook.evaluate(old.file), nameOf: old.nameOf },
    { evaluation: await now.workbook.evaluate(now.file), nameOf: now.nameOf },
    { threshold },
  );
  const isBoth = pair.before !== undefined && pair.after !== undefined;
  const lone = pair.after === undefined ? 'removed' : 'added';
  const [from, to] = [old.display(old.file), now.display(now.file)];
  return {
    title: isBoth && from !== to ? `${from} -> ${to}` : pair.after === undefined ? from : to,
    state: isBoth ? (difference.isChanged ? 'changed' : 'unchanged') : lone,
    difference,
    names: { before: old.display, after: now.display },
  };
}

/** A campaign that is not there is one that says nothing. */
function sideOf(
  state: State,
  own: string | undefined,
  { before, after }: Pair,
  progress: SweepsProgress | undefined,
) {
  const file = (own ?? before ?? after)!;
  const reader = state.readerOf(file);
  const workbook = new Workbook(reader, { analysts, progress });
  if (own === undefined) workbook.setText(file, '');
  const folder = path.dirname(file);
  return {
    file,
    workbook,
    // A campaign that moved with its tables still finds them under the same names.
    nameOf: (each: string): string => path.relative(folder, each),
    display: (each: string): string => reader.displayName(each),
  };
}
