/** What every reader of a table does first: decode, find the delimiter, the header and the columns. */
import type { ColumnMap, LayoutRecord } from '../campaign/model.js';
import { mapColumns, type Columns } from './columnMapping.js';
import { decodeText, type Encoding } from './decodeText.js';
import { recogniseDelimiter, type Delimiter } from './delimiters.js';
import type { ColumnRole } from './headerWords.js';
import { error, shownList, warning } from './readingProblems.js';
import type { ReadingProblem } from './sweepReading.js';
import { recogniseShape, trimmed, type Shape, type TableShape } from './tableShape.js';
import { prepareTable, rowBatches, type RowBatch } from './tableText.js';
import { wrongSkip } from './wrongSkip.js';

export interface OpenTable {
  readonly encoding: Encoding;
  readonly delimiter: Delimiter;
  readonly shape: TableShape;
  readonly columns: Columns;
  readonly guessed: boolean;
  /** The text ends in the middle of a line, or its writer puts no line end there. */
  readonly unfinished: boolean;
  readonly first: RowBatch;
  /** Those after the first. */
  readonly rest: Iterable<RowBatch>;
}

export interface Opened {
  readonly table?: OpenTable;
  readonly problems: readonly ReadingProblem[];
}

/** `table` is there even when a column is missing; then `problems` holds an error. */
export function openTable(
  bytes: Uint8Array,
  layout: LayoutRecord | undefined,
  given: ColumnMap,
  wanted: readonly ColumnRole[],
): Opened {
  const decoded = decodeText(bytes);
  if (!decoded.ok) return { problems: [decoded.problem] };
  const { encoding, text } = decoded;
  const delimiter = layout?.delimiter ?? recogniseDelimiter(text);
  const prepared = prepareTable(text, delimiter);
  const batches = rowBatches(prepared);
  const first = batches.next().value as RowBatch;
  const named = Object.values(given).flatMap((name) =>
    name?.header === undefined ? [] : [name.header as string],
  );
  const found = recogniseShape(first, layout, named);
  if (found.kind !== 'table') return { problems: [noNumbers(found)] };
  const { shape } = found;
  const both = commaTwice(shape, delimiter);
  if (both) return { problems: [both] };
  const skipped = wrongSkip(shape, layout, given, first);
  if (skipped) return { problems: [skipped] };
  const mapping = mapColumns(shape, given, wanted);
  const problems = [...mapping.problems];
  if (prepared.brokenQuoteLine !== undefined) {
    const message =
      'A quotation mark opens here and is not closed before the next delimiter or line end; quotation marks were read as plain characters.';
    problems.push(warning('broken-quote', message, { line: prepared.brokenQuoteLine }));
  }
  const unfinished = !text.endsWith('\n');
  const { columns, guessed } = mapping;
  return {
    table: { encoding, delimiter, shape, columns, guessed, unfinished, first, rest: batches },
    problems,
  };
}

function noNumbers(found: Exclude<Shape, { kind: 'table' }>): ReadingProblem {
  if (found.kind === 'header-only') {
    const message = `The header ${shownList(found.names)} has no rows of numbers under it.`;
    return error('no-data', message, { line: found.line });
  }
  const message = `No table of numbers was found: a sweep needs rows that hold a voltage and a current. The text begins with ${shownList(found.sample)}.`;
  return error('no-table', message, { line: found.line });
}

/** `12,5,8,3` or `4,83,11` under `V,I`: a field more for each number that two fields make. */
function commaTwice(shape: TableShape, delimiter: Delimiter): ReadingProblem | undefined {
  if (delimiter !== ',' || !shape.header) return undefined;
  const fields = trimmed(shape.sample).map((field) => field.trim());
  const more = fields.length - shape.header.cells.length;
  if (more < 1 || !fields.every((field) => /^[+-]?\d+(\.\d*)?$/.test(field))) return undefined;
  let pairs = 0;
  for (let at = 0; at + 1 < fields.length; at++) {
    if (!/^[+-]?\d+$/.test(fields[at]!) || !/^\d+$/.test(fields[at + 1]!)) continue;
    pairs++;
    at++;
  }
  if (pairs < more) return undefined;
  const message = `The header has ${shape.header.cells.length} fields and the rows have ${fields.length}: the comma seems to be both decimal sign and delimiter. Export with a semicolon or tab between fields.`;
  return error('comma-twice', message, { line: shape.dataLine });
}
