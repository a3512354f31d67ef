/** The electrical tests in a terminal. */
import type { Evaluation } from '../evaluation/evaluation.js';
import { electricalItems, electricalLine, type ElectricalItem } from './electricalModel.js';
import { alignedRows, printable, type Column } from './terminalText.js';
import type { VerdictTone } from './verdictWords.js';

/** The part of the options of the whole terminal text that is needed here. */
interface Options {
  readonly paint?: (text: string, tone: VerdictTone | 'muted' | 'strong') => string;
  readonly ascii?: boolean;
}

const columns: readonly Column[] = [
  { title: '', align: 'left' },
  { title: 'test', align: 'left' },
  { title: 'device', align: 'left' },
  { title: 'time', align: 'left' },
  { title: 'reading', align: 'left' },
  { title: 'verdict', align: 'left' },
];

/** A table of the tests, why those that did not pass did not, and the counts; dangers are warnings. Empty without tests. */
export function electricalLines(evaluation: Evaluation, options: Options): string[] {
  const items = electricalItems(evaluation);
  if (items.length === 0) return [];
  const paint = options.paint ?? ((text: string) => text);
  const markOf = ({ verdict }: ElectricalItem): string => (options.ascii ? verdict.ascii : verdict.symbol);
  const rows = items.map((item) => [
    markOf(item),
    item.kind,
    item.address,
    item.time,
    item.reading,
    item.verdict.word + (item.replaced ? ' (repeated later)' : ''),
  ]);
  const [head, ...body] = alignedRows(columns, rows);
  const table = body.map((cells, index) => {
    const { tone } = items[index]!.verdict;
    return cells
      .map((cell, at) => (at === 0 || at === cells.length - 1 ? paint(cell, tone) : cell))
      .join('  ');
  });
  const why = items
    .filter(({ verdict, replaced }) => verdict.verdict !== 'pass' && !replaced)
    .map((item) => {
      const text = `${item.kind} ${item.address}: ${item.reasons.join(' ')}`;
      return `${paint(markOf(item), item.verdict.tone)}  ${printable(text)}`;
    });
  return [
    paint(head!.join('  '), 'muted'),
    ...table,
    '',
    ...(why.length > 0 ? [...why, ''] : []),
    paint(electricalLine(evaluation), 'strong'),
  ];
}
