/** Many sweeps from one table: rows of equal address and time are the points of one sweep. */
import type { ColumnMap, LayoutRecord, SweepTableRecord } from '../campaign/model.js';
import type { Columns } from './columnMapping.js';
import { finishSweep } from './finishSweep.js';
import { openTable } from './openTable.js';
import { collectRows } from './pointRows.js';
import { counted, error, shownList, warning } from './readingProblems.js';
import { hasError } from './readSweepTable.js';
import { noPoints, type SweepPoints } from './sweepPoints.js';
import type { ReadingProblem, ReadingResult } from './sweepReading.js';

/** More sweeps than this in one table are refused: more likely the address or time changes in every row. */
export const sweepsLimit = 20_000;

export interface SweepOfTable {
  /** As written, without outer spaces. */
  readonly address: string;
  /** As written; date and time joined by a space where they stand in two columns; empty where there is no column. */
  readonly time: string;
  /** Mean over the rows of the sweep, W/m2 and degC, where the table has the columns. */
  readonly irradiance?: number;
  readonly temperature?: number;
  /** Line of the sweep's first row, from 1. */
  readonly firstLine: number;
  readonly result: ReadingResult;
}

export interface ManySweeps {
  /** In the order of their first rows, which need not stand together. */
  readonly rows: readonly SweepOfTable[];
  /** Problems of the table as a whole; those of one sweep are in its `result`. */
  readonly problems: readonly ReadingProblem[];
}

interface Group {
  readonly address: string;
  readonly time: string;
  readonly firstLine: number;
  readonly points: SweepPoints;
  /** Where rows of others came in between: the line of the next row, and how many points stand before it. */
  readonly resumed: { readonly line: number; readonly at: number }[];
}

/** Columns named in the block come before those of the layout, and both before what the header tells. */
export function readManySweeps(
  bytes: Uint8Array,
  record: SweepTableRecord,
  layout?: LayoutRecord,
): ManySweeps {
  const given: ColumnMap = { ...layout?.columns, ...definedOnly(record.columns) };
  const roles = ['address', 'time', 'date', 'voltage', 'current', 'irradiance', 'temperature'] as const;
  const { table, problems: opening } = openTable(bytes, layout, given, roles);
  if (!table || hasError(opening)) return { rows: [], problems: opening };
  const { columns } = table;
  if (!columns.address) {
    const headers = table.shape.header?.cells.map((cell) => cell.text) ?? [];
    const seen = headers.length > 0 ? ` among the headers ${shownList(headers)}` : '';
    const message = `No column of addresses was found${seen}; name it with \`address "header"\` in this block or in a layout.`;
    return {
      rows: [],
      problems: [...opening, error('no-address-column', message, { line: table.shape.dataLine })],
    };
  }
  const problems: ReadingProblem[] = [...opening];
  if (!columns.time && !columns.date) {
    const message =
      'No column of times was found, so all rows of one address are read as one sweep; name it with `time "header"`.';
    problems.push(
      warning('no-time-column', message, { line: table.shape.header?.line ?? table.shape.dataLine }),
    );
  }
  const groups = new Groups(columns, given.time !== undefined);
  const found = collectRows(table, groups.pointsFor);
  problems.push(...found);
  if (groups.count > sweepsLimit) {
    const message = `The table holds more than ${sweepsLimit} pairs of address and time; do they change in every row? The rows of one sweep share both.`;
    return {
      rows: [],
      problems: [...problems, error('too-many-sweeps', message, { line: table.shape.dataLine })],
    };
  }
  if (hasError(found)) return { rows: [], problems };
  const scattered = groups.everyRowItsOwn();
  if (scattered) return { rows: [], problems: [...problems, scattered] };
  if (groups.withoutAddress > 0) {
    const message = `${counted(groups.withoutAddress, 'row')} without an address left out, first at line ${groups.firstWithoutAddress}.`;
    problems.push(warning('rows-without-address', message, { line: groups.firstWithoutAddress }));
  }
  problems.push(...groups.readAsOne());
  const options = {
    sign: layout?.sign,
    columnsGiven: given.voltage !== undefined && given.current !== undefined,
    guessed: table.guessed,
  };
  const rows = groups.all().map(({ address, time, firstLine, points }) => ({
    address,
    time,
    irradiance: meanOf(points.irradiance),
    temperature: meanOf(points.temperature),
    firstLine,
    result: finishSweep(points, options),
  }));
  return { rows, problems };
}

