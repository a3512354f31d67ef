import path from 'node:path';
import { areExchanged, compareVisits, type VisitComparison } from '../difference/compareVisits.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { failureText } from '../evaluation/loadFiles.js';
import { briefMarkdown, briefText } from '../presentation/brief.js';
import { visitResult } from '../presentation/visitResult.js';
import { visitBrief } from '../presentation/visitTexts.js';
import { readRenamedStrings } from '../sweeps/renamedStrings.js';
import { diffStatus, type diffFormats } from './diff.js';
import { eachCampaign, type EvaluatedFile } from './eachCampaign.js';
import { programVersion } from './programVersion.js';
import { findCampaigns } from './findCampaigns.js';
import { complain, type Io } from './io.js';
import { readPlainFile } from './nodeFiles.js';
import { painterFor } from './paint.js';

/** Two names a line: a million strings take less. */
const renamedFileLimit = 64 * 1024 * 1024;

export interface CompareOptions {
  readonly format: (typeof diffFormats)[number];
  readonly renamed?: string;
  readonly root?: string;
}

/** Status 0 without a new failure, 1 with one, 2 where the two cannot be compared. */
export async function compare(
  earlier: string,
  later: string,
  options: CompareOptions,
  io: Io,
): Promise<number> {
  const visits = [await visitOf(earlier, options, io), await visitOf(later, options, io)];
  const [before, now] = visits;
  const formerNames = await formerNamesOf(options.renamed, io);
  const fault =
    [before, now, formerNames].find((each) => typeof each === 'string') ??
    faultOfNames(
      formerNames as ReadonlyMap<string, string>,
      before as EvaluatedFile,
      now as EvaluatedFile,
      options,
    );
  if (typeof fault === 'string') {
    complain(io, fault);
    return diffStatus.notComparable;
  }
  const [then, today] = [before, now] as [EvaluatedFile, EvaluatedFile];
  if (areExchanged(then.evaluation, today.evaluation)) {
    complain(
      io,
      `${earlier}, ${later}: all of the first was measured after all of the second; name the earlier visit first`,
    );
    return diffStatus.notComparable;
  }
  const comparison = compareVisits(
    then.evaluation,
    today.evaluation,
    formerNames as ReadonlyMap<string, string>,
  );
  io.out(written(comparison, then, today, options, io));
  const failures = comparison.newFailures.length + comparison.newTestFailures.length;
  return failures > 0 ? diffStatus.changed : diffStatus.same;
}

function written(
  comparison: VisitComparison,
  then: EvaluatedFile,
  today: EvaluatedFile,
  { format }: CompareOptions,
  io: Io,
): string {
  if (format === 'json') {
    const names = { earlier: then.display, later: today.display };
    return `${JSON.stringify(visitResult(comparison, programVersion, names), null, 2)}\n`;
  }
  const brief = visitBrief(comparison);
  return format === 'markdown'
    ? briefMarkdown(brief)
    : briefText(brief, painterFor(io.isTerminal, io.environment));
}

/** The one campaign of a file or a folder; a message where there is none, or more than one. */
async function visitOf(argument: string, { root }: CompareOptions, io: Io): Promise<EvaluatedFile | string> {
  const found = await findCampaigns([argument], io.workingFolder);
  if (found.missing.length > 0) return `${argument}: no campaign file there (looked for *.sweepbook)`;
  let only: EvaluatedFile | undefined;
  for await (const each of eachCampaign(found, io, root)) {
    if (only) return `${argument}: holds several campaigns; name one file`;
    only = each;
  }
  if (!only?.evaluation.sources) return `${argument}: it cannot be read as a campaign`;
  return only;
}

async function formerNamesOf(
  file: string | undefined,
  io: Io,
): Promise<ReadonlyMap<string, string> | string> {
  if (file === undefined) return new Map();
  const content = await readPlainFile(path.resolve(io.workingFolder, file), renamedFileLimit);
  if (!content.ok) return `--renamed ${file}: it ${failureText(content)}`;
  const { formerNames, faults } = readRenamedStrings(content.bytes);
  return faults.length > 0 ? `--renamed ${file}: ${faults[0]!}` : formerNames;
}

function faultOfNames(
  formerNames: ReadonlyMap<string, string>,
  before: EvaluatedFile,
  now: EvaluatedFile,
  { renamed }: CompareOptions,
): string | undefined {
  const has = ({ campaign }: Evaluation, name: string): boolean => campaign.strings.has(name);
  for (const [later, earlier] of formerNames) {
    if (!has(before.evaluation, earlier))
      return `--renamed ${renamed!}: the earlier campaign has no string ${earlier}`;
    if (!has(now.evaluation, later))
      return `--renamed ${renamed!}: the later campaign has no string ${later}`;
  }
  return undefined;
}
