import { isTableName } from '../evaluation/tableFiles.js';
import { toResult } from '../presentation/resultSchema.js';
import { problemLines, sweepTable } from '../presentation/textTable.js';
import { evaluateFiles, programVersion } from './evaluateFiles.js';
import { statusOf } from './exitStatus.js';
import { painterFor } from './paint.js';
import { complain, type Io } from './io.js';

export interface CheckOptions {
  readonly format: 'text' | 'json';
  readonly root?: string;
  readonly ascii?: boolean;
  /** With the format json: the single-diode model of each curve too. */
  readonly fit?: boolean;
}

export async function check(files: readonly string[], options: CheckOptions, io: Io): Promise<number> {
  const { evaluated, missing } = await evaluateFiles(files, io.workingFolder, options.root);
  if (options.format === 'json') {
    const results = evaluated.map(({ evaluation, display }) =>
      toResult(evaluation, display, programVersion, { withFit: options.fit }),
    );
    // One campaign is one object; several are a list of them.
    const one = files.length === 1 && results.length === 1;
    io.out(JSON.stringify(one ? results[0] : results, null, 2) + '\n');
  } else {
    const paint = painterFor(io.isTerminal, io.environment);
    evaluated.forEach(({ evaluation, display }, index) => {
      if (index > 0) io.out('\n');
      io.out(sweepTable(evaluation, { display, paint, ascii: options.ascii }));
      const problems = problemLines(evaluation, { display, paint, ascii: options.ascii });
      if (problems) io.out('\n' + problems);
    });
  }
  for (const name of missing)
    complain(io, `${name}: no campaign file there (looked for *.sweepbook)${hintFor(name)}`);
  return statusOf(
    evaluated.map(({ evaluation }) => evaluation),
    missing.length > 0,
  );
}

/** A table of points handed in by itself. */
function hintFor(name: string): string {
  return isTableName(name) ? `; a table belongs to a sweep of a campaign: data "${name}"` : '';
}
