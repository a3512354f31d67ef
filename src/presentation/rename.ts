/** Gives a thing another name, everywhere it is named. Refuses, with the reason, what would change what the campaign says. */
import { faultOfName, normalName } from '../campaign/names.js';
import type { Document } from '../syntax/document.js';
import { lexLine } from '../syntax/lexLine.js';
import type { Position, Range } from '../text/place.js';
import type { FileEdit } from './fileEdit.js';
import { nameAt, type FileDocument, type NamedTarget } from './nameOccurrences.js';
import { placesOf } from './references.js';

export interface Refusal {
  readonly refusal: string;
}

/** What would be renamed at a position: the place to edit, and what stands there. */
export function renameableAt(
  document: Document,
  position: Position,
): { readonly target: NamedTarget; readonly range: Range } | Refusal {
  const name = nameAt(document, position);
  if (!name)
    return {
      refusal:
        'Only names can be renamed: of strings, modules, instruments, criteria, planes, layouts, sites and campaigns.',
    };
  if (name.run) return { refusal: runRefusal(name.run) };
  return { target: { space: name.space, text: name.text }, range: name.range };
}

function runRefusal(run: readonly string[], one?: string): string {
  const whole = `\`${run[0]!} .. ${run.at(-1)!}\``;
  const subject = one === undefined ? 'A run counts its names' : `\`${one}\` is counted by the run ${whole}`;
  return `${subject}; split the run first, by "Give … a block of its own" on the address of the string.`;
}

/**
 * @param files all that may name it; see `filesAround`
 * @param tableNaming the table that names a string in one of its rows, if one does: tables are not rewritten
 */
export function renameEdits(
  files: readonly FileDocument[],
  target: NamedTarget,
  newName: string,
  tableNaming: (string: string) => string | undefined = () => undefined,
): { readonly edits: readonly FileEdit[] } | Refusal {
  const places = placesOf(files, target);
  const fault = faultOfNewName(target, newName);
  if (fault) return { refusal: fault };
  const text = normalName(newName);
  if (text === target.text) return { edits: [] };
  if (!places.some(({ isGiven }) => isGiven))
    return { refusal: `Nothing here gives the name \`${target.text}\`: describe it in a block first.` };
  const run = places.find((place) => place.run)?.run;
  if (run) return { refusal: runRefusal(run, target.text) };
  const taken = placesOf(files, { ...target, text })[0];
  if (taken)
    return { refusal: `The name \`${text}\` is taken${taken.isGiven ? '' : ': it is referred to already'}.` };
  const table = target.space === 'string' ? tableNaming(target.text) : undefined;
  if (table !== undefined)
    return {
      refusal: `The table ${table} names \`${target.text}\` in its rows, and measured data are not rewritten: its sweeps would lose their string.`,
    };
  return { edits: places.map(({ file, range }) => ({ file, range, text })) };
}

function faultOfNewName(target: NamedTarget, newName: string): string | undefined {
  const fault = faultOfName(newName);
  if (fault) return fault;
  // `a..b` would be read as a run, `a-b` not: the reader of lines decides.
  const [only, ...more] = lexLine(newName, 0).tokens;
  if (only?.kind !== 'word' || only.text !== newName || more.length > 0)
    return `\`${newName}\` would not be read as one name.`;
  if (target.space === 'string' && newName === 'at') return '`at` stands before a time and names no string.';
  return undefined;
}