function definedOnly(columns: ColumnMap): ColumnMap {
  return Object.fromEntries(Object.entries(columns).filter(([, name]) => name !== undefined));
}

class Groups {
  withoutAddress = 0;
  firstWithoutAddress = 0;
  readonly #groups = new Map<string, Group>();
  #latest: Group | undefined;
  readonly #address: number;
  readonly #date: number | undefined;
  readonly #time: number | undefined;

  constructor(columns: Columns, timeGiven: boolean) {
    this.#address = columns.address!.index;
    this.#time = columns.time?.index;
    this.#date = timeGiven ? undefined : columns.date?.index;
  }

  get count(): number {
    return this.#groups.size;
  }

  all(): Group[] {
    return [...this.#groups.values()];
  }

  readonly pointsFor = (fields: readonly string[], line: number): SweepPoints | undefined => {
    const address = (fields[this.#address] ?? '').trim();
    if (address === '') {
      if (this.withoutAddress++ === 0) this.firstWithoutAddress = line;
      return undefined;
    }
    const date = this.#date === undefined ? '' : (fields[this.#date] ?? '').trim();
    const clock = this.#time === undefined ? '' : (fields[this.#time] ?? '').trim();
    const time = date && clock ? `${date} ${clock}` : date || clock;
    const latest = this.#latest;
    if (latest && latest.address === address && latest.time === time) return latest.points;
    const key = `${address}\n${time}`;
    let group = this.#groups.get(key);
    if (!group) {
      if (this.#groups.size > sweepsLimit) return undefined;
      group = { address, time, firstLine: line, points: noPoints(), resumed: [] };
      this.#groups.set(key, group);
    } else if (group.resumed.length <= mostResumed)
      group.resumed.push({ line, at: group.points.voltage.length });
    this.#latest = group;
    return group.points;
  };

  /** Two sweeps that were taken within what the column of times tells apart, read as one. */
  readAsOne(): ReadingProblem[] {
    return this.all().flatMap((group) => {
      const again = beginsAnew(group);
      if (!again) return [];
      const message = `${group.address} begins anew here${group.time === '' ? '' : ` at the same time, ${group.time}`}, after its rows from line ${group.firstLine} on and those of others: two sweeps are read as one. Give each a time of its own, with seconds where one minute holds both.`;
      return [warning('sweeps-read-as-one', message, { line: again })];
    });
  }

  /** One problem instead of one for each row. */
  everyRowItsOwn(): ReadingProblem | undefined {
    const groups = this.all();
    const lone = groups.filter(({ points }) => points.voltage.length + points.skippedRows <= 1).length;
    if (groups.length < 10 || lone < 0.9 * groups.length) return undefined;
    const message =
      'Address and time change from row to row, so no sweep has more than a point; the rows of one sweep share both. Name a column that holds one time for each sweep.';
    return error('every-row-its-own', message, { line: groups[0]!.firstLine });
  }
}

/** Rows in another order than they were measured in come back to a sweep more often. */
const mostResumed = 3;
/** Fewer points are no sweep. */
const fewestPoints = 6;

/** The line from which on a sweep runs again over the voltages that it had already. */
function beginsAnew({ resumed, points: { voltage } }: Group): number | undefined {
  if (resumed.length > mostResumed) return undefined;
  const again = resumed.find(({ at }) => {
    const [before, after] = [extentOf(voltage.slice(0, at)), extentOf(voltage.slice(at))];
    if (at < fewestPoints || voltage.length - at < fewestPoints) return false;
    const shared = Math.min(before.most, after.most) - Math.max(before.least, after.least);
    return shared > 0.5 * Math.min(before.most - before.least, after.most - after.least);
  });
  return again?.line;
}

function extentOf(values: readonly number[]): { least: number; most: number } {
  let [least, most] = [Infinity, -Infinity];
  for (const value of values) {
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return { least, most };
}

function meanOf(values: readonly number[]): number | undefined {
  let sum = 0;
  let count = 0;
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    sum += value;
    count++;
  }
  return count > 0 ? sum / count : undefined;
}
