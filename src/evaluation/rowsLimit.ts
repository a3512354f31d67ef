/** A campaign computes no more rows of tables than can be waited for: few words name a long table a thousand times. */
import type { Placed, SweepRecord, SweepTableRecord } from '../campaign/model.js';
import type { FileProblem } from '../text/problem.js';
import { shiftRange } from '../text/place.js';
import type { Steps } from '../text/steps.js';
import type { FileContent } from './ports.js';

/** Of all tables, each as often as it is named. 20,000 sweeps of 128 points have 2.6 million; the limit is this project's own. */
export const mostRows = 10_000_000;

/** What is said of a sweep that is left out. */
export const beyondRows =
  'Up to this sweep, the tables of the campaign have more than the 10 million rows that are computed.';

/** What is said once, at the first of them. */
export function beyondRowsProblem({ record, block }: Placed<SweepRecord | SweepTableRecord>): FileProblem {
  return {
    id: 'data/too-many-rows',
    severity: 'error',
    file: block.file,
    range: shiftRange(record.data?.range ?? record.headerRange, block.startLine),
    message:
      'With this table the tables of the campaign have more than 10 million rows, each table counted as often as it is named. Sweeps that name a table from here on are not judged: split the campaign, or name tables of fewer points.',
  };
}

/**
 * The first place at which the rows are more than are computed; all after it are left out with it. Infinity where there is none.
 * @param contents of the table that stands at each place, in reading order
 */
export function* firstBeyondRows(contents: readonly (FileContent | undefined)[]): Steps<number> {
  let rows = 0;
  for (const [at, content] of contents.entries()) {
    if (!content?.ok) continue;
    rows += rowsOf(content.bytes);
    if (rows > mostRows) return at;
    yield;
  }
  return Infinity;
}

const counted = new WeakMap<Uint8Array, number>();

function rowsOf(bytes: Uint8Array): number {
  let rows = counted.get(bytes);
  if (rows === undefined) counted.set(bytes, (rows = countRows(bytes)));
  return rows;
}

/** Characters of a row of measured values and some words; a longer line takes as long to read as several. */
const longestRow = 1_000;

/** Line ends of either kind: in UTF-16, too, each has a byte of that value. */
const countRows = (bytes: Uint8Array): number =>
  Math.max(occurrences(bytes, 0x0a), occurrences(bytes, 0x0d), Math.ceil(bytes.length / longestRow));

function occurrences(bytes: Uint8Array, byte: number): number {
  let count = 0;
  for (let at = bytes.indexOf(byte); at >= 0; at = bytes.indexOf(byte, at + 1)) count++;
  return count;
}
