/** What can be done at a place of a text: fixes of problems, unused blocks removed, units converted, runs split. */
import type { Evaluation } from '../evaluation/evaluation.js';
import { nameAt, type FileDocument } from '../presentation/nameOccurrences.js';
import { fixAll, quickFixes, type Fix, type FixHost } from '../presentation/quickFixes.js';
import { splitRun } from '../presentation/splitRun.js';
import { conversionsAt } from '../presentation/unitConversions.js';
import { unusedNames, type UnusedName } from '../presentation/unusedNames.js';
import type { Document } from '../syntax/document.js';
import type { Range } from '../text/place.js';
import type { FileProblem } from '../text/problem.js';

/** A fix and the problem or the unused name that it mends. */
export interface PlacedFix extends Fix {
  readonly problem?: FileProblem;
  readonly unused?: UnusedName;
}

/** Fixes of every problem that touches the range, with the like ones of the file at once. */
export async function fixesAt(
  evaluation: Evaluation,
  file: string,
  range: Range,
  host: FixHost,
): Promise<PlacedFix[]> {
  const fixes: PlacedFix[] = [];
  for (const problem of evaluation.problems) {
    if (problem.file !== file || !touches(range, problem.range)) continue;
    for (const fix of await quickFixes(problem, evaluation, host)) fixes.push({ ...fix, problem });
    const ofKind = fixAll(evaluation.problems, file, problem.id);
    if (ofKind && ofKind.edits.length > 1) fixes.push({ ...ofKind, problem });
  }
  for (const unused of unusedNames(evaluation)) {
    if (unused.file !== file || !touches(range, unused.range)) continue;
    const { firstLine, lastLine } = unused;
    const lines = { start: { line: firstLine, character: 0 }, end: { line: lastLine + 1, character: 0 } };
    fixes.push({ title: 'Remove the block', edits: [{ file, range: lines, text: '' }], unused });
  }
  return fixes;
}

/** At the start of a range: a quantity in its other units, a string that a run counts given a block of its own. */
export async function rewritesAt(
  evaluation: Evaluation,
  file: string,
  { start }: Range,
  document: Document,
  filesAround: (file: string) => Promise<readonly FileDocument[]>,
): Promise<Fix[]> {
  const conversions = conversionsAt(evaluation.campaign, file, start).map(({ title, range, text }) => ({
    title,
    edits: [{ file, range, text }],
  }));
  const name = nameAt(document, start);
  if (name?.space !== 'string' || name.isGiven) return conversions;
  const split = splitRun(await filesAround(file), name);
  return split
    ? [...conversions, { title: `Give ${name.text} a block of its own`, edits: [split] }]
    : conversions;
}

function touches(a: Range, b: Range): boolean {
  return !isBefore(a, b) && !isBefore(b, a);
}

const isBefore = ({ end }: Range, { start }: Range): boolean =>
  end.line < start.line || (end.line === start.line && end.character < start.character);
