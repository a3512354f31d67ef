import { isTableName } from '../evaluation/tableFiles.js';
import { toResult } from '../presentation/resultSchema.js';
import { problemLines, sweepTable } from '../presentation/textTable.js';
import { againstResults, writeResults } from './committedResults.js';
import type { EvaluatedFile } from './eachCampaign.js';
import { evaluateFiles, programVersion } from './evaluateFiles.js';
import { exitStatus, statusOf } from './exitStatus.js';
import { painterFor } from './paint.js';
import { complain, type Io } from './io.js';

export const checkFormats = ['text', 'json', 'markdown', 'junit', 'sarif', 'github', 'gitlab'] as const;
export type CheckFormat = (typeof checkFormats)[number];

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
}

export async function check(files: readonly string[], options: CheckOptions, io: Io): Promise<number> {
  const { evaluated, missing } = await evaluateFiles(files, io.workingFolder, options.root);
  io.out(await written(evaluated, files, options, io));
  for (const name of missing)
    complain(io, `${name}: no campaign file there (looked for *.sweepbook)${hintFor(name)}`);
  const statuses: number[] = [];
  // Compared before it is written: both may name one file.
  if (options.against !== undefined) statuses.push(await againstResults(options.against, evaluated, io));
  if (options.writeResults !== undefined)
    statuses.push(await writeResults(options.writeResults, evaluated, io));
  // Who compares or writes results asks about these: what is open stands in them, and is committed knowledge.
  if (statuses.length > 0) return Math.max(missing.length > 0 ? exitStatus.notComputable : 0, ...statuses);
  return statusOf(
    evaluated.map(({ evaluation }) => evaluation),
    missing.length > 0,
  );
}

async function written(
  evaluated: readonly EvaluatedFile[],
  files: readonly string[],
  options: CheckOptions,
  io: Io,
): Promise<string> {
  if (options.format === 'text') return asText(evaluated, options, io);
  if (options.format === 'json') {
    const results = evaluated.map(({ evaluation, display }) =>
      toResult(evaluation, display, programVersion, { withFit: options.fit }),
    );
    // One campaign is one object; several are a list of them.
    const one = files.length === 1 && results.length === 1;
    return `${JSON.stringify(one ? results[0] : results, null, 2)}\n`;
  }
  // Loaded when asked for: who reads text need not wait for it.
  const forms = await import('../ci/index.js');
  switch (options.format) {
    case 'markdown':
      return forms.markdownSummary(evaluated);
    case 'junit':
      return forms.junit(evaluated);
    case 'sarif':
      return forms.sarif(evaluated, programVersion);
    case 'github':
      return forms.githubAnnotations(evaluated);
    case 'gitlab':
      return forms.gitlabCodeQuality(evaluated);
  }
}

function asText(evaluated: readonly EvaluatedFile[], options: CheckOptions, io: Io): string {
  const paint = painterFor(io.isTerminal, io.environment);
  return evaluated
    .map(({ evaluation, display }) => {
      const problems = problemLines(evaluation, { display, paint, ascii: options.ascii });
      return (
        sweepTable(evaluation, { display, paint, ascii: options.ascii }) + (problems ? `\n${problems}` : '')
      );
    })
    .join('\n');
}

/** A table of points handed in by itself. */
function hintFor(name: string): string {
  return isTableName(name) ? `; a table belongs to a sweep of a campaign: data "${name}"` : '';
}
