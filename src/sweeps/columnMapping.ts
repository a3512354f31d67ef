/**
 * Which column holds what, and in which unit. A layout's word comes first; then the header; then, in a table of just
 * two columns of numbers without a header, voltage is the first and current the second.
 */
import type { ColumnMap, ColumnName } from '../campaign/model.js';
import { nearest } from '../campaign/nearest.js';
import {
  canonicalUnit,
  findUnit,
  unitChoices,
  type ColumnDimension,
  type ColumnUnit,
} from './columnUnits.js';
import type { ColumnRole } from './headerWords.js';
import { looksNumeric } from './numberText.js';
import { error, layoutAdvice, shown, shownList, warning } from './readingProblems.js';
import type { ReadingProblem } from './sweepReading.js';
import { sameHeader, trimmed, type TableShape } from './tableShape.js';

export interface MappedColumn {
  /** From 0. */
  readonly index: number;
  readonly header?: string;
  /** canonical = written × factor + offset. */
  readonly unit?: ColumnUnit;
  /** Named in a layout or in the block that names the file. */
  readonly byLayout: boolean;
}

export type Columns = Readonly<Partial<Record<ColumnRole, MappedColumn>>>;

export interface Mapping {
  readonly columns: Columns;
  /** No header told voltage from current. */
  readonly guessed: boolean;
  readonly problems: readonly ReadingProblem[];
}

const measuredRoles = ['voltage', 'current', 'irradiance', 'temperature'] as const;
type MeasuredRole = (typeof measuredRoles)[number];

/** `wanted` are the roles the reader has a use for; voltage and current are always needed. */
export function mapColumns(shape: TableShape, given: ColumnMap, wanted: readonly ColumnRole[]): Mapping {
  const problems: ReadingProblem[] = [];
  const columns: Partial<Record<ColumnRole, MappedColumn>> = {};
  const missing = new Set<ColumnRole>();
  for (const role of wanted) {
    const name = role === 'date' ? undefined : given[role];
    const index = name ? namedColumn(shape, name, role, problems) : undefined;
    if (name && index === undefined) missing.add(role);
    if (index !== undefined) columns[role] = { index, header: headerAt(shape, index), byLayout: true };
  }
  for (const role of wanted) {
    if (columns[role] || missing.has(role)) continue;
    const index = recognisedColumn(shape, role, columns, problems);
    if (index !== undefined) columns[role] = { index, header: headerAt(shape, index), byLayout: false };
  }
  const guessed = guessPair(shape, columns, missing);
  for (const role of ['voltage', 'current'] as const) {
    if (!columns[role] && !missing.has(role)) problems.push(notFound(shape, role, columns));
    if (!columns[role]) break;
  }
  for (const role of measuredRoles) {
    const column = columns[role];
    if (column) columns[role] = { ...column, unit: unitOf(shape, role, column, given[role], problems) };
  }
  return { columns, guessed, problems };
}

function headerAt(shape: TableShape, index: number): string | undefined {
  return shape.header?.cells[index]?.text.trim();
}

function namedColumn(
  shape: TableShape,
  name: ColumnName,
  role: ColumnRole,
  problems: ReadingProblem[],
): number | undefined {
  if (name.number !== undefined) {
    if (name.number >= 1 && name.number <= shape.width) return name.number - 1;
    const message = `The layout takes ${role} from column ${name.number}, but the table has ${shape.width} columns.`;
    problems.push(error('no-such-column', message, { line: shape.dataLine }));
    return undefined;
  }
  const wanted = name.header ?? '';
  const cells = shape.header?.cells ?? [];
  const exact = matches(cells.map((cell) => cell.text.trim() === wanted.trim()));
  const found = exact.length > 0 ? exact : matches(cells.map((cell) => sameHeader(cell.text, wanted)));
  if (found.length === 0) {
    problems.push(noSuchHeader(shape, wanted, role));
    return undefined;
  }
  if (found.length > 1) problems.push(severalColumns(shape, role, found));
  return found[0];
}

function matches(flags: readonly boolean[]): number[] {
  return flags.flatMap((flag, index) => (flag ? [index] : []));
}

function noSuchHeader(shape: TableShape, wanted: string, role: ColumnRole): ReadingProblem {
  if (!shape.header) {
    const message = `The layout takes ${role} from ${shown(wanted)}, but the table has no header line; give the column's number.`;
    return error('no-such-column', message, { line: shape.dataLine });
  }
  const texts = shape.header.cells.map((cell) => cell.text);
  const like = nearest(
    wanted,
    texts.slice(0, 300).filter((text) => text.length <= 64),
  );
  const hint = like ? `did you mean ${shown(like)}?` : `the headers are ${shownList(texts)}.`;
  const message = `The layout takes ${role} from ${shown(wanted)}, which is not in the header; ${hint}`;
  return error('no-such-column', message, { line: shape.header.line });
}

function recognisedColumn(
  shape: TableShape,
  role: ColumnRole,
  taken: Columns,
  problems: ReadingProblem[],
): number | undefined {
  const used = new Set(Object.values(taken).map((column) => column.index));
  const cells = shape.header?.cells ?? [];
  const of = (byUnit: boolean) =>
    matches(cells.map((cell, index) => cell.role === role && cell.byUnit === byUnit && !used.has(index)));
  const named = of(false);
  const found = named.length > 0 ? named : of(true);
  if (found.length > 1) problems.push(severalColumns(shape, role, found));
  return found[0];
}

