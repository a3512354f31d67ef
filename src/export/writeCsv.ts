import papaparse from 'papaparse/papaparse.js';
import { cellOf, type CellValue, type Column, type Table } from './exportTable.js';

/**
 * Where a spreadsheet would find the start of a formula when it opens the file: at the start of a text, and behind what separates cells
 * for a program that is set to semicolons or tabs and so cuts the text there (OWASP, "CSV Injection"). A line feed counts at the start
 * too, since some programs trim it.
 */
const formulaStart = /^(?=[\t\r\n])|(?<=^|[;\t\r\n])(?="*[=+\-@])/g;

/**
 * A table as CSV (RFC 4180, but with line feeds alone), UTF-8 without a byte order mark: a header line, decimal points, the shortest
 * digits that give back the very number, `true` and `false`, times as `2026-05-14T10:42:00.000Z`, nothing for what is not known.
 */
export function toCsv<Row>(table: Table<Row>, rows: readonly Row[]): Uint8Array {
  const fields = table.columns.map(({ name }) => name);
  const data = rows.map((row) => table.columns.map((column) => written(column, cellOf(column, row))));
  const text = papaparse.unparse({ fields, data }, { newline: '\n' });
  return new TextEncoder().encode(`${text}\n`);
}

function written({ type }: Column<never>, value: CellValue): string | number | boolean {
  if (value === undefined) return '';
  if (typeof value === 'string') return value.replace(formulaStart, "'");
  return type === 'time' ? new Date(value as number).toISOString() : value;
}
