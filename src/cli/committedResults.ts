/** Results that are committed beside their campaigns: written, and held against what is computed now. */
import { existsSync } from 'node:fs';
import path from 'node:path';
import { failureText } from '../evaluation/loadFiles.js';
import { compareResults } from '../results/compareResults.js';
import { resultsText, type NamedResults, type ResultLine } from '../results/resultsText.js';
import { rulesVersion } from '../results/rulesVersion.js';
import { exitStatus } from './exitStatus.js';
import { complain, type Io } from './io.js';
import { readPlainFile } from './nodeFiles.js';
import { writeWhole } from './writeWhole.js';

/** Results of 100,000 sweeps take some 20 MB. */
export const resultsFileLimit = 64 * 1024 * 1024;

/** A campaign that was checked. */
export interface CheckedFile {
  readonly file: string;
  readonly lines: readonly ResultLine[];
  /** All files that it was computed from. */
  readonly read: readonly string[];
}

export async function writeResults(name: string, checked: readonly CheckedFile[], io: Io): Promise<number> {
  const target = path.resolve(io.workingFolder, name);
  if (checked.some(({ read }) => read.includes(target))) {
    complain(io, `${name}: is a file of the campaign itself; name another for the results`);
    return exitStatus.usage;
  }
  const named = namedFrom(target, checked);
  // The option takes the next word, which may have been meant as a campaign to check.
  const former = await readPlainFile(target, resultsFileLimit);
  const known =
    former.ok && former.bytes.length > 0
      ? compareResults(new TextDecoder().decode(former.bytes), named)
      : undefined;
  if (known?.unreadable !== undefined || (!former.ok && former.reason !== 'missing')) {
    complain(io, `${name}: is there already and is no results file; nothing was written`);
    return exitStatus.usage;
  }
  const kept = (known?.notComputed ?? []).filter((section) => existsSync(fileOf(target, section.name)));
  if (kept.length > 0 && known?.otherRules !== undefined) {
    const names = kept.map((section) => section.name).join(', ');
    complain(
      io,
      `${name}: has results of ${names} by rules ${known.otherRules}; check them too. Nothing was written`,
    );
    return exitStatus.usage;
  }
  try {
    await writeWhole(target, resultsText(named, kept));
  } catch (error) {
    complain(io, `${name}: the results could not be written (${(error as Error).message})`);
    return exitStatus.notComputable;
  }
  return exitStatus.pass;
}

export async function againstResults(name: string, checked: readonly CheckedFile[], io: Io): Promise<number> {
  const file = path.resolve(io.workingFolder, name);
  const content = await readPlainFile(file, resultsFileLimit);
  if (!content.ok) {
    const hint = `write it with "sweepbook check --write-results ${name}"`;
    complain(io, `${name}: the results could not be read, the file ${failureText(content)}; ${hint}`);
    return exitStatus.notComputable;
  }
  const text = new TextDecoder().decode(content.bytes);
  const { differences, notComputed, otherRules, unreadable } = compareResults(text, namedFrom(file, checked));
  if (unreadable !== undefined) {
    complain(io, `${name}: is no results file: ${unreadable}`);
    return exitStatus.notComputable;
  }
  if (otherRules !== undefined)
    complain(io, `${name}: written by rules ${otherRules}, computed by rules ${rulesVersion}`);
  for (const { campaign, line, text: difference } of differences)
    complain(io, `${name}:${line}: ${campaign}: ${difference}`);
  const gone = notComputed.filter((section) => !existsSync(fileOf(file, section.name)));
  for (const section of gone) complain(io, `${name}: has results of ${section.name}, which is there no more`);
  const left = notComputed.length - gone.length;
  if (left > 0)
    complain(io, `${name}: ${left} more ${left === 1 ? 'campaign was' : 'campaigns were'} not checked`);
  if (differences.length + gone.length > 0) {
    complain(io, `${name}: differs; if that is meant, write it anew with --write-results and commit it`);
    return exitStatus.fail;
  }
  return exitStatus.pass;
}

/** The campaign that a results file knows by a name. */
const fileOf = (results: string, name: string): string => path.resolve(path.dirname(results), name);

/** Named from the folder of the results, so that it does not matter where the program is called. */
function namedFrom(results: string, checked: readonly CheckedFile[]): NamedResults[] {
  const folder = path.dirname(results);
  return checked.map(({ file, lines }) => ({
    name: path.relative(folder, file).split(path.sep).join('/'),
    lines,
  }));
}
