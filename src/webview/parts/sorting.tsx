/** Tables that are sorted by the column whose head is pressed; once more: the other way round. */

export interface Order<Column extends string> {
  readonly by: Column;
  readonly falling: boolean;
}

export function SortHeads<Column extends string>(props: {
  columns: readonly (readonly [Column, string])[];
  order: Order<Column> | undefined;
  setOrder: (order: Order<Column>) => void;
}) {
  const { columns, order, setOrder } = props;
  return (
    <thead role="rowgroup">
      <tr role="row">
        {columns.map(([column, word]) => {
          const by = order?.by === column;
          const falling = by && order.falling;
          return (
            <th
              key={column}
              role="columnheader"
              scope="col"
              aria-sort={by ? (falling ? 'descending' : 'ascending') : 'none'}
            >
              <button
                type="button"
                class="sort"
                onClick={() => setOrder({ by: column, falling: by && !falling })}
              >
                {word}
                <span aria-hidden="true">{by ? (falling ? ' ↓' : ' ↑') : ''}</span>
              </button>
            </th>
          );
        })}
      </tr>
    </thead>
  );
}

/** The rows as they are where no head was pressed. */
export function inOrderOf<Row, Column extends string>(
  rows: readonly Row[],
  order: Order<Column> | undefined,
  compare: (a: Row, b: Row, by: Column) => number,
): readonly Row[] {
  if (!order) return rows;
  return [...rows].sort((a, b) => compare(a, b, order.by) * (order.falling ? -1 : 1));
}

const collator = new Intl.Collator('en', { numeric: true });

/** Addresses by their numbers: `1.10` after `1.9`. */
export const byNumbers = (a: string, b: string): number => collator.compare(a, b);

/** Of a text that begins with it; what has none comes last. */
export function numberOf(text: string): number {
  const value = Number.parseFloat(text.replace('(', ''));
  return Number.isNaN(value) ? Infinity : value;
}
