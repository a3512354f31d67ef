/** The tables of an export, in one place: writers, documents and tests read this list. */
import {
  electricalRows,
  findingRows,
  pointRows,
  replacementRows,
  stringRows,
  sweepRows,
  type ExportSource,
} from './campaignRows.js';
import { campaigns, electricalTests, replacements, strings } from './campaignTables.js';
import type { Table } from './exportTable.js';
import { findings, points, sweeps } from './sweepTables.js';

export type RowWriter = <Row>(table: Table<Row>, rows: readonly Row[]) => Uint8Array;

export interface WrittenTable {
  readonly bytes: Uint8Array;
  readonly rows: number;
}

export interface ExportTable {
  readonly table: Table<never>;
  /** The rows of one campaign, as bytes. */
  readonly write: (source: ExportSource, writer: RowWriter) => WrittenTable;
}

function exported<Row>(table: Table<Row>, rowsOf: (source: ExportSource) => readonly Row[]): ExportTable {
  return {
    table: table as Table<never>,
    write: (source, writer) => {
      const rows = rowsOf(source);
      return { bytes: writer(table, rows), rows: rows.length };
    },
  };
}

export const exportTables: readonly ExportTable[] = [
  exported(campaigns, (source) => [{ source }]),
  exported(strings, stringRows),
  exported(sweeps, sweepRows),
  exported(points, pointRows),
  exported(findings, findingRows),
  exported(electricalTests, electricalRows),
  exported(replacements, replacementRows),
];

/** Counts up when a column changes its name, type, unit or meaning, or goes. A new column leaves it as it is. */
export const exportSchemaVersion = 1;
