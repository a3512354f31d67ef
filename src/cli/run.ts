/** The commands. `run` knows its streams only through `Io`, so that tests call it as a shell would. */
import { Command, CommanderError, Option } from 'commander';
import { programVersion } from './programVersion.js';
import { bringIn, type BringInOptions } from './bringIn.js';
import { check, type CheckOptions } from './check.js';
import { checkFormats } from './checkForms.js';
import { exportCampaigns, type ExportOptions } from './export.js';
import { compare, type CompareOptions } from './compare.js';
import { diff, diffFormats, type DiffOptions } from './diff.js';
import { coefficients, type CoefficientOptions } from './coefficients.js';
import { gitSetup, type GitSetupOptions } from './gitSetup.js';
import { moduleSearch, type ModuleSearchOptions } from './module.js';
import { report, type ReportCommandOptions } from './report.js';
import { serve } from './serve.js';
import { window, type WindowOptions } from './window.js';
import { withResults } from './withResults.js';
import { exitStatus } from './exitStatus.js';
import type { Io } from './io.js';
import { tablesDescription } from '../export/tablesDocument.js';
import { coefficientJsonSchema } from '../presentation/coefficientSchema.js';
import { differenceJsonSchema } from '../presentation/differenceResultSchema.js';
import { visitJsonSchema } from '../presentation/visitResult.js';
import { languages, papers, reportContents, reportFormats } from '../report/reportOptions.js';
import { resultJsonSchema } from '../presentation/resultSchema.js';

const epilogue = `
Exit status: 0 no case is open: what failed was verified by a later sweep or accepted, something was judged, and no error
stands in the files; 1 a case is open, located or replaced without a passing counter-check, or the latest of an electrical
test fails; 2 not computable (missing file, an error in the files, nothing judged); 3 usage; 130 check was stopped by
Ctrl-C, 143 by SIGTERM; 141 the reader of what is printed is gone, as with head.`;

const diffEpilogue = `
Each cause is measured: the earlier campaign is computed anew with that one change made. Exit status: 0 no change of results;
1 results changed; 2 could not be compared (no such file, no git, no such revision); 3 usage.`;

interface SchemaOptions {
  readonly tables?: boolean;
  readonly coefficients?: boolean;
  readonly diff?: boolean;
  readonly compare?: boolean;
}

