/**
 * Where the header, the units and the data of a table stand. The data begin at the first row that holds at least two
 * numbers and is followed by another like it; the header is the nearest row above it that names a voltage and a
 * current, or else the nearest that looks like names; a row of units may stand between.
 */
import type { LayoutRecord } from '../campaign/model.js';
import { findUnit, type ColumnUnit } from './columnUnits.js';
import { readHeaderCell, type HeaderCell } from './headerWords.js';
import { looksNumeric, recogniseDecimal, type DecimalSign } from './numberText.js';
import type { RowBatch } from './tableText.js';

type Fields = readonly string[];

export interface TableShape {
  readonly decimal: DecimalSign;
  readonly header?: { readonly line: number; readonly cells: readonly HeaderCell[] };
  readonly units?: { readonly line: number; readonly cells: readonly (ColumnUnit | undefined)[] };
  /** Index of the first data row in the first batch. */
  readonly dataRow: number;
  readonly dataLine: number;
  /** Fields of a full row. */
  readonly width: number;
  /** A row of numbers as an example. */
  readonly sample: Fields;
}

export type Shape =
  | { readonly kind: 'table'; readonly shape: TableShape }
  /** Header words were found and no numbers under them. */
  | { readonly kind: 'header-only'; readonly line: number; readonly names: Fields }
  | { readonly kind: 'no-table'; readonly line: number; readonly sample: Fields };

/** How far above the numbers a header is sought. */
const headerReach = 60;
/** Rows of numbers among the words above a table, at most; beyond, they are the table. */
const decoyRows = 24;

export function recogniseShape(
  batch: RowBatch,
  layout: LayoutRecord | undefined,
  named: readonly string[],
): Shape {
  const { rows } = batch;
  const from = firstRowAfter(batch, layout?.skip ?? 0);
  const free = layout?.skip === undefined && layout?.header !== false;
  const plainHeader = free ? findPlainHeader(rows, from, named) : -1;
  const headerIsNext = layout?.skip !== undefined && layout.header !== false;
  const numbersAt = firstRowOfNumbers(rows, plainHeader >= 0 ? plainHeader : headerIsNext ? from + 1 : from);
  if (numbersAt < 0) return withoutNumbers(batch, from);
  const headerAt = plainHeader >= 0 ? plainHeader : findHeader(rows, from, numbersAt, layout, named);
  const unitsAt = headerAt < 0 ? -1 : findUnitsRow(rows, headerAt, numbersAt);
  const above = Math.max(headerAt, unitsAt);
  const dataRow = above < 0 ? numbersAt : above + 1;
  const sample = rows[numbersAt]!;
  const header = headerAt < 0 ? undefined : rows[headerAt]!;
  return {
    kind: 'table',
    shape: {
      decimal: layout?.decimal ?? recogniseDecimal(fieldsFrom(rows, numbersAt)) ?? '.',
      header: header && { line: batch.lineOf(headerAt), cells: trimmed(header).map(readHeaderCell) },
      units: unitsAt < 0 ? undefined : { line: batch.lineOf(unitsAt), cells: rows[unitsAt]!.map(findUnit) },
      dataRow,
      dataLine: batch.lineOf(numbersAt),
      width: Math.max(trimmed(sample).length, header ? trimmed(header).length : 0),
      sample,
    },
  };
}

/** Without the empty fields at its end. */
export function trimmed(fields: Fields): Fields {
  let length = fields.length;
  while (length > 0 && isBlank(fields[length - 1]!)) length--;
  return length === fields.length ? fields : fields.slice(0, length);
}

function isBlank(field: string): boolean {
  return field === '' || field.trim() === '';
}

function isBlankRow(row: Fields): boolean {
  return row.every(isBlank);
}

function firstRowAfter(batch: RowBatch, skip: number): number {
  let row = 0;
  while (row < batch.rows.length && batch.lineOf(row) <= skip) row++;
  while (row < batch.rows.length && isBlankRow(batch.rows[row]!)) row++;
  return row;
}

function countNumbers(row: Fields): number {
  let count = 0;
  for (const field of row) if (looksNumeric(field)) count++;
  return count;
}

/** The first row with two numbers whose next filled row has two as well, else the first with two. */
function firstRowOfNumbers(rows: readonly Fields[], from: number): number {
  let alone = -1;
  let previous = -1;
  for (let row = from; row < rows.length; row++) {
    if (isBlankRow(rows[row]!)) continue;
    if (countNumbers(rows[row]!) < 2) {
      previous = -1;
      continue;
    }
    if (previous >= 0) return previous;
    if (alone < 0) alone = row;
    previous = row;
  }
  return alone;
}

