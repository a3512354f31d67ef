/**
 * What a merge leaves in a text that it could not put together: `<<<<<<<`, the lines of one side, `=======`, those of the other,
 * `>>>>>>>`; before the second, where git is told to write it, `|||||||` and what both sides came from (git-merge(1), "How conflicts
 * are presented"). The first side is read; everything else of a conflict is skipped.
 */
import { rangeOnLine } from '../text/place.js';
import type { Mend, Problem } from '../text/problem.js';

/** Lines count from 0. */
export interface Conflict {
  readonly start: number;
  readonly base?: number | undefined;
  readonly middle: number;
  readonly end: number;
  /** What git calls the sides: a branch, a commit; may be empty. */
  readonly firstName: string;
  readonly secondName: string;
}

export interface Conflicts {
  readonly conflicts: readonly Conflict[];
  /** Markers that make no whole conflict. */
  readonly leftOver: readonly number[];
}

export const noConflicts: Conflicts = { conflicts: [], leftOver: [] };

type Marker = '<' | '|' | '=' | '>';

const marker = /^([<|=>])\1{6}(?: (.*))?\s*$/;
const anyMarker = /^([<|=>])\1{6}(?:[ \t\r\n]|$)/m;

/** Is the line one that a merge wrote? Such lines start at the left edge: no text in quotes or behind `#` can be one. */
export function isConflictMarker(line: string): boolean {
  return marker.test(line);
}

const lineEnds = /\r\n|\r|\n/;

export function findConflicts(text: string): Conflicts {
  if (!anyMarker.test(text)) return noConflicts;
  const conflicts: Conflict[] = [];
  const leftOver: number[] = [];
  let open: { start: number; firstName: string; base?: number; middle?: number } | undefined;
  const giveUp = (): void => {
    if (open) leftOver.push(...[open.start, open.base, open.middle].filter((line) => line !== undefined));
    open = undefined;
  };
  for (const [line, content] of text.split(lineEnds).entries()) {
    const [, sign, name = ''] = marker.exec(content) ?? [];
    if (sign === undefined) continue;
    const kind = sign as Marker;
    if (kind === '<') {
      giveUp();
      open = { start: line, firstName: name.trim() };
    } else if (kind === '|' && open && open.base === undefined && open.middle === undefined) open.base = line;
    else if (kind === '=' && open && open.middle === undefined) open.middle = line;
    else if (kind === '>' && open?.middle !== undefined) {
      conflicts.push({ ...open, middle: open.middle, end: line, secondName: name.trim() });
      open = undefined;
    } else {
      giveUp();
      leftOver.push(line);
    }
  }
  giveUp();
  return { conflicts, leftOver };
}

/** Every line that is not read. */
export function unreadLines({ conflicts, leftOver }: Conflicts): ReadonlySet<number> {
  const unread = new Set(leftOver);
  for (const { start, base, middle, end } of conflicts) {
    unread.add(start);
    for (let line = base ?? middle; line <= end; line++) unread.add(line);
  }
  return unread;
}

/** The text as the second side has it. Lines of the first side and markers become empty: all others keep their number. */
export function textOfSecondSide(text: string): string {
  const { conflicts } = findConflicts(text);
  if (conflicts.length === 0) return text;
  const lines = text.split(/(?<=\n)|(?<=\r)(?!\n)/);
  for (const { start, middle, end } of conflicts)
    for (let line = start; line <= end; line++)
      if (line <= middle || line === end) lines[line] = lines[line]!.replace(/^[^\r\n]*/, '');
  return lines.join('');
}

/** One problem for each conflict and for each marker that is left over, in lines of the text. */
export function conflictProblems(text: string, found: Conflicts): Problem[] {
  if (found === noConflicts) return [];
  const lines = text.split(/(?<=\n)|(?<=\r)(?!\n)/);
  return [
    ...found.conflicts.map((conflict) => conflictProblem(conflict, lines)),
    ...found.leftOver.map((line) => leftOverProblem(line, lines)),
  ];
}

function conflictProblem(conflict: Conflict, lines: readonly string[]): Problem {
  const { start, base, middle, end, firstName, secondName } = conflict;
  const named = (name: string): string => (name === '' ? '' : ` (${name})`);
  const message =
    `This merge conflict, lines ${start + 1} to ${end + 1}, is not resolved. What stands above \`=======\`${named(firstName)} is read, ` +
    `what stands below it${named(secondName)} is not. Keep what is right of both, and remove the lines with the marks.`;
  const whole = {
    start: { line: start, character: 0 },
    end: { line: end, character: lines[end]!.replace(/[\r\n]+$/, '').length },
  };
  const keep = (title: string, from: number, to: number): Mend => ({
    title,
    range: whole,
    text: lines
      .slice(from, to)
      .join('')
      .replace(/(?:\r\n|\r|\n)$/, ''),
  });
  const first = keep(`Keep what stands above${named(firstName)}`, start + 1, base ?? middle);
  const second = keep(`Keep what stands below${named(secondName)}`, middle + 1, end);
  return {
    id: 'syntax/merge-conflict',
    severity: 'error',
    message,
    range: lineRange(start, lines),
    mends: [first, second],
  };
}

function leftOverProblem(line: number, lines: readonly string[]): Problem {
  const range = lineRange(line, lines);
  const mend: Mend = {
    title: 'Remove the line',
    range: { start: range.start, end: { line: line + 1, character: 0 } },
    text: '',
  };
  return {
    id: 'syntax/conflict-marker',
    severity: 'error',
    message:
      'This line is left over from a merge conflict. Remove it, and see whether the lines around it are meant.',
    range,
    mends: [mend],
  };
}

function lineRange(line: number, lines: readonly string[]) {
  return rangeOnLine(line, 0, lines[line]!.replace(/[\r\n]+$/, '').length);
}
