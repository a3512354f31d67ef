/** Walks the rows of a table and puts each into the points it belongs to. */
import type { MappedColumn } from './columnMapping.js';
import { isAmbiguous, isGap, readNumber, type DecimalSign } from './numberText.js';
import type { OpenTable } from './openTable.js';
import { error, shown, warning } from './readingProblems.js';
import type { ReadingProblem } from './sweepReading.js';
import type { SkippedRow, SweepPoints } from './sweepPoints.js';
import type { RowBatch } from './tableText.js';

type Fields = readonly string[];

/** `pointsFor` says where a row belongs; undefined leaves it out. */
export function collectRows(
  table: OpenTable,
  pointsFor: (fields: Fields, line: number) => SweepPoints | undefined,
): readonly ReadingProblem[] {
  const problems: ReadingProblem[] = [];
  const row = new RowReader(table);
  let batch: RowBatch | undefined = table.first;
  const rest = table.rest[Symbol.iterator]();
  let from = table.shape.dataRow;
  while (batch) {
    const { rows } = batch;
    let count = rows.length;
    if (batch.last && table.unfinished) {
      const cut = cutLastRow(batch, from, table.shape.decimal);
      if (cut) {
        count = rows.length - 1;
        problems.push(cut);
      }
    }
    for (let at = from; at < count; at++) {
      const fields = rows[at]!;
      if (isSilent(fields)) continue;
      const line = batch.lineOf(at);
      const points = pointsFor(fields, line);
      if (points) row.readInto(points, fields, line);
    }
    if (row.ambiguous) return [...problems, row.ambiguous];
    const next = rest.next();
    batch = next.done ? undefined : (next.value as RowBatch);
    from = 0;
  }
  return problems;
}

/** Blank rows and comments are not counted as skipped. */
function isSilent(fields: Fields): boolean {
  const first = fields[0]!;
  if (first.length > 0 && first !== ' ') return first.startsWith('#');
  return fields.every((field) => field === '' || field.trim() === '');
}

class RowReader {
  /** The first number whose separator may mean thousands or decimals. */
  ambiguous: ReadingProblem | undefined;
  readonly #voltage: MappedColumn;
  readonly #current: MappedColumn;
  readonly #irradiance: MappedColumn | undefined;
  readonly #temperature: MappedColumn | undefined;
  readonly #decimal: DecimalSign;
  readonly #width: number;

  constructor({ columns, shape }: OpenTable) {
    this.#voltage = columns.voltage!;
    this.#current = columns.current!;
    this.#irradiance = columns.irradiance;
    this.#temperature = columns.temperature;
    this.#decimal = shape.decimal;
    this.#width = shape.width;
  }

  readInto(points: SweepPoints, fields: Fields, line: number): void {
    const voltage = this.#value(fields, this.#voltage);
    const current = this.#value(fields, this.#current);
    const ragged =
      fields.length > this.#width && fields.some((field, at) => at >= this.#width && field.trim() !== '');
    if (voltage !== voltage || current !== current || ragged) {
      points.skippedRows++;
      if (ragged) points.raggedRows++;
      points.firstSkipped ??= this.#reason(fields, line, ragged);
      if (!this.ambiguous) this.#noteAmbiguous(fields, line);
      return;
    }
    points.voltage.push(voltage);
    points.current.push(current);
    points.lines.push(line);
    if (this.#irradiance) points.irradiance.push(this.#value(fields, this.#irradiance));
    if (this.#temperature) points.temperature.push(this.#value(fields, this.#temperature));
  }

  #value(fields: Fields, column: MappedColumn): number {
    const field = fields[column.index];
    if (field === undefined) return NaN;
    const { factor, offset } = column.unit!;
    return readNumber(field, this.#decimal) * factor + offset;
  }

  #reason(fields: Fields, line: number, ragged: boolean): SkippedRow {
    if (ragged) return { line, what: `${fields.length} fields where the table has ${this.#width}` };
    const column = Number.isNaN(this.#value(fields, this.#voltage)) ? this.#voltage : this.#current;
    const name = column === this.#voltage ? 'voltage' : 'current';
    const field = fields[column.index];
    const what = isGap(field) ? `no ${name}` : `${shown(field!)} is not a number`;
    return { line, column: column.index + 1, what };
  }

  #noteAmbiguous(fields: Fields, line: number): void {
    for (const { index } of [this.#voltage, this.#current]) {
      const field = fields[index];
      if (field === undefined || !isAmbiguous(field, this.#decimal)) continue;
      const sign = this.#decimal === '.' ? 'comma' : 'dot';
      const message = `${shown(field)} is unclear: the ${sign} may set off thousands or decimals. Export without thousands separators, or write \`decimal\` in a layout.`;
      this.ambiguous = error('unclear-number', message, { line, column: index + 1 });
      return;
    }
  }
}

/**
 * A text that ends without a line end may have been cut within its last row: when that row has fewer fields than the
 * one before, or its last number fewer decimals than all of the rows before, which have the same number of them.
 */
function cutLastRow(batch: RowBatch, from: number, decimal: DecimalSign): ReadingProblem | undefined {
  const { rows } = batch;
  const end = rows.length - 1;
  if (end - 1 < from) return undefined;
  const last = rows[end]!;
  const before = rows[end - 1]!;
  const fewer = last.length < before.length;
  if (!fewer && !(last.length === before.length && isShortened(rows, from, end, decimal))) return undefined;
  const message = 'The last line is cut in the middle; it was left out. Was the file copied completely?';
  return warning('last-line-cut', message, { line: batch.lineOf(end) });
}

function isShortened(rows: readonly Fields[], from: number, end: number, decimal: DecimalSign): boolean {
  const length = rows[end]!.length;
  const decimals = (row: Fields) => decimalsOf(row[length - 1] ?? '', decimal);
  const usual = decimals(rows[end - 1]!);
  if (usual === undefined || usual < 1) return false;
  for (let row = Math.max(from, end - 20); row < end; row++) if (decimals(rows[row]!) !== usual) return false;
  const own = decimals(rows[end]!);
  return end - from >= 5 && (own === undefined || own < usual);
}

function decimalsOf(field: string, decimal: DecimalSign): number | undefined {
  const text = field.trim();
  if (/e/i.test(text)) return undefined;
  const at = text.indexOf(decimal);
  return at < 0 ? 0 : text.length - at - 1;
}
