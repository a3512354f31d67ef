/**
 * Layouts that a table reads with, found by trying: its columns two by two, the other decimal sign, and thousandths where it says no
 * unit. Where voltage and current are known beforehand, what comes nearest to them goes first.
 */
import {
  recogniseLayout,
  type RecognisedColumn,
  type RecognisedLayout,
} from '../../sweeps/recogniseLayout.js';
import {
  columnText,
  formLines,
  layoutText,
  readLayout,
  tryLayout,
  type LayoutLines,
  type Trial,
} from './layoutText.js';

export interface LayoutCandidate {
  readonly lines: LayoutLines;
  readonly title: string;
  /** Smaller is likelier. */
  readonly cost: number;
}

/** What a sweep should reach: its Voc in V and its Isc in A. */
export interface ExpectedReach {
  readonly voltage: number;
  readonly current: number;
}

/** Layouts with which the table reads, the likeliest first. */
export function layoutCandidates(bytes: Uint8Array, expected?: ExpectedReach): LayoutCandidate[] {
  const found: LayoutCandidate[] = [];
  for (const form of forms(bytes)) {
    for (const [voltage, current] of pairs(form, bytes.length)) {
      const named = [voltage, current].map(
        (column) => `column ${column.number}${column.header ? ` "${column.header}"` : ''}`,
      );
      for (const [voltageUnit, currentUnit] of unitPairs(voltage, current)) {
        const lines: LayoutLines = [
          ...formLines(form),
          ...(form.headerLine === undefined ? [['header', 'no'] as const] : []),
          ['voltage', columnText(voltage, form.columns, voltageUnit)],
          ['current', columnText(current, form.columns, currentUnit)],
        ];
        const layout = readLayout(layoutText('trial', lines));
        const trial = layout && tryLayout(bytes, layout);
        if (!trial) continue;
        const sign = form.decimal === ',' ? 'decimal comma' : 'decimal point';
        const title = `voltage from ${named[0]!}${voltageUnit && ` in ${voltageUnit}`}, current from ${named[1]!}${currentUnit && ` in ${currentUnit}`}, ${sign}`;
        found.push({ lines, title, cost: costOf(trial, expected) + doubtOf(voltage, current) });
      }
    }
  }
  const likely = found.sort((a, b) => a.cost - b.cost);
  return likely.filter(({ cost }) => cost < 4);
}

/** As recognised, and with the other decimal sign. */
function forms(bytes: Uint8Array): RecognisedLayout[] {
  const { layout } = recogniseLayout(bytes);
  if (!layout) return [];
  const other = layout.decimal === '.' ? (',' as const) : ('.' as const);
  return layout.delimiter === ',' ? [layout] : [layout, { ...layout, decimal: other }];
}

/** Large tables are tried less often. */
function pairs(
  { columns }: RecognisedLayout,
  size: number,
): (readonly [RecognisedColumn, RecognisedColumn])[] {
  const most = size > 200_000 ? 12 : 90;
  const likely = columns
    .filter(({ role }) => role === undefined || role === 'voltage' || role === 'current')
    .slice(0, 12);
  const all = likely.flatMap((voltage) =>
    likely.filter((each) => each !== voltage).map((current) => [voltage, current] as const),
  );
  return all.sort((a, b) => doubtOf(...a) - doubtOf(...b)).slice(0, most);
}

/** Headers that say something else than what the column would be taken for. */
function doubtOf(voltage: RecognisedColumn, current: RecognisedColumn): number {
  const doubt = (column: RecognisedColumn, role: string): number =>
    column.role === role ? 0 : column.role ? 0.6 : 0.3;
  return doubt(voltage, 'voltage') + doubt(current, 'current') + (voltage.number > current.number ? 0.05 : 0);
}

/** Where the table says no unit, thousandths are tried too. */
function unitPairs(voltage: RecognisedColumn, current: RecognisedColumn): (readonly [string, string])[] {
  const units = ({ unit }: RecognisedColumn, usual: string): string[] =>
    unit !== undefined && unit.endsWith(usual) ? [''] : [usual, `m${usual}`];
  return units(voltage, 'V').flatMap((one) => units(current, 'A').map((two) => [one, two] as const));
}

/** How far voltage and current are from what is expected, in factors of e; and what is said of the table. */
export function costOf({ reading, complaints }: Trial, expected: ExpectedReach | undefined): number {
  const most = (values: ArrayLike<number>): number => Array.from(values).reduce((a, b) => Math.max(a, b), 0);
  const [voltage, current] = [most(reading.curve.voltage), most(reading.curve.current)];
  if (!expected) {
    const far = voltage > 2000 || voltage < 1 || current > 500 || current < 0.01;
    return complaints + (far ? 5 : 0.2);
  }
  return (
    0.5 * complaints +
    2 * Math.abs(Math.log(voltage / expected.voltage)) +
    Math.abs(Math.log(current / expected.current))
  );
}

/** Is the first far likelier than all others? */
export function isClear([first, second]: readonly LayoutCandidate[]): boolean {
  return first !== undefined && (second === undefined || first.cost < second.cost / 2);
}

/** `logger` for `sweeps/logger-0412.csv`. */
export function layoutName(file: string): string {
  const base = decoded(/[^/]*$/.exec(file)![0]).replace(/\.[^.]*$/, '');
  return /^[\p{L}][\p{L}-]*/u.exec(base)?.[0].replace(/-+$/, '').toLowerCase() || 'table';
}

/** A URI as text; what is none stays as it is. */
function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
