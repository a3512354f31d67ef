import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { nearest } from '../campaign/nearest.js';
import { stringNames } from '../evaluation/stringNames.js';
import {
  extensionOf,
  type Language,
  type Paper,
  type ReportContent,
  type ReportFormat,
} from '../report/reportOptions.js';
import { printable } from '../presentation/terminalText.js';
import type { EvaluatedFile } from './eachCampaign.js';
import { evaluateOne } from './evaluateOne.js';
import { programVersion } from './programVersion.js';
import { exitStatus, statusOf, tallyOf } from './exitStatus.js';
import { complain, type Io } from './io.js';
import { writeWhole } from './writeWhole.js';

export interface ReportCommandOptions {
  readonly out?: string;
  readonly root?: string;
  readonly format?: ReportFormat;
  readonly content: ReportContent;
  readonly string?: string;
  readonly language: Language;
  readonly paper: Paper;
}

/** Writes a report beside the campaign or where it was told; Markdown and text without a file go to the terminal. */
export async function report(file: string, options: ReportCommandOptions, io: Io): Promise<number> {
  const format = options.format ?? formatOf(options.out);
  if (format === undefined) {
    complain(
      io,
      `--out ${options.out!}: no report ends so; name a file that ends in ${endings}, or give --format`,
    );
    return exitStatus.usage;
  }
  const only = await evaluateOne(file, io, options.root);
  if (typeof only === 'string') {
    complain(io, `${file}: ${only}`);
    return exitStatus.notComputable;
  }
  const target = targetOf(only, options, format, io);
  const refusal = (await stringRefusal(only, options)) ?? targetRefusal(only, target);
  if (refusal !== undefined) {
    complain(io, refusal);
    return exitStatus.usage;
  }
  const content = await rendered(only, options, format, io);
  if (target === undefined) {
    io.out(content as string);
    return statusOf([tallyOf(only.evaluation)], false);
  }
  try {
    await writeWhole(target, content);
  } catch (error) {
    complain(io, `${target}: the report could not be written (${(error as Error).message})`);
    return exitStatus.notComputable;
  }
  io.out(`Report: ${printable(target)}\n  ${pathToFileURL(target).href}\n`);
  return statusOf([tallyOf(only.evaluation)], false);
}

const formats = Object.entries(extensionOf) as [ReportFormat, string][];
const endings = new Intl.ListFormat('en-GB', { type: 'disjunction' }).format(Object.values(extensionOf));

/** By the name of the file that is asked for; HTML where it has no ending, undefined where it has that of something else. */
function formatOf(out: string | undefined): ReportFormat | undefined {
  const extension = out === undefined ? '' : path.extname(out).toLowerCase();
  return extension === '' ? 'html' : formats.find(([, known]) => known === extension)?.[0];
}

function targetOf(
  { file }: EvaluatedFile,
  { out }: ReportCommandOptions,
  format: ReportFormat,
  io: Io,
): string | undefined {
  if (out !== undefined) return path.resolve(io.workingFolder, out);
  if (format === 'markdown' || format === 'text') return undefined;
  return path.resolve(io.workingFolder, file.replace(/(\.sweepbook)?$/, extensionOf[format]));
}

function targetRefusal({ evaluation }: EvaluatedFile, target: string | undefined): string | undefined {
  if (target === undefined || ![...evaluation.files, ...evaluation.dataFiles].includes(target))
    return undefined;
  return `${target}: is a file of the campaign itself; name another for the report`;
}

async function stringRefusal(
  { evaluation }: EvaluatedFile,
  { string, content }: ReportCommandOptions,
): Promise<string | undefined> {
  if (string === undefined) return undefined;
  if (content !== 'full') return `--string ${string}: goes with --content full alone`;
  const names = stringNames(evaluation);
  if (names.includes(string)) return undefined;
  const near = nearest(string, names);
  const hint = near === undefined ? '' : `; did you mean ${near}?`;
  return `--string ${string}: the campaign has no such string${hint}`;
}

async function rendered(
  { evaluation, display, files }: EvaluatedFile,
  { content, string, language, paper }: ReportCommandOptions,
  format: ReportFormat,
  io: Io,
): Promise<string | Uint8Array> {
  const { renderReport } = await import('../report/renderReport.js');
  const options = { content, string, language, paper, display, version: programVersion };
  return renderReport(evaluation, options, {
    format,
    created: new Date(),
    files,
    progress: progressLines(io),
  });
}

/** Fewer steps than this are done before anyone asks. */
const worthTelling = { curves: 200, pages: 3000 } as const;

/** A line on the error stream for each tenth of a long step; others get their turn in between. */
function progressLines(io: Io): (step: 'curves' | 'pages', done: number, of: number) => Promise<void> {
  const words = { curves: 'curves drawn', pages: 'parts laid out' } as const;
  let told = '';
  return async (step, done, of) => {
    const tenth = Math.floor((10 * done) / of);
    const line = `${10 * tenth} % of ${of} ${words[step]}\n`;
    if (of >= worthTelling[step] && line !== told) io.error(line);
    told = line;
    await new Promise((resolve) => setImmediate(resolve));
  };
}