/** @returns the exit status, see exitStatus.ts. */
export async function run(args: readonly string[], io: Io): Promise<number> {
  let status: number = exitStatus.pass;
  const program = new Command('sweepbook')
    .description('Checks campaigns of photovoltaic I-V sweeps: validates, translates to STC, judges.')
    .version(programVersion)
    .addHelpText('after', epilogue)
    .configureOutput({ writeOut: io.out, writeErr: io.error })
    .exitOverride();
  const rootOption = new Option('--root <folder>', 'folder that the paths in a campaign may not leave');

  program
    .command('check')
    .description('print one line a sweep, a summary, and what is wrong in the files')
    .argument(
      '<file...>',
      'campaign files, folders, or patterns; several are computed beside each other, and printed in the order of their names',
    )
    .addOption(
      new Option(
        '--format <format>',
        'what to print: text, JSON, a Markdown summary, JUnit XML, SARIF, annotations for GitHub, code quality for GitLab',
      )
        .choices(checkFormats)
        .default('text'),
    )
    .option(
      '--against <file>',
      'answer by whether the results are those of this file, which --write-results wrote: 0 they are, 1 one differs',
    )
    .option('--write-results <file>', 'write the results, one line a sweep, to be committed')
    .addOption(rootOption)
    .option('--ascii', 'plain ASCII marks')
    .option('--fit', 'with --format json: also the single-diode model fitted to each curve')
    .option(
      '--cache <folder>',
      'where answers are kept, to be taken again while program, options and all files are the same; the cache folder of this user, or what SWEEPBOOK_CACHE names, by default',
    )
    .option('--no-cache', 'compute everything anew, and keep nothing')
    .option('--no-progress', 'do not show on a terminal how far it is')
    .addHelpText('after', epilogue)
    .action(async (files: string[], options: CheckOptions) => {
      status = await check(files, options, io);
    });
  program
    .command('report')
    .description('write a report with the curves, verdicts and their reasons')
    .argument('<file>', 'campaign file')
    .option('-o, --out <file>', 'where to write it; beside the campaign file by default')
    .addOption(
      new Option(
        '--format <format>',
        'of the report; by the ending of --out, html where there is none',
      ).choices(reportFormats),
    )
    .addOption(
      new Option('--content <content>', 'all, two pages for the client, or the fault list for the repair')
        .choices(reportContents)
        .default('full'),
    )
    .option('--string <name>', 'only this string')
    .addOption(new Option('--language <language>', 'of the report').choices(languages).default('en'))
    .addOption(new Option('--paper <paper>', 'size of the pages').choices(papers).default('A4'))
    .addOption(rootOption)
    .action(async (file: string, options: ReportCommandOptions) => {
      status = await report(file, options, io);
    });
  program
    .command('window')
    .description('say when on a day incidence and expected clear-sky irradiance satisfy the criteria')
    .argument('<file>', 'campaign file')
    .requiredOption('--date <day>', 'a day in the time of the site: 2026-05-14')
    .option('--criteria <name>', 'criteria to satisfy; those of the campaign by default')
    .addOption(rootOption)
    .action(async (file: string, options: WindowOptions) => {
      status = await window(file, options, io);
    });
  program
    .command('module')
    .description('find module types in an openly published module table')
    .command('search')
    .description('list the modules that have every word in their name; one match prints its module block')
    .argument('<table>', 'CSV file with the columns Name, Technology, N_s, I_sc_ref, V_oc_ref, …')
    .argument('<word...>', 'words of the name')
    .option('--write', 'print the blocks of all matches')
    .action(async (table: string, words: string[], options: ModuleSearchOptions) => {
      status = await moduleSearch(table, words, options, io);
    });
  program
    .command('coefficients')
    .description("determine Rs, kappa, B1, alpha and beta from a campaign's own sweeps, beside the nameplate")
    .argument('<file>', 'campaign file')
    .argument('<name>', 'the address of a device, or a module type for all its sweeps')
    .addOption(new Option('--format <format>', 'what to print').choices(['text', 'json']).default('text'))
    .option('-o, --out <file>', 'also write a page with the residuals of every sweep')
    .addOption(rootOption)
    .action(async (file: string, name: string, options: CoefficientOptions) => {
      status = await coefficients(file, name, options, io);
    });
  program
    .command('export')
    .description(
      'write tables of campaigns, strings, sweeps, points and findings for DuckDB, pandas or Spark',
    )
    .argument('<file...>', 'campaign files, folders, or patterns')
    .requiredOption('--to <folder>', 'where to write them: a new or an empty folder, or a former export')
    .addOption(new Option('--format <format>', 'of the files').choices(['csv', 'parquet']).default('parquet'))
    .addOption(rootOption)
    .action(async (files: string[], options: ExportOptions) => {
      status = await exportCampaigns(files, options, io);
    });
  program
    .command('bring-in')
    .description('say what CSV files of sweeps hold, and print or write the sweep blocks that name them')
    .argument('<file...>', 'CSV files, folders, or patterns')
    .option('--into <campaign>', 'campaign file: its names are known, and the blocks are put at its end')
    .option('--print', 'with --into: print the blocks and write nothing')
    .option('--address <address>', 'of a file that does not tell: 1.03, 1.03/11')
    .option('--time <time>', 'of files that do not tell: "2026-05-14 11:42"')
    .option('--irradiance <value>', 'of files that do not tell: "812 W/m2"')
    .option('--temperature <value>', 'of files that do not tell: "44.1 degC cell"; cell or module alone')
    .option(
      '--with <names>',
      'tracer and reference used: T1,RC1; needed where the campaign declares several tracers or references',
    )
    .option('--write-layout', 'write a layout block even where the tables read without')
    .addOption(rootOption)
    .action(async (files: string[], options: BringInOptions) => {
      status = await bringIn(files, options, io);
    });
  program
    .command('diff')
    .description(
      'say which verdicts and parameters differ between two states of campaigns, and which input moved them',
    )
    .argument(
      '[old]',
      'campaign file or folder; alone: the sides of its merge conflicts; with --rev: what of the repository',
    )
    .argument('[new]', 'campaign file or folder')
    .option(
      '--rev <revisions>',
      'of a git repository: A..B, A...B (from where they parted), or A against the working tree',
    )
    .addOption(new Option('--format <format>', 'what to print').choices(diffFormats).default('text'))
    .option('--threshold <percentage>', 'least movement that is told; 0.05% by default')
    .addOption(rootOption)
    .addHelpText('after', diffEpilogue)
    .action(async (before: string | undefined, after: string | undefined, options: DiffOptions) => {
      status = await diff(
        [before, after].filter((each) => each !== undefined),
        options,
        io,
      );
    });
  program
    .command('compare')
    .description('say what became of each string between two visits: change for each year, new failures')
    .argument('<earlier>', 'campaign file or folder of the earlier visit')
    .argument('<later>', 'campaign file or folder of the later visit')
    .option('--renamed <table>', 'CSV with the columns old,new: strings that have another name now')
    .addOption(new Option('--format <format>', 'what to print').choices(diffFormats).default('text'))
    .addOption(rootOption)
    .addHelpText(
      'after',
      '\nExit status: 0 no new failure; 1 a new failure; 2 the two cannot be compared; 3 usage.',
    )
    .action(async (earlier: string, later: string, options: CompareOptions) => {
      status = await compare(earlier, later, options, io);
    });
  program
    .command('git-setup')
    .description(
      'let "git diff" and "git log -p" show the results behind the text of campaign files, in this clone',
    )
    .option('--undo', 'take back what it changed, and nothing else')
    .option('--dry-run', 'say what would be changed, and change nothing')
    .option('--program <command>', 'how git calls this program; as it is called now by default')
    .addHelpText(
      'after',
      '\n"git blame" shows results too then, as lines of who last changed them; "git blame --no-textconv" leaves them out.',
    )
    .action(async (options: GitSetupOptions) => {
      status = await gitSetup(options, io);
    });
  program
    .command('with-results')
    .description('print a campaign file and behind it the results; what git-setup lets git call')
    .argument('<file>', 'of the working tree, or the copy that git makes of an older one')
    .action(async (file: string) => {
      status = await withResults(file, io);
    });
  program
    .command('serve')
    .description(
      'be a language server for an editor: Language Server Protocol over standard input and output',
    )
    .option('--stdio', 'what it does anyway; many editors say so')
    .option('--clientProcessId <id>', 'end when this process is gone')
    .action(() => serve(io));
  program
    .command('schema')
    .description('print the JSON Schema of "check --format json"')
    .option('--coefficients', 'print that of "coefficients --format json" instead')
    .option('--diff', 'print that of "diff --format json" instead')
    .option('--compare', 'print that of "compare --format json" instead')
    .option('--tables', 'print the tables of "export" with their columns, types and units instead')
    .action((asked: SchemaOptions) => {
      if (asked.tables) io.out(`${JSON.stringify(tablesDescription(), null, 2)}\n`);
      else if (asked.coefficients) io.out(coefficientJsonSchema());
      else if (asked.diff) io.out(differenceJsonSchema());
      else io.out(asked.compare ? visitJsonSchema() : resultJsonSchema());
    });

  if (args.length === 0) {
    io.error(program.helpInformation() + epilogue + '\n');
    return exitStatus.usage;
  }
  try {
    await program.parseAsync([...args], { from: 'user' });
    return status;
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    return error.exitCode === 0 ? exitStatus.pass : exitStatus.usage;
  }
}
