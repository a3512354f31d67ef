/** The published description of the export: as a document and as data. */
import { exportSchemaVersion, exportTables } from './tables.js';
import type { ColumnType } from './exportTable.js';

const inParquet: Readonly<Record<ColumnType, string>> = {
  text: 'BYTE_ARRAY (UTF8)',
  number: 'DOUBLE',
  integer: 'INT32',
  boolean: 'BOOLEAN',
  time: 'INT64 (TIMESTAMP_MILLIS, UTC)',
};

/** What `tables.json` in an export says, and `schema --tables` prints. */
export function tablesDescription() {
  return {
    program: 'sweepbook',
    exportSchemaVersion,
    tables: exportTables.map(({ table: { name, meaning, key, columns } }) => ({
      name,
      meaning,
      key,
      columns: columns.map((column) => ({
        name: column.name,
        type: column.type,
        unit: column.unit,
        meaning: column.meaning,
      })),
    })),
  };
}

/** syntaxes/export-tables.md. */
export function tablesDocument(): string {
  const types = Object.entries(inParquet).map(([type, stored]) => `| ${type} | ${stored} |`);
  return [
    '# Tables of an export',
    '',
    '<!-- Generated from src/export/tables.ts by `npm run generate`; edits here are lost. -->',
    '',
    '`sweepbook export FILE… --to FOLDER --format parquet` (or `csv`) writes each table into a folder of its name, one file for each',
    'campaign: `FOLDER/sweeps/harrow-fen-campaign-1a2b3c4d.parquet`. A folder reads as one table. Exporting a campaign again replaces its files',
    `and no others. \`FOLDER/tables.json\` says the same as this page. Version ${exportSchemaVersion}: new columns may come; none changes or goes`,
    'without the version counting up.',
    '',
    'What is not known is NULL, in CSV an empty field. Units are SI as named; a fraction has the unit 1. Order: as written in the',
    'campaign, points by voltage.',
    '',
    '| type | in Parquet |',
    '|---|---|',
    ...types,
    '',
    'CSV is UTF-8 without a byte order mark, comma, decimal point, line feed; numbers have the shortest digits that give back the',
    "very number. A text that begins with `=`, `+`, `-`, `@`, a tab or a line break has an apostrophe (`'`) before it, and so has one of these",
    'signs behind a semicolon, a tab or a line break within a text, so that no spreadsheet, whatever it takes for a separator, finds a',
    'formula; numbers are untouched, and Parquet holds every text as it is.',
    ...exportTables.flatMap(({ table }) => [
      '',
      `## ${table.name}`,
      '',
      `${table.meaning} Named by ${table.key.map((name) => `\`${name}\``).join(', ')}.`,
      '',
      '| column | type | unit | meaning |',
      '|---|---|---|---|',
      ...table.columns.map(
        ({ name, type, unit, meaning }) =>
          `| \`${name}\` | ${type} | ${unit} | ${meaning.replaceAll('|', '\\|')} |`,
      ),
    ]),
    '',
  ].join('\n');
}
