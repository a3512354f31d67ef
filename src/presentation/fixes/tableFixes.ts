/**
 * Fixes for tables that cannot be read as they are: a layout that fits is looked for in the table itself, and offered only
 * when the table reads with it. Where the nameplate tells what voltage and current to expect, the columns that come nearest go first.
 */
import type { LayoutRecord } from '../../campaign/model.js';
import { parseTime } from '../../campaign/time.js';
import type { EvaluatedSweep } from '../../evaluation/evaluation.js';
import { readManySweeps } from '../../sweeps/readManySweeps.js';
import {
  recogniseLayout,
  type RecognisedColumn,
  type RecognisedLayout,
} from '../../sweeps/recogniseLayout.js';
import {
  addProperties,
  freeName,
  insertBlock,
  type Fix,
  type Fixer,
  type FixEdit,
  type FixInput,
} from './fix.js';
import {
  columnText,
  formLines,
  layoutText,
  readLayout,
  tryLayout,
  type LayoutLines,
  type Trial,
} from './layoutText.js';

interface Candidate {
  readonly lines: LayoutLines;
  readonly title: string;
  /** Smaller is likelier. */
  readonly cost: number;
}

const mostOffers = 3;

/** The sweep of a table of one sweep that the problem is about, with the bytes of its table. */
export async function tableOf(
  input: FixInput,
): Promise<{ sweep: EvaluatedSweep; bytes: Uint8Array } | undefined> {
  const { evaluation, problem, placed, host } = input;
  const sweep = evaluation.sweeps.find(
    ({ block }) => block.file === problem.file && block.startLine === placed.startLine,
  );
  const bytes = sweep?.dataFile === undefined ? undefined : await host.read(sweep.dataFile);
  return sweep && bytes && { sweep, bytes };
}

/** A layout that is there already and fits; else new ones, found by trying. */
export const addLayout: Fixer = async (input) => {
  if (input.keyword?.name !== 'sweep') return [];
  const table = await tableOf(input);
  if (!table || table.sweep.record.layout) return [];
  const known = knownLayouts(input, table);
  const fresh = candidates(table.bytes, table.sweep).slice(0, mostOffers);
  const fixes = fresh.map((candidate) => newLayout(input, table.sweep, candidate));
  const all = [...known, ...fixes];
  const isClear =
    known.length > 0 ||
    (fresh[0] !== undefined && (fresh.length === 1 || fresh[0].cost < fresh[1]!.cost / 2));
  return all.map((fix, index) => ({ ...fix, isPreferred: index === 0 && isClear }));
};

function knownLayouts(
  input: FixInput,
  { bytes, sweep }: { bytes: Uint8Array; sweep: EvaluatedSweep },
): Fix[] {
  const fitting = [...input.evaluation.campaign.layouts].filter(([, { record }]) => {
    const trial = tryLayout(bytes, record);
    return trial && costOf(trial, sweep) < 1;
  });
  return fitting.slice(0, mostOffers).map(([name]) => ({
    title: `Write \`layout ${name}\``,
    edits: [addProperties(input.problem.file, input.placed, [['layout', name]])],
  }));
}

function newLayout(input: FixInput, sweep: EvaluatedSweep, { lines, title }: Candidate): Fix {
  const { problem, placed, document, evaluation } = input;
  const name = freeName(evaluation, layoutName(sweep.dataFile ?? ''));
  return {
    title: `Add a layout: ${title}`,
    edits: [
      insertBlock(problem.file, placed, document, layoutText(name, lines)),
      addProperties(problem.file, placed, [['layout', name]]),
      ...sameTrouble(input, readLayout(layoutText(name, lines))!, name),
    ],
  };
}

/** `logger` for `sweeps/logger-0412.csv`. */
function layoutName(file: string): string {
  const base = decodeURIComponent(/[^/]*$/.exec(file)![0]).replace(/\.[^.]*$/, '');
  return /^[\p{L}][\p{L}-]*/u.exec(base)?.[0].replace(/-+$/, '').toLowerCase() || 'table';
}

