/**
 * Fixes for tables that cannot be read as they are: a layout that fits is looked for in the table itself, and offered only
 * when the table reads with it. Where the nameplate tells what voltage and current to expect, the columns that come nearest go first.
 */
import { stringOf } from '../../campaign/names.js';
import type { LayoutRecord } from '../../campaign/model.js';
import { parseTime } from '../../campaign/time.js';
import type { EvaluatedSweep } from '../../evaluation/evaluation.js';
import { readManySweeps } from '../../sweeps/readManySweeps.js';
import { recogniseLayout } from '../../sweeps/recogniseLayout.js';
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
  costOf,
  isClear,
  layoutCandidates,
  layoutName,
  type ExpectedReach,
  type LayoutCandidate,
} from './layoutCandidates.js';
import { columnText, layoutText, readLayout, tryLayout } from './layoutText.js';

const mostOffers = 3;
/** A layout that costs so much more than the best is not worth a line in the menu. */
const alike = 1;

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
  const found = layoutCandidates(table.bytes, expectedReach(table.sweep));
  const fresh = found.filter(({ cost }) => cost < found[0]!.cost + alike).slice(0, mostOffers);
  const fixes = fresh.map((candidate) => newLayout(input, table.sweep, candidate));
  const all = [...known, ...fixes];
  const isSure = known.length > 0 || isClear(fresh);
  return all.map((fix, index) => ({ ...fix, isPreferred: index === 0 && isSure }));
};

function knownLayouts(
  input: FixInput,
  { bytes, sweep }: { bytes: Uint8Array; sweep: EvaluatedSweep },
): Fix[] {
  const fitting = [...input.evaluation.campaign.layouts].filter(([, { record }]) => {
    const trial = tryLayout(bytes, record);
    return trial && costOf(trial, expectedReach(sweep)) < 1;
  });
  return fitting.slice(0, mostOffers).map(([name]) => ({
    title: `Write \`layout ${name}\``,
    edits: [addProperties(input.problem.file, input.placed, [['layout', name]])],
  }));
}

function newLayout(input: FixInput, sweep: EvaluatedSweep, { lines, title }: LayoutCandidate): Fix {
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

/** What the nameplate lets expect at the irradiance that is written or was measured. */
function expectedReach({ target, analysis, record }: EvaluatedSweep): ExpectedReach | undefined {
  const { module, seriesModules, parallelStrings } = target;
  const given = record.irradiance?.value ?? analysis.conditions.irradiance ?? 800;
  if (!module?.voc || !module.isc || seriesModules === undefined) return undefined;
  return {
    voltage: module.voc.value * seriesModules,
    current: (module.isc.value * parallelStrings * given) / 1000,
  };
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
          property === 'time' ? parseTime(time) : evaluation.campaign.strings.has(stringOf(address));
        return result.reading && fits;
      });
    });
    return reading.slice(0, 6).map((column) => ({
      title: `Write \`${property} ${columnText(column, columns)}\``,
      edits: [addProperties(problem.file, placed, [[property, columnText(column, columns)]])],
      isPreferred: reading.length === 1,
    }));
  };
