import papaparse from 'papaparse/papaparse.js';
import { cellOf, type CellValue, type Column, type Table } from './exportTable.js';

/**
 * What a spreadsheet would take for a formula when it opens the file; such a text gets an apostrophe before it. A line feed
 * counts too, since some programs trim it.
 */
export const formulaStart = /^[=+\-@\t\r\n]/;

/**
 * A table as CSV (RFC 4180, but with line feeds alone), UTF-8 without a byte order mark: a header line, decimal points, the shortest
 * digits that give back the very number, `true` and `false`, times as `2026-05-14T10:42:00.000Z`, nothing for what is not known.
 */
export function toCsv<Row>(table: Table<Row>, rows: readonly Row[]): Uint8Array {
  const fields = table.columns.map(({ name }) => name);
  const data = rows.map((row) => table.columns.map((column) => written(column, cellOf(column, row))));
  const text = papaparse.unparse({ fields, data }, { newline: '\n', escapeFormulae: formulaStart });
  return new TextEncoder().encode(`${text}\n`);
}

function written({ type }: Column<never>, value: CellValue): string | number | boolean {
  if (value === undefined) return '';
  return type === 'time' ? new Date(value as number).toISOString() : value;
}
