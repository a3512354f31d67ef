/** Tells git of the program that shows results in diffs; and takes that back. What is changed is printed, line by line. */
import { rm } from 'node:fs/promises';
import path from 'node:path';
import { failureText } from '../evaluation/loadFiles.js';
import { exitStatus } from './exitStatus.js';
import { git, GitFailure, gitLine, workTreeOf } from './git.js';
import { complain, type Io } from './io.js';
import { readPlainFile } from './nodeFiles.js';
import { writeWhole } from './writeWhole.js';

export interface GitSetupOptions {
  readonly undo?: boolean;
  readonly dryRun?: boolean;
  /** How git shall call this program; as it was called now by default. */
  readonly program?: string;
}

const attribute = '*.sweepbook diff=sweepbook';
const converter = 'diff.sweepbook.textconv';
/** The line that stands above a hunk: the block that it is in. */
const heading = { key: 'diff.sweepbook.xfuncname', value: '^[a-z].*$' };
/** Bytes of an attributes file; git heeds none that is larger. */
const longestAttributes = 100 * 1024 * 1024;

/** Why nothing can be set; the message is for the user. */
class NotSet extends Error {}

export async function gitSetup(options: GitSetupOptions, io: Io): Promise<number> {
  const { undo = false, dryRun = false } = options;
  try {
    const top = await workTreeOf(io.workingFolder);
    const steps = [
      await attributeStep(top, undo),
      ...(await configSteps(top, undo, options.program ?? ownProgram())),
    ].filter((step) => step !== undefined);
    if (steps.length === 0) io.out(undo ? 'Nothing of this program is set.\n' : 'All is set already.\n');
    for (const { says, run } of steps) {
      if (!dryRun) await run();
      io.out(`${dryRun && says.isChange ? 'would be ' : ''}${says.text}\n`);
    }
    if (dryRun) io.out('Nothing was changed.\n');
    else if (!undo && steps.some(({ says }) => says.isChange))
      io.out(
        '.gitattributes can be committed; the settings are of this clone alone, so others run this too.\n' +
          'git blame of campaign files now counts results as lines that somebody wrote; git blame --no-textconv leaves them out.\n',
      );
    return exitStatus.pass;
  } catch (error) {
    if (!(error instanceof GitFailure || error instanceof NotSet)) throw error;
    complain(io, error.message);
    return exitStatus.notComputable;
  }
}

interface Step {
  readonly says: { readonly text: string; readonly isChange: boolean };
  readonly run: () => Promise<unknown>;
}

const change = (text: string, run: Step['run']): Step => ({ says: { text, isChange: true }, run });
const remark = (text: string): Step => ({ says: { text, isChange: false }, run: () => Promise.resolve() });

async function attributeStep(top: string, undo: boolean): Promise<Step | undefined> {
  const file = path.join(top, '.gitattributes');
  const text = await attributesIn(file);
  const lines = (text ?? '').split(/\r?\n/);
  const isThere = lines.includes(attribute);
  if (!undo) {
    if (isThere) return undefined;
    const other = lines.find((line) => /^\*\.sweepbook\s.*\bdiff\b/.test(line));
    if (other !== undefined)
      return remark(`left as it is: ${file} has the line "${other}"; with it these settings have no effect`);
    return change(`added to ${file}: ${attribute}`, () => writeAttributes(file, withLine(text ?? '')));
  }
  if (!isThere) return undefined;
  const left = withoutLine(text!);
  return change(
    `removed from ${file}: ${attribute}${left === '' ? ' (and the file, which is empty now)' : ''}`,
    () => writeAttributes(file, left),
  );
}

/** Each byte is a letter, whatever encoding the file has, so that every other line stays as it is. */
const encoding = 'latin1';

async function attributesIn(file: string): Promise<string | undefined> {
  const content = await readPlainFile(file, longestAttributes);
  if (content.ok) return Buffer.from(content.bytes).toString(encoding);
  if (content.reason === 'missing') return undefined;
  throw new NotSet(`${file} ${failureText(content)}; nothing was changed`);
}

async function writeAttributes(file: string, text: string): Promise<void> {
  try {
    await (text === '' ? rm(file) : writeWhole(file, Buffer.from(text, encoding)));
  } catch (error) {
    throw new NotSet(`${file} could not be written (${(error as Error).message})`);
  }
}

/** A file that does not end with a line end does not get one, so that it can be taken back to the byte. */
export function withLine(text: string): string {
  const end = text.includes('\r\n') ? '\r\n' : '\n';
  return text === '' || text.endsWith('\n') ? `${text}${attribute}${end}` : `${text}${end}${attribute}`;
}

export function withoutLine(text: string): string {
  const own = attribute.replace('*', '\\*');
  return text.replace(new RegExp(`^${own}\\r?\\n|\\r?\\n${own}$|^${own}$`, 'm'), '');
}

async function configSteps(top: string, undo: boolean, program: string): Promise<Step[]> {
  const wanted = [
    { key: converter, value: `${program} with-results` },
    { key: heading.key, value: heading.value },
  ];
  const steps: Step[] = [];
  for (const { key, value } of wanted) {
    const known = await gitLine(top, 'config', '--local', '--get', key).catch(() => undefined);
    if (known === undefined ? undo : known === value && !undo) continue;
    const isOwn = key === converter ? known?.endsWith(' with-results') : known === value;
    if (known !== undefined && !isOwn) {
      if (key === converter && !undo)
        throw new NotSet(
          `another program set ${key} = ${known}; nothing was changed. To replace it: git config --unset ${key}, then git-setup again`,
        );
      steps.push(remark(`left as it is, since another program set it: ${key} = ${known}`));
    } else if (undo)
      steps.push(
        change(`removed from the settings of this clone: ${key} = ${known!}`, () =>
          git(top, 'config', '--local', '--unset', key),
        ),
      );
    else {
      const former = known === undefined ? '' : ` (it was ${known})`;
      steps.push(
        change(`set for this clone: ${key} = ${value}${former}`, () =>
          git(top, 'config', '--local', key, value),
        ),
      );
    }
  }
  return steps;
}

/** Git gives it to a shell, on every system. */
function ownProgram(): string {
  return [process.execPath, process.argv[1] ?? 'sweepbook'].map(quoted).join(' ');
}

function quoted(word: string): string {
  const slashes = path.sep === '\\' ? word.replaceAll('\\', '/') : word;
  return `'${slashes.replaceAll("'", `'\\''`)}'`;
}