/**
 * The first row that holds all names a layout gives or, where it gives none, names a voltage and a current, and that has
 * numbers soon below it.
 */
function findPlainHeader(rows: readonly Fields[], from: number, named: readonly string[]): number {
  let numbers = 0;
  for (let row = from; row < rows.length && numbers < decoyRows; row++) {
    const fields = rows[row]!;
    if (isBlankRow(fields)) continue;
    if (countNumbers(fields) >= 2) {
      numbers++;
      continue;
    }
    const holds =
      named.length > 0
        ? named.every((name) => fields.some((field) => sameHeader(field, name)))
        : namesVoltageAndCurrent(fields);
    if (holds && numbersSoonBelow(rows, row)) return row;
  }
  return -1;
}

function numbersSoonBelow(rows: readonly Fields[], header: number): boolean {
  for (let row = header + 1, filled = 0; row < rows.length && filled < 8; row++) {
    if (isBlankRow(rows[row]!)) continue;
    filled++;
    if (countNumbers(rows[row]!) >= 2) return true;
  }
  return false;
}

function namesVoltageAndCurrent(fields: Fields): boolean {
  const roles = new Set(fields.slice(0, 1000).map((field) => readHeaderCell(field).role));
  return roles.has('voltage') && roles.has('current');
}

function findHeader(
  rows: readonly Fields[],
  from: number,
  numbersAt: number,
  layout: LayoutRecord | undefined,
  named: readonly string[],
): number {
  if (layout?.header === false) return -1;
  if (layout?.skip !== undefined) return from < numbersAt ? from : -1;
  let likely = -1;
  let holdingName = -1;
  for (let row = numbersAt - 1; row >= Math.max(from, numbersAt - headerReach); row--) {
    const fields = rows[row]!;
    if (isBlankRow(fields)) continue;
    if (named.length > 0) {
      const held = named.some((name) => fields.some((field) => sameHeader(field, name)));
      if (held && holdingName < 0) holdingName = row;
    }
    if (namesVoltageAndCurrent(fields) && !isUnitsRow(fields, rows, row, named)) return row;
    if (likely < 0 && looksLikeNames(fields, rows[numbersAt]!)) likely = row;
  }
  return holdingName >= 0 ? holdingName : likely;
}

/** Text equal but for case and outer spaces, with or without its unit. */
export function sameHeader(field: string, name: string): boolean {
  const wanted = name.trim().toLowerCase();
  const text = field.trim().toLowerCase();
  return text === wanted || (text.startsWith(wanted) && readHeaderCell(field).name.toLowerCase() === wanted);
}

function looksLikeNames(fields: Fields, data: Fields): boolean {
  const names = fields.filter((field) => !isBlank(field));
  const isUnits = names.every((name) => findUnit(name));
  return (
    names.length >= 2 && names.length >= trimmed(data).length - 1 && !isUnits && countNumbers(fields) === 0
  );
}

/** `V;A` is a row of units under `U;I` or under the names that a layout gives; elsewhere it is a header. */
function isUnitsRow(fields: Fields, rows: readonly Fields[], row: number, named: readonly string[]): boolean {
  if (!fields.every((field) => isBlank(field) || findUnit(field))) return false;
  let above = row - 1;
  while (above >= 0 && isBlankRow(rows[above]!)) above--;
  if (above < 0) return false;
  const over = rows[above]!;
  return namesVoltageAndCurrent(over) || named.some((name) => over.some((field) => sameHeader(field, name)));
}

function findUnitsRow(rows: readonly Fields[], headerAt: number, numbersAt: number): number {
  for (let row = headerAt + 1; row < numbersAt; row++) {
    const names = rows[row]!.filter((field) => !isBlank(field));
    if (names.length === 0) continue;
    return names.every((name) => findUnit(name)) && countNumbers(rows[row]!) === 0 ? row : -1;
  }
  return -1;
}

function* fieldsFrom(rows: readonly Fields[], from: number): Generator<string> {
  for (let row = from; row < rows.length && row < from + 2000; row++) yield* rows[row]!;
}

function withoutNumbers(batch: RowBatch, from: number): Shape {
  const reach = Math.min(batch.rows.length, from + 1000);
  for (let row = from; row < reach; row++) {
    if (!namesVoltageAndCurrent(batch.rows[row]!)) continue;
    return { kind: 'header-only', line: batch.lineOf(row), names: batch.rows[row]! };
  }
  const row = Math.min(from, Math.max(0, batch.rows.length - 1));
  return { kind: 'no-table', line: batch.lineOf(row), sample: batch.rows[row] ?? [] };
}
