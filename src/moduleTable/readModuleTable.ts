/**
 * Reads a module table in the CSV form of the California Energy Commission's list with five-parameter columns, as open
 * energy-modelling libraries carry it: a header row, a row of units that begins with `Units`, sometimes a row that begins
 * with `[0]`, then one module a row. Columns are found by name, in any order; others are left alone.
 */
import { findUnit } from '../campaign/units.js';
import type { Dimension } from '../campaign/quantity.js';
import { decodeText } from '../sweeps/decodeText.js';
import { prepareTable, rowBatches } from '../sweeps/tableText.js';

/** Values as the table writes them, in the units of `tableUnits`. Undefined: no such column, or an empty field. */
export interface ModuleRow {
  /** Line of the file, from 1. */
  readonly line: number;
  readonly name: string;
  readonly manufacturer?: string;
  readonly technology?: string;
  /** Cells in series. */
  readonly cells?: string;
  readonly stcPower?: string;
  readonly isc?: string;
  readonly voc?: string;
  readonly imp?: string;
  readonly vmp?: string;
  readonly alpha?: string;
  readonly beta?: string;
  readonly gamma?: string;
  readonly bifacial?: string;
}

export interface ModuleTable {
  readonly rows: readonly ModuleRow[];
  /** Lines without a name, which were passed over. */
  readonly skipped: readonly number[];
}

export type ModuleTableResult =
  { readonly ok: true; readonly table: ModuleTable } | { readonly ok: false; readonly message: string };

type Field = Exclude<keyof ModuleRow, 'line'>;

/** Names of a column; the first is the usual one. */
const columnNames: Readonly<Record<Field, readonly string[]>> = {
  name: ['Name'],
  manufacturer: ['Manufacturer'],
  technology: ['Technology'],
  cells: ['N_s'],
  stcPower: ['STC'],
  isc: ['I_sc_ref'],
  voc: ['V_oc_ref'],
  imp: ['I_mp_ref'],
  vmp: ['V_mp_ref'],
  alpha: ['alpha_sc'],
  beta: ['beta_oc'],
  gamma: ['gamma_r', 'gamma_pmp'],
  bifacial: ['Bifacial'],
};
const fields = Object.keys(columnNames) as Field[];
const neededFields: readonly Field[] = ['name', 'isc', 'voc', 'imp', 'vmp'];

/** The units in which the fields are read. A row of units that says otherwise makes the table unreadable. */
export const tableUnits: Readonly<Partial<Record<Field, { unit: string; dimension: Dimension }>>> = {
  isc: { unit: 'A', dimension: 'current' },
  voc: { unit: 'V', dimension: 'voltage' },
  imp: { unit: 'A', dimension: 'current' },
  vmp: { unit: 'V', dimension: 'voltage' },
  alpha: { unit: 'A/K', dimension: 'currentPerKelvin' },
  beta: { unit: 'V/K', dimension: 'voltagePerKelvin' },
  gamma: { unit: '%/K', dimension: 'fractionPerKelvin' },
};

/** Never throws: a file that is no such table gives a message that says what is missing. */
export function readModuleTable(bytes: Uint8Array): ModuleTableResult {
  const decoded = decodeText(bytes);
  if (!decoded.ok) return failed(readable(decoded.problem.id, decoded.problem.message));
  const prepared = prepareTable(decoded.text, delimiterOf(decoded.text));
  if (prepared.brokenQuoteLine !== undefined)
    return failed(
      `A quotation mark opens on line ${prepared.brokenQuoteLine} and is not closed as it should be.`,
    );
  let columns: ReadonlyMap<Field, number> | undefined;
  const rows: ModuleRow[] = [];
  const skipped: number[] = [];
  for (const batch of rowBatches(prepared)) {
    for (const [index, cells] of batch.rows.entries()) {
      if (cells.every((cell) => cell.trim() === '')) continue;
      const line = batch.lineOf(index);
      if (!columns) {
        const header = readHeader(cells, line);
        if (typeof header === 'string') return failed(header);
        columns = header;
        continue;
      }
      const first = cells[0]!.trim();
      if (/^units$/i.test(first)) {
        const wrong = wrongUnit(cells, columns);
        if (wrong) return failed(`${wrong} (row of units, line ${line}).`);
      } else if (!/^\[\d+\]$/.test(first)) {
        const row = readRow(cells, columns, line);
        if (row) rows.push(row);
        else skipped.push(line);
      }
    }
  }
  if (rows.length === 0) return failed('The table has a header and no modules under it.');
  return { ok: true, table: { rows, skipped } };
}

const failed = (message: string): ModuleTableResult => ({ ok: false, message });

/** decodeText speaks of sweeps where a file has nothing in it. */
function readable(id: string, message: string): string {
  return id === 'sweep/empty-file' ? 'The file is empty.' : message;
}

/** The one that the header line holds most of: a spreadsheet may have written semicolons or tabs. */
function delimiterOf(text: string): ',' | ';' | '\t' {
  const line = text.slice(0, text.indexOf('\n') < 0 ? undefined : text.indexOf('\n'));
  const count = (mark: string): number => line.split(mark).length;
  const marks = [',', ';', '\t'] as const;
  return marks.reduce((best, mark) => (count(mark) > count(best) ? mark : best), ',');
}

const key = (text: string): string => text.trim().toLowerCase();

function readHeader(cells: readonly string[], line: number): ReadonlyMap<Field, number> | string {
  const found = new Map<Field, number>();
  for (const field of fields) {
    const names = columnNames[field].map(key);
    const at = cells.findIndex((cell) => names.includes(key(cell)));
    if (at >= 0) found.set(field, at);
  }
  const absent = neededFields.filter((field) => !found.has(field)).map((field) => columnNames[field][0]!);
  if (absent.length === 0) return found;
  return (
    `Line ${line} is not the header of a module table: there is no column ${absent.join(', ')}. ` +
    'Wanted is the CSV form with the columns Name, Technology, N_s, I_sc_ref, V_oc_ref, I_mp_ref, V_mp_ref, alpha_sc, beta_oc, gamma_r.'
  );
}

function wrongUnit(cells: readonly string[], columns: ReadonlyMap<Field, number>): string | undefined {
  for (const [field, at] of columns) {
    const wanted = tableUnits[field];
    const written = cells[at]?.trim() ?? '';
    if (!wanted || written === '') continue;
    const unit = findUnit(written.replace(/\/\s*C$/, '/K'), [wanted.dimension]);
    if (unit !== findUnit(wanted.unit, [wanted.dimension]))
      return `The unit of ${columnNames[field][0]!} is ${wanted.unit}, not ${written}`;
  }
  return undefined;
}

function readRow(
  cells: readonly string[],
  columns: ReadonlyMap<Field, number>,
  line: number,
): ModuleRow | undefined {
  const row: Partial<Record<Field, string>> = {};
  for (const [field, at] of columns) {
    const text = cells[at]?.trim();
    if (text) row[field] = text;
  }
  return row.name === undefined ? undefined : { ...row, name: row.name, line };
}