function severalColumns(shape: TableShape, role: ColumnRole, found: readonly number[]): ReadingProblem {
  const texts = found.map((index) => headerAt(shape, index) ?? '');
  const same = texts.every((text) => text === texts[0]);
  const columns = found
    .slice(0, 12)
    .map((index) => index + 1)
    .join(', ');
  const message = same
    ? `The header ${shown(texts[0]!)} stands over columns ${columns}; the first is taken as ${role}. Name the right one by its number in a layout.`
    : `${shownList(texts)} (columns ${columns}) could each be the ${role}; the first is taken. Name the right one in a layout.`;
  const place = { line: shape.header?.line ?? shape.dataLine, column: found[1]! + 1 };
  return warning(same ? 'duplicate-header' : 'ambiguous-column', message, place);
}

/** Two columns of numbers: voltage, then current; or the other one, where a layout names just one of them. */
function guessPair(
  shape: TableShape,
  columns: Partial<Record<ColumnRole, MappedColumn>>,
  missing: ReadonlySet<ColumnRole>,
) {
  if (missing.size > 0 || (columns.voltage && columns.current)) return false;
  if (shape.header && !columns.voltage?.byLayout && !columns.current?.byLayout) return false;
  const used = new Set(Object.values(columns).map((column) => column.index));
  const free = matches(shape.sample.map((field, index) => looksNumeric(field) && !used.has(index)));
  const needed = (['voltage', 'current'] as const).filter((role) => !columns[role]);
  if (free.length !== needed.length) return false;
  needed.forEach((role, at) => {
    columns[role] = { index: free[at]!, header: headerAt(shape, free[at]!), byLayout: false };
  });
  return needed.length === 2;
}

function notFound(shape: TableShape, role: 'voltage' | 'current', columns: Columns): ReadingProblem {
  const both = role === 'voltage' && !columns.current;
  const what = both ? 'voltage and which the current' : role;
  if (!shape.header) {
    const count = trimmed(shape.sample).length;
    const message = `Nothing tells which of the ${count} columns is the ${what}: there is no header line. ${layoutAdvice}`;
    return error(`no-${role}-column`, message, { line: shape.dataLine });
  }
  const headers = shownList(shape.header.cells.map((cell) => cell.text));
  const subject = both ? 'No column of voltage and none of current' : `No column of ${role}`;
  const message = `${subject} was found among the headers ${headers}. ${layoutAdvice}`;
  return error(`no-${role}-column`, message, { line: shape.header.line });
}

function unitOf(
  shape: TableShape,
  role: MeasuredRole,
  column: MappedColumn,
  given: ColumnName | undefined,
  problems: ReadingProblem[],
): ColumnUnit {
  const standard = canonicalUnit(role);
  const place = { line: shape.header?.line ?? shape.dataLine, column: column.index + 1 };
  const cell = shape.header?.cells[column.index];
  const below = shape.units?.cells[column.index];
  const written = given?.unit === undefined ? undefined : findUnit(given.unit);
  if (given?.unit !== undefined && written?.dimension !== role) {
    problems.push(wrongUnit(`The layout gives ${role} in ${shown(given.unit)}`, role, written, place));
    return standard;
  }
  const inTable = below && below.dimension === role ? below : cell?.unit;
  if (written) {
    if (inTable && inTable.dimension === role && !sameUnit(inTable, written)) {
      const message = `The layout gives ${role} in ${written.text}, the table itself says ${inTable.text}; the layout is followed.`;
      problems.push(warning('unit-contradiction', message, place));
    }
    return written;
  }
  if (cell?.unit && cell.unitIsPlain && cell.unit.dimension !== role && !saysNothing(cell.unit)) {
    problems.push(
      wrongUnit(`The header ${shown(cell.text)} gives ${role} in ${cell.unit.text}`, role, cell.unit, place),
    );
    return standard;
  }
  if (below && below.dimension !== role && !saysNothing(below)) {
    const unitPlace = { line: shape.units!.line, column: column.index + 1 };
    problems.push(wrongUnit(`The row of units gives ${role} in ${below.text}`, role, below, unitPlace));
    return standard;
  }
  if (cell?.unit?.dimension === role && below?.dimension === role && !sameUnit(cell.unit, below)) {
    const message = `The header says ${cell.unit.text} for ${role}, the row of units says ${below.text}. Give the right unit in a layout.`;
    problems.push(
      error('unit-contradiction', message, { line: shape.units!.line, column: column.index + 1 }),
    );
  }
  return inTable?.dimension === role ? inTable : standard;
}

/** `[-]` and `#` stand where there is no unit to give. */
function saysNothing(unit: ColumnUnit): boolean {
  return unit.text === '-' || unit.text === '#';
}

function sameUnit(one: ColumnUnit, other: ColumnUnit): boolean {
  return one.factor === other.factor && one.offset === other.offset;
}

const measures: Readonly<Record<ColumnDimension, string>> = {
  voltage: 'voltage',
  current: 'current',
  irradiance: 'irradiance',
  temperature: 'temperature',
  other: 'something else',
};

function wrongUnit(
  beginning: string,
  role: MeasuredRole,
  unit: ColumnUnit | undefined,
  place: { line: number; column: number },
): ReadingProblem {
  const middle = unit ? `which measures ${measures[unit.dimension]}` : 'which is not a unit known here';
  return error('wrong-unit', `${beginning}, ${middle}; write ${unitChoices[role]}.`, place);
}
