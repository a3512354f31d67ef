import path from 'node:path';
import { isTableName } from '../evaluation/tableFiles.js';
import { AnswerCache } from './answerCache.js';
import { answerCampaigns } from './answerCampaigns.js';
import { partWriter, type CheckForm, type CheckFormat } from './checkForms.js';
import { againstResults, writeResults, type CheckedFile } from './committedResults.js';
import { campaignPlaces } from './eachCampaign.js';
import { exitStatus, statusOf, type Tally } from './exitStatus.js';
import { findCampaigns } from './findCampaigns.js';
import { complain, type Io } from './io.js';
import { takesColour } from './paint.js';
import { programIdentity } from './programIdentity.js';
import { CampaignsDone, progressLine, sweepsDone } from './progress.js';
import { stoppedStatus, type StopReason } from './stoppedStatus.js';

export interface CheckOptions {
  readonly format: CheckFormat;
  readonly root?: string;
  readonly ascii?: boolean;
  /** With the format json: the single-diode model of each curve too. */
  readonly fit?: boolean;
  /** A file of committed results that those computed now must be. */
  readonly against?: string;
  /** Where to write the results of now. */
  readonly writeResults?: string;
  /** A folder for answers of earlier runs; false: none. */
  readonly cache?: string | false;
  readonly progress?: boolean;
}

export async function check(files: readonly string[], options: CheckOptions, io: Io): Promise<number> {
  const found = await findCampaigns(files, io.workingFolder);
  const places = await campaignPlaces(found, io.workingFolder, options.root);
  const form: CheckForm = {
    format: options.format,
    colour: options.format === 'text' && takesColour(io.isTerminal, io.environment),
    ascii: options.ascii === true,
    fit: options.fit === true,
  };
  const asksResults = options.against !== undefined || options.writeResults !== undefined;
  const signal = io.interruption?.();
  const cache = await openCache(options, io);
  const writer = partWriter(form.format, files.length === 1 && places.length === 1);
  const line = options.progress === false ? undefined : progressLine(io);
  const isOne = places.length === 1;
  const campaignsDone = line && places.length > 1 ? new CampaignsDone(line, places.length) : undefined;
  const print = (write: () => void): void => (line ? line.beside(write) : write());
  const tallies: Tally[] = [];
  const checked: CheckedFile[] = [];
  let broken = 0;
  const jobs = places.map((place) => ({ place, form }));
  for await (const { file, answer, failure } of answerCampaigns(jobs, {
    cache,
    threads: io.threads,
    signal,
    progress: line && isOne ? sweepsDone(line) : undefined,
  })) {
    if (answer) {
      const text = writer.add(answer.part);
      if (text !== '') print(() => io.out(text));
      tallies.push(answer.tally);
      if (asksResults)
        checked.push({ file, lines: answer.results, read: answer.read.map((each) => each.file) });
    } else {
      broken++;
      const name = path.relative(io.workingFolder, file);
      print(() => complain(io, `${name}: could not be computed, through no fault of its text (${failure})`));
    }
    campaignsDone?.one(answer === undefined || answer.tally.open > 0);
  }
  line?.erase();
  const cacheFailure = await cache?.close();
  if (signal?.aborted) {
    const reason = signal.reason as StopReason;
    if (reason !== 'SIGPIPE') {
      io.out(writer.cut());
      const done = tallies.length + broken;
      complain(
        io,
        isOne && done === 0
          ? 'Stopped before the campaign was computed; nothing was written.'
          : `Stopped after ${done} of ${places.length} campaigns; nothing else was written.`,
      );
    }
    return stoppedStatus[reason];
  }
  io.out(await writer.end());
  for (const name of found.missing)
    complain(io, `${name}: no campaign file there (looked for *.sweepbook)${hintFor(name)}`);
  if (typeof options.cache === 'string' && cacheFailure !== undefined)
    complain(io, `${options.cache}: answers could not be kept there (${cacheFailure})`);
  const somethingMissing = found.missing.length + broken > 0;
  const statuses: number[] = [];
  // Compared before it is written: both may name one file.
  if (options.against !== undefined) statuses.push(await againstResults(options.against, checked, io));
  if (options.writeResults !== undefined)
    statuses.push(await writeResults(options.writeResults, checked, io));
  // Who compares or writes results asks about these: what is open stands in them, and is committed knowledge.
  if (statuses.length > 0) return Math.max(somethingMissing ? exitStatus.notComputable : 0, ...statuses);
  return statusOf(tallies, somethingMissing);
}

/** Of the option, else of the environment, else the user's own; none where it is switched off. */
async function openCache(
  { cache }: CheckOptions,
  { environment, workingFolder, userCacheFolder }: Io,
): Promise<AnswerCache | undefined> {
  const folder = cache ?? environment['SWEEPBOOK_CACHE'] ?? (await userCacheFolder?.());
  if (folder === false || folder === undefined || folder === '') return undefined;
  return new AnswerCache({ folder: path.resolve(workingFolder, folder), program: await programIdentity() });
}

/** A table of points handed in by itself. */
function hintFor(name: string): string {
  return isTableName(name) ? `; a table belongs to a sweep of a campaign: data "${name}"` : '';
}
