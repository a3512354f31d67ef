import type { LayoutRecord } from '../campaign/model.js';
import { openTable } from '../sweeps/openTable.js';
import type { RecognisedLayout } from '../sweeps/recogniseLayout.js';
import type { Columns } from '../sweeps/columnMapping.js';
import type { LineAbove } from './headerFacts.js';

export interface TopOfTable {
  /** What stands above the header, or above the numbers where there is none. */
  readonly above: readonly LineAbove[];
  /** Rows of the table, as far as its first piece reaches. */
  readonly rows: readonly (readonly string[])[];
  readonly columns: Columns;
}

/** Lines above a table that are looked at. */
const mostLines = 200;

/** @param layout with which the table is read, where it needs one */
export function topOfTable(
  bytes: Uint8Array,
  { headerLine, dataLine }: RecognisedLayout,
  layout?: LayoutRecord,
): TopOfTable {
  const roles = ['voltage', 'current', 'irradiance', 'temperature', 'address', 'time', 'date'] as const;
  const { table } = openTable(bytes, layout, layout?.columns ?? {}, roles);
  if (!table) return { above: [], rows: [], columns: {} };
  const { first, shape, columns } = table;
  const above: LineAbove[] = [];
  const end = headerLine ?? dataLine;
  for (let row = 0; row < first.rows.length && first.lineOf(row) < end && above.length < mostLines; row++)
    above.push({ line: first.lineOf(row), fields: first.rows[row]! });
  return { above, rows: first.rows.slice(shape.dataRow), columns };
}
