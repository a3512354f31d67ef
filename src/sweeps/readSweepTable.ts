/**
 * One sweep from one file.
 *
 * Recognised: UTF-8, UTF-16 with byte order mark, Latin-1; comma, semicolon, tab, bar or spaces between fields; decimal
 * dot or comma; LF, CRLF, CR; lines of words above the header; a header with or without units (see headerWords.ts), a
 * row of units below it; or no header and two columns; either order of sweep; either sign of current; columns of
 * irradiance and temperature per point; other columns are ignored. What a layout says is followed, the rest recognised.
 */
import type { LayoutRecord } from '../campaign/model.js';
import { finishSweep } from './finishSweep.js';
import { openTable } from './openTable.js';
import { collectRows } from './pointRows.js';
import type { ReadingProblem, ReadingResult } from './sweepReading.js';
import { noPoints } from './sweepPoints.js';

export function readSweepTable(bytes: Uint8Array, layout?: LayoutRecord): ReadingResult {
  const given = layout?.columns ?? {};
  const opened = openTable(bytes, layout, given, ['voltage', 'current', 'irradiance', 'temperature']);
  if (!opened.table || hasError(opened.problems)) return { problems: opened.problems };
  const points = noPoints();
  const found = collectRows(opened.table, () => points);
  const problems = [...opened.problems, ...found];
  if (hasError(found)) return { problems };
  const result = finishSweep(points, {
    sign: layout?.sign,
    columnsGiven: given.voltage !== undefined && given.current !== undefined,
    guessed: opened.table.guessed,
  });
  return { reading: result.reading, problems: asOne([...problems, ...result.problems]) };
}

/** A file that was cut off ends early: that is one mistake, said once. */
function asOne(problems: readonly ReadingProblem[]): readonly ReadingProblem[] {
  const cut = problems.find(({ id }) => id === 'sweep/last-line-cut');
  const early = problems.find(({ id }) => id === 'sweep/ends-before-maximum-power');
  if (!cut || !early) return problems;
  const both = { ...cut, message: `${cut.message} ${early.message}` };
  return problems.flatMap((problem) => (problem === cut ? [both] : problem === early ? [] : [problem]));
}

export function hasError(problems: readonly ReadingProblem[]): boolean {
  return problems.some((problem) => problem.severity === 'error');
}
