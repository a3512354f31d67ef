/**
 * A campaign file followed by its results, for `git diff` and `git log -p` (`textconv` in gitattributes(5)). Git hands over a file
 * of the working tree, or a temporary copy that tells nothing but its name: what it includes and names is then taken from the
 * commit that holds the same text.
 */
import { readFile } from 'node:fs/promises';
import { realpathSync } from 'node:fs';
import path from 'node:path';
import type { Evaluation } from '../evaluation/evaluation.js';
import type { FileReader } from '../evaluation/ports.js';
import { Workbook } from '../evaluation/workbook.js';
import { resultComments } from '../presentation/resultComments.js';
import { printable } from '../presentation/terminalText.js';
import { analysts } from './analysts.js';
import { campaignsHolding } from './eachCampaign.js';
import { findCampaigns } from './findCampaigns.js';
import { exitStatus } from './exitStatus.js';
import { git, GitFailure, gitLine, workTreeOf } from './git.js';
import { GitFiles } from './gitFiles.js';
import { complain, type Io } from './io.js';
import { isInside, NodeFiles } from './nodeFiles.js';

/** Where a text stands, and what stands beside it. */
interface Found {
  readonly file: string;
  /** Every campaign file there. */
  readonly campaigns: readonly string[];
  readonly reader: FileReader;
  /** What has to be known to read the results rightly. */
  readonly remark?: (evaluation: Evaluation) => Promise<string | undefined>;
  readonly close: () => void;
}

/** Always 0 once the file was read: git shows nothing at all where a program fails. */
export async function withResults(argument: string, io: Io): Promise<number> {
  const place = path.resolve(io.workingFolder, argument);
  const text = await readFile(place, 'utf8').catch(() => undefined);
  if (text === undefined) {
    complain(io, `${argument}: there is no such file`);
    return exitStatus.notComputable;
  }
  io.out(text === '' || text.endsWith('\n') ? text : `${text}\n`);
  try {
    io.out(await resultsOf(place, io.workingFolder));
  } catch (error) {
    if (!(error instanceof GitFailure)) throw error;
    io.out(comment(`results: not computed, ${error.message}`));
  }
  return exitStatus.pass;
}

const comment = (line: string): string => `# ${printable(line)}\n`;

async function resultsOf(place: string, workingFolder: string): Promise<string> {
  const top = await workTreeOf(workingFolder);
  const real = realpathSync(place);
  const found = isInside(top, real) ? await inWorkTree(real, top) : await inHistory(real, top);
  if (!found) return comment('results: not computed, no commit of this repository holds this text');
  try {
    const roots = await campaignsHolding(found.file, found.campaigns, () => found.reader);
    const parts: string[] = [];
    for (const root of roots) {
      const evaluation = await new Workbook(found.reader, { analysts }).evaluate(root);
      const remark = await found.remark?.(evaluation);
      parts.push(
        '\n',
        comment(`results of ${found.reader.displayName(root)}${remark === undefined ? '' : `, ${remark}`}`),
        ...resultComments(evaluation).map(comment),
      );
    }
    return parts.join('');
  } finally {
    found.close();
  }
}

async function inWorkTree(file: string, top: string): Promise<Found> {
  const { files } = await findCampaigns([top], top);
  return { file, campaigns: files, reader: new NodeFiles(top, top), close: () => undefined };
}

/** HEAD, else the index, else the last commit that held the text: only then the whole history is searched. */
async function inHistory(copy: string, top: string): Promise<Found | undefined> {
  const name = path.basename(copy);
  const object = await objectOf(copy, top);
  const holding = async (open: Promise<GitFiles>): Promise<Found | undefined> => {
    const reader = await open.catch(() => undefined);
    const campaigns = reader?.campaignsBelow(top) ?? [];
    const file = campaigns.find((each) => path.basename(each) === name && reader!.objectOf(each) === object);
    if (reader && file !== undefined)
      return {
        file,
        campaigns,
        reader,
        remark: async (evaluation) => {
          const changes = await commitsThatChange(object, top, path.relative(top, file));
          return remarkOn(evaluation, reader, changes.at(-1)?.commit);
        },
        close: () => reader.close(),
      };
    reader?.close();
    return undefined;
  };
  const current = (await holding(GitFiles.ofCommit(top, 'HEAD'))) ?? (await holding(GitFiles.ofIndex(top)));
  if (current) return current;
  for (const { commit, parents } of await commitsThatChange(object, top))
    for (const each of [commit, ...parents]) {
      const found = await holding(GitFiles.ofCommit(top, each));
      if (found) return found;
    }
  return undefined;
}

/** The name of the blob that git made the copy from, with the line ends that it has in the repository. */
function objectOf(copy: string, top: string): Promise<string> {
  return gitLine(top, 'hash-object', `--path=${path.basename(copy)}`, '--', copy);
}

interface ChangingCommit {
  readonly commit: string;
  readonly parents: readonly string[];
}

/** Commits in which the text came or went, the latest first; at one place it takes git less than anywhere. */
async function commitsThatChange(object: string, top: string, place?: string): Promise<ChangingCommit[]> {
  const search = ['--all', '--full-history', '--format=%H %P', `--find-object=${object}`];
  const where = place === undefined ? [] : ['--', `:(literal,top)${place.split(path.sep).join('/')}`];
  const listing = await git(top, 'log', ...search, ...where).catch(() => '');
  return listing
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => {
      const [commit = '', ...parents] = line.split(' ');
      return { commit, parents };
    });
}

/** The same text gives other results when its tables change, and a copy does not tell which of them is meant. */
async function remarkOn(
  { files, dataFiles }: Evaluation,
  reader: GitFiles,
  first: string | undefined,
): Promise<string | undefined> {
  if (first === undefined) return undefined;
  const earliest = await GitFiles.ofCommit(reader.top, first);
  const differs = [...files, ...dataFiles].some((file) => earliest.objectOf(file) !== reader.objectOf(file));
  earliest.close();
  return differs ? 'with its other files as the last commit with this text has them' : undefined;
}
