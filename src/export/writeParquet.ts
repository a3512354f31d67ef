import { parquetWriteBuffer } from 'hyparquet-writer/src/index.js';
import { cellOf, type CellValue, type ColumnType, type Table } from './exportTable.js';

const types = {
  text: 'STRING',
  number: 'DOUBLE',
  integer: 'INT32',
  boolean: 'BOOLEAN',
  time: 'TIMESTAMP',
} as const satisfies Readonly<Record<ColumnType, string>>;

/** Rows of one row group: what a reader holds of a column at once. */
const rowGroup = 100_000;

/**
 * A table as one Parquet file: every column optional, numbers as 64-bit floating point with all their digits, times as milliseconds
 * UTC, compressed with Snappy. The same rows give the same bytes.
 */
export function toParquet<Row>(table: Table<Row>, rows: readonly Row[]): Uint8Array {
  const columnData = table.columns.map((column) => ({
    name: column.name,
    type: types[column.type],
    nullable: true,
    data: rows.map((row) => stored(column.type, cellOf(column, row))),
  }));
  const buffer = parquetWriteBuffer({ columnData, rowGroupSize: rowGroup, createdBy: 'sweepbook' });
  return new Uint8Array(buffer);
}

function stored(type: ColumnType, value: CellValue): string | number | boolean | Date | null {
  if (value === undefined) return null;
  return type === 'time' ? new Date(value as number) : value;
}
