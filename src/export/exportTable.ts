/** What a table of an export is: named, typed columns with units and meanings, and how each value is had from a row. */

/**
 * `text`, `number` (64-bit floating point), `integer` (32 bit), `boolean`, `time` (a moment, UTC, to the millisecond). A value that is
 * not known is undefined, and is written as NULL.
 */
export type ColumnType = 'text' | 'number' | 'integer' | 'boolean' | 'time';

/** `time` values are milliseconds since 1970 UTC. */
export type CellValue = string | number | boolean | undefined;

export interface Column<Row> {
  /** Lower case, words joined by `_`. */
  readonly name: string;
  readonly type: ColumnType;
  /** `W`, `degC`, `1` for a fraction; empty where there is none. */
  readonly unit: string;
  /** One sentence, for the documents. */
  readonly meaning: string;
  /** Of the row; one that is not finite counts as unknown. */
  readonly of: (row: Row) => CellValue;
}

export interface Table<Row> {
  readonly name: string;
  /** What one row is, and which columns name it. */
  readonly meaning: string;
  /** Columns that together name a row. */
  readonly key: readonly string[];
  readonly columns: readonly Column<Row>[];
}

type Maker = <Row>(name: string, unit: string, meaning: string, of: (row: Row) => CellValue) => Column<Row>;

const maker =
  (type: ColumnType): Maker =>
  (name, unit, meaning, of) => ({ name, type, unit, meaning, of });

export const number = maker('number');
export const integer = maker('integer');

export const text = <Row>(
  name: string,
  meaning: string,
  of: (row: Row) => string | undefined,
): Column<Row> => ({
  name,
  type: 'text',
  unit: '',
  meaning,
  of,
});

export const yesNo = <Row>(
  name: string,
  meaning: string,
  of: (row: Row) => boolean | undefined,
): Column<Row> => ({
  name,
  type: 'boolean',
  unit: '',
  meaning,
  of,
});

export const moment = <Row>(
  name: string,
  meaning: string,
  of: (row: Row) => number | undefined,
): Column<Row> => ({
  name,
  type: 'time',
  unit: '',
  meaning,
  of,
});

/** The value as it is written: unknown where it is no number, empty or not finite; never minus zero. */
export function cellOf<Row>(column: Column<Row>, row: Row): CellValue {
  const value = column.of(row);
  if (typeof value === 'number') return Number.isFinite(value) ? value + 0 : undefined;
  return value === '' ? undefined : value;
}
