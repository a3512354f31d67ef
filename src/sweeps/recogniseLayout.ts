import type { LayoutRecord } from '../campaign/model.js';
import type { Encoding } from './decodeText.js';
import type { Delimiter } from './delimiters.js';
import { readHeaderCell, type ColumnRole } from './headerWords.js';
import type { DecimalSign } from './numberText.js';
import { openTable } from './openTable.js';
import type { ReadingProblem } from './sweepReading.js';

export interface RecognisedColumn {
  /** From 1. */
  readonly number: number;
  readonly header?: string;
  /** What the column is used as. */
  readonly role?: ColumnRole;
  /** As the header or the row of units says it. */
  readonly unit?: string;
}

export interface RecognisedLayout {
  readonly encoding: Encoding;
  readonly delimiter: Delimiter;
  readonly decimal: DecimalSign;
  /** Lines from 1. */
  readonly headerLine?: number;
  readonly unitsLine?: number;
  /** The first line with two numbers. */
  readonly dataLine: number;
  readonly columns: readonly RecognisedColumn[];
}

/** What is understood of a table without a layout, so that an import can show it and write it down as one. */
export function recogniseLayout(
  bytes: Uint8Array,
  layout?: LayoutRecord,
): { readonly layout?: RecognisedLayout; readonly problems: readonly ReadingProblem[] } {
  const roles: ColumnRole[] = ['voltage', 'current', 'irradiance', 'temperature', 'address', 'time', 'date'];
  const { table, problems } = openTable(bytes, layout, layout?.columns ?? {}, roles);
  if (!table) return { problems };
  const { shape, columns } = table;
  const used = new Map(Object.entries(columns).map(([role, column]) => [column.index, role as ColumnRole]));
  const described = Array.from({ length: shape.width }, (_, index): RecognisedColumn => {
    const header = shape.header?.cells[index]?.text.trim();
    const role = used.get(index);
    const unit = shape.units?.cells[index]?.text ?? (header ? readHeaderCell(header).unit?.text : undefined);
    return { number: index + 1, header: header || undefined, role, unit };
  });
  return {
    layout: {
      encoding: table.encoding,
      delimiter: table.delimiter,
      decimal: shape.decimal,
      headerLine: shape.header?.line,
      unitsLine: shape.units?.line,
      dataLine: shape.dataLine,
      columns: described,
    },
    problems,
  };
}