/** Other sweeps of the file with the same problem whose tables, at hand, read with the layout too. */
function sameTrouble(
  { evaluation, problem, placed, document }: FixInput,
  layout: LayoutRecord,
  name: string,
): FixEdit[] {
  if (!layout) return [];
  const lines = new Set(
    evaluation.problems
      .filter((each) => each.id === problem.id && each.file === problem.file)
      .map(({ range }) => document.blockAt(range.start.line)!),
  );
  lines.delete(placed);
  const header = headerOf(evaluation, problem.file, placed.startLine);
  return [...lines]
    .filter((each) => header !== undefined && headerOf(evaluation, problem.file, each.startLine) === header)
    .map((each) => addProperties(problem.file, each, [['layout', name]]));
}

/** What is said of a table, its place and name left out: two tables of one program are refused in the same words. */
function headerOf(evaluation: FixInput['evaluation'], file: string, startLine: number): string | undefined {
  const sweep = evaluation.sweeps.find(({ block }) => block.file === file && block.startLine === startLine);
  if (!sweep || sweep.record.kind !== 'sweep' || sweep.record.layout) return undefined;
  return sweep.problems
    .map(({ id, message }) => `${id} ${message.replace(/^[^ ]*:\d+(:\d+)?: /, '')}`)
    .join('\n');
}

/** Layouts with which the table reads, the likeliest first. */
function candidates(bytes: Uint8Array, sweep: EvaluatedSweep): Candidate[] {
  const found: Candidate[] = [];
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
        found.push({ lines, title, cost: costOf(trial, sweep) + doubtOf(voltage, current) });
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

/** How far voltage and current are from what the nameplate lets expect, in factors of e; and what is said of the table. */
function costOf({ reading, complaints }: Trial, { target, analysis, record }: EvaluatedSweep): number {
  const { module, seriesModules, parallelStrings } = target;
  const given = record.irradiance?.value ?? analysis.conditions.irradiance ?? 800;
  const most = (values: ArrayLike<number>): number => Array.from(values).reduce((a, b) => Math.max(a, b), 0);
  const [voltage, current] = [most(reading.curve.voltage), most(reading.curve.current)];
  if (!module?.voc || !module.isc || seriesModules === undefined) {
    const far = voltage > 2000 || voltage < 1 || current > 500 || current < 0.01;
    return complaints + (far ? 5 : 0.2);
  }
  const expected = [
    module.voc.value * seriesModules,
    (module.isc.value * parallelStrings * given) / 1000,
  ] as const;
  return (
    0.5 * complaints +
    2 * Math.abs(Math.log(voltage / expected[0])) +
    Math.abs(Math.log(current / expected[1]))
  );
}

/** A table of many sweeps: the column that its block does not name. */
export const nameColumn =
  (property: 'address' | 'time'): Fixer =>
  async (input) => {
    const { evaluation, problem, placed, host } = input;
    const entry = evaluation.campaign.entries.find(
      ({ block }) => block.file === problem.file && block.startLine === placed.startLine,
    )?.record;
    const file = entry?.kind === 'sweeps' ? host.resolve(problem.file, entry.data.text) : undefined;
    const bytes = file === undefined ? undefined : await host.read(file);
    if (!bytes || entry?.kind !== 'sweeps') return [];
    const columns = recogniseLayout(bytes).layout?.columns ?? [];
    const named = columns.filter(
      ({ header, role }) => header !== undefined && role !== 'voltage' && role !== 'current',
    );
    const layout = entry.layout && evaluation.campaign.layouts.get(entry.layout.text)?.record;
    const reading = named.filter(({ header }) => {
      const tried = {
        ...entry,
        columns: { ...entry.columns, [property]: { header, range: entry.data.range } },
      };
      const { rows } = readManySweeps(bytes, tried, layout);
      return rows.some(({ address, time, result }) => {
        const fits =
          property === 'time' ? parseTime(time) : evaluation.campaign.strings.has(address.split('/')[0]!);
        return result.reading && fits;
      });
    });
    return reading.slice(0, 6).map((column) => ({
      title: `Write \`${property} ${columnText(column, columns)}\``,
      edits: [addProperties(problem.file, placed, [[property, columnText(column, columns)]])],
      isPreferred: reading.length === 1,
    }));
  };
