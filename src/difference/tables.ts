/** The tables of two campaigns: which are the same by name, and which hold something else. */
import type { Evaluation, Sources } from '../evaluation/evaluation.js';
import { isSameContent } from '../evaluation/fileStore.js';
import { failureText } from '../evaluation/loadFiles.js';
import type { FileContent } from '../evaluation/ports.js';
import { decodeText } from '../sweeps/decodeText.js';
import { rangeOnLine } from '../text/place.js';
import type { Change, Written } from './changes.js';

/** One of the two campaigns that are compared. */
export interface Side {
  readonly evaluation: Evaluation;
  /** A file by a name that it has in both campaigns; by its key where the host gives none. */
  readonly nameOf?: (file: string) => string;
}

export interface TableChange {
  readonly name: string;
  readonly change: Change;
}

/** The table that a path names, by a name that it has in both campaigns. */
export class Tables {
  readonly #byName = new Map<string, { readonly file: string; readonly content: FileContent }>();
  readonly #nameOf: (file: string) => string;

  constructor(
    readonly sources: Sources,
    nameOf: Side['nameOf'] = (file) => file,
  ) {
    this.#nameOf = nameOf;
    for (const [file, content] of sources.tables) this.#byName.set(nameOf(file), { file, content });
  }

  nameOf(from: string, path: string): string {
    const file = this.sources.resolve(from, path);
    return file === undefined ? `outside: ${path}` : this.#nameOf(file);
  }

  get names(): readonly string[] {
    return [...this.#byName.keys()];
  }

  get(name: string): { readonly file: string; readonly content: FileContent } | undefined {
    return this.#byName.get(name);
  }
}

/** The tables that both campaigns read and that hold something else now. */
export function tableChanges(before: Tables, after: Tables): TableChange[] {
  return after.names.flatMap((name): TableChange[] => {
    const [old, now] = [before.get(name), after.get(name)];
    if (!old || !now || isSameContent(old.content, now.content)) return [];
    return [{ name, change: tableChange(old, now, after.sources.displayName(now.file)) }];
  });
}

type Known = NonNullable<ReturnType<Tables['get']>>;

function tableChange(old: Known, now: Known, name: string): Change {
  const subject = { kind: 'table', name };
  const base = { kind: 'changed', subject, wordsOnly: false } as const;
  const [a, b] = [linesOf(old.content), linesOf(now.content)];
  if (!a || !b) return { ...base, before: wholeTable(old, a), after: wholeTable(now, b) };
  const { first, differing } = comparedLines(a, b);
  if (differing === 0)
    return {
      ...base,
      before: wholeTable(old, a),
      after: wholeTable(now, b),
      detail: 'line ends or encoding alone',
    };
  const at = ({ file }: Known, lines: readonly string[]): Written => ({
    text: lines[first]?.trim().slice(0, 60) ?? '',
    place: { file, range: rangeOnLine(first, 0, lines[first]?.length ?? 0) },
  });
  const many = differing === 1 ? '1 line differs' : `${differing} lines differ`;
  return { ...base, before: at(old, a), after: at(now, b), detail: `${many} of ${b.length}` };
}

function wholeTable({ file, content }: Known, lines: readonly string[] | undefined): Written {
  const text = content.ok ? `${lines?.length ?? 0} lines` : failureText(content);
  return { text, place: { file, range: rangeOnLine(0, 0, 0) } };
}

function linesOf(content: FileContent): string[] | undefined {
  if (!content.ok) return undefined;
  const decoded = decodeText(content.bytes);
  return decoded.ok ? decoded.text.replace(/\r?\n$/, '').split(/\r\n|\r|\n/) : undefined;
}

/** What the two have in common at their start and end is left out; the rest counts. */
function comparedLines(a: readonly string[], b: readonly string[]): { first: number; differing: number } {
  let first = 0;
  while (first < a.length && first < b.length && a[first] === b[first]) first++;
  let last = 0;
  const room = Math.min(a.length, b.length) - first;
  while (last < room && a[a.length - 1 - last] === b[b.length - 1 - last]) last++;
  const [before, after] = [a.slice(first, a.length - last), b.slice(first, b.length - last)];
  if (before.length !== after.length) return { first, differing: Math.max(before.length, after.length) };
  return { first, differing: after.filter((line, index) => line !== before[index]).length };
}
