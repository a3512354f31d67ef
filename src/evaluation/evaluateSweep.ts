/** Every sweep of a campaign with its points, its target and its analysis. */
import { isAddressFault, parseAddress } from '../campaign/names.js';
import type {
  BlockPlace,
  Campaign,
  LayoutRecord,
  Placed,
  SweepRecord,
  SweepTableRecord,
  SweepTarget,
  SweepTemperature,
  Words,
} from '../campaign/model.js';
import type { Quantity } from '../campaign/quantity.js';
import { targetOf } from '../campaign/sweepTarget.js';
import { parseTime } from '../campaign/time.js';
import type { SweepInput } from '../analysis/analyseSweep.js';
import type { SweepSettings } from '../analysis/conditions.js';
import { firstError } from '../sweeps/readingProblems.js';
import type { SweepOfTable } from '../sweeps/readManySweeps.js';
import type { ReadingProblem, ReadingResult } from '../sweeps/sweepReading.js';
import { rangeOnLine, shiftRange, type Range } from '../text/place.js';
import type { FileProblem } from '../text/problem.js';
import type { Steps } from '../text/steps.js';
import { isAnalysed, rememberedAnalysis, targetItems } from './analyses.js';
import type { ComingSweep } from './comingSweep.js';
import type { EvaluatedSweep } from './evaluation.js';
import { failureText } from './loadFiles.js';
import type { FileContent, FileReader } from './ports.js';
import { inlineReading, isRead, manyReadings, singleReading } from './readings.js';
import { Remembered } from './remembered.js';
import { beyondRows } from './rowsLimit.js';
import { sweepTime } from './sweepTime.js';

/** A table that a sweep names, with what the host answered. */
export interface NamedTable {
  readonly file: string;
  readonly content: FileContent;
}

export interface SweepContext {
  readonly campaign: Campaign;
  readonly reader: Pick<FileReader, 'displayName'>;
  /** Stands for the contents of all tables and for what is left out: the very same object as long as these are. */
  readonly tables: object;
  /** Sweeps and tables of sweeps whose tables are too much for one campaign (rowsLimit.ts). */
  readonly leftOut: ReadonlySet<Placed>;
  /** The table named in a file by a path, once it is loaded. */
  readonly table: (file: string, path: string) => NamedTable | undefined;
}

export interface SweepsOfBlock {
  readonly sweeps: readonly EvaluatedSweep[];
  /** Problems of a table as a whole; those of single sweeps are in the sweeps. */
  readonly problems: readonly FileProblem[];
}

/** Problems of one table shown as such; the rest is counted in the last one. */
export const mostProblems = 50;

const evaluated = new Remembered<SweepsOfBlock>();
const named = new Remembered<SweepsOfBlock>();

/** The very same answer as before when neither the sweep nor what it rests on has changed or moved. */
export function evaluateSweep(placed: Placed<SweepRecord>, context: SweepContext): SweepsOfBlock {
  const { record } = placed;
  const own = ownOf(placed, context);
  // Where no name can mean another thing, what this one rests on need not be looked up.
  return named.get(record, '', [...own, context.campaign.meaning], () => {
    const target = targetOf(record, context.campaign);
    return evaluated.get(record, '', [...own, ...targetItems(target)], () =>
      evaluateAnew(placed, target, context),
    );
  });
}

/** The same without computing anything; undefined where something has to be. */
export const rememberedSweep = (
  placed: Placed<SweepRecord>,
  context: SweepContext,
): SweepsOfBlock | undefined =>
  named.known(placed.record, '', [...ownOf(placed, context), context.campaign.meaning]);

/** Where a sweep and its table stand, and what that table holds. */
function ownOf(placed: Placed<SweepRecord>, context: SweepContext): unknown[] {
  const { file, startLine } = placed.block;
  const table = placed.record.points ? undefined : tableOf(placed, context);
  return [file, startLine, table?.file, table?.content];
}

const leftOut = { ok: false, reason: 'left-out' } as const;

/** The table that it names, once it is loaded. */
function tableOf(
  placed: Placed<SweepRecord | SweepTableRecord>,
  context: SweepContext,
): NamedTable | (Pick<NamedTable, 'file'> & { readonly content: typeof leftOut }) | undefined {
  const { record, block } = placed;
  const table = record.data && context.table(block.file, record.data.text);
  return table && context.leftOut.has(placed) ? { file: table.file, content: leftOut } : table;
}

/** The sweep, where it has points that are still to be analysed. */
export function comingSweep(placed: Placed<SweepRecord>, context: SweepContext): ComingSweep[] {
  const { record } = placed;
  const target = targetOf(record, context.campaign);
  const points = comingPoints(placed, context, target.layout);
  if (!points) return [];
  const { time, instant } = sweepTime(record.time, target.site);
  const settings = settingsOf(record, instant);
  if ('reading' in points) {
    const input = { settings, target, reading: points.reading, readingFailure: points.failure };
    if (isAnalysed(record, '', input)) return [];
  }
  return [{ owner: record, key: '', address: record.address.text, time, instant, settings, target, points }];
}

function comingPoints(
  placed: Placed<SweepRecord>,
  context: SweepContext,
  layout: LayoutRecord | undefined,
): ComingSweep['points'] | undefined {
  const table = placed.record.points ? undefined : tableOf(placed, context);
  if (table?.content.ok && !isRead(table.content.bytes, layout))
    return { table: table.content, shown: context.reader.displayName(table.file) };
  const { reading, failure } = readingOf(placed, context, layout);
  return reading && { reading, failure };
}

function evaluateAnew(
  placed: Placed<SweepRecord>,
  target: SweepTarget,
  context: SweepContext,
): SweepsOfBlock {
  const { record, block } = placed;
  const when = sweepTime(record.time, target.site);
  const source = readingOf(placed, context, target.layout);
  const settings = settingsOf(record, when.instant);
  const { reading, failure: readingFailure } = source;
  const analysis = rememberedAnalysis(record, '', { settings, target, reading, readingFailure });
  const problems = [...source.problems];
  if (reading && !record.points && !record.void) problems.push(...missingConditions(record, block, reading));
  const sweep: EvaluatedSweep = {
    id: `${block.file}:${block.startLine + 1}`,
    address: record.address.text,
    time: when.time,
    instant: when.instant,
    record,
    block,
    place: headerPlace(block, record.headerRange),
    dataFile: source.file,
    target,
    reading,
    analysis,
    problems,
  };
  return { sweeps: [sweep], problems: [] };
}

function settingsOf(record: SweepRecord, instant: number | undefined): SweepSettings {
  const { irradiance, irradianceAfter, rearIrradiance, temperature, temperatureCheck } = record;
  const { tilt, azimuth, pinShadow } = record;
  return {
    irradiance,
    irradianceAfter,
    rearIrradiance,
    temperature,
    temperatureCheck,
    tilt,
    azimuth,
    pinShadow,
    void: record.void?.text,
    instant,
  };
}

function readingOf(
  placed: Placed<SweepRecord>,
  context: SweepContext,
  layout: Parameters<typeof singleReading>[1],
): { reading?: ReadingResult['reading']; failure?: string; file?: string; problems: FileProblem[] } {
  const { record, block } = placed;
  if (record.points) {
    const result = inlineReading(record);
    // Lines of inline points are lines of the block.
    const problems = result.problems.map((problem): FileProblem => ({
      ...unplaced(problem),
      file: block.file,
      range: shiftRange(rangeOfPoint(record.points!.range, problem.place?.line), block.startLine),
    }));
    return { reading: result.reading, failure: firstError(result.problems), problems };
  }
  if (!record.data) return { failure: 'The sweep names no data.', problems: [] };
  const range = shiftRange(record.data.range, block.startLine);
  const table = openTable(placed, record.data, context);
  if ('failure' in table) return table;
  const result = singleReading(table.content.bytes, layout);
  const shown = context.reader.displayName(table.file);
  return {
    reading: result.reading,
    failure: firstError(result.problems, shown),
    file: table.file,
    problems: tableProblems(result.problems, { block, range, file: table.file, shown }),
  };
}

/** One line of inline points, counted from 1 at the header of the block; all of them without a line. */
function rangeOfPoint(points: Range, line: number | undefined): Range {
  if (line === undefined) return points;
  const start = { line: line - 1, character: 0 };
  return { start, end: line - 1 < points.end.line ? { line, character: 0 } : points.end };
}

/** A step is one sweep. */
export function* evaluateSweepTable(
  placed: Placed<SweepTableRecord>,
  context: SweepContext,
): Steps<SweepsOfBlock> {
  const { record, block } = placed;
  const range = shiftRange(record.data.range, block.startLine);
  const table = openTable(placed, record.data, context);
  if ('failure' in table) return { sweeps: [], problems: table.problems };
  const { rows, problems } = manyReadings(table.content, record, layoutOf(record, context));
  const where: TableInText = {
    block,
    range,
    file: table.file,
    shown: context.reader.displayName(table.file),
  };
  const sweeps: EvaluatedSweep[] = [];
  for (const [index, row] of rows.entries()) {
    sweeps.push(sweepOfRow(row, index, placed, context, where));
    yield;
  }
  const missing = rows[0] ? missingConditions(record, block, rows[0]) : [];
  return { sweeps, problems: [...tableProblems(problems, where), ...missing] };
}

/** How many the table holds; it is read. */
export function sweepsInTable(placed: Placed<SweepTableRecord>, context: SweepContext): number {
  const { record } = placed;
  const table = tableOf(placed, context);
  return table?.content.ok ? manyReadings(table.content, record, layoutOf(record, context)).rows.length : 0;
}

const layoutOf = (record: SweepTableRecord, { campaign }: SweepContext): LayoutRecord | undefined =>
  record.layout && campaign.layouts.get(record.layout.text)?.record;

/** The sweeps of a table, where they are still to be analysed; of a table of which one is known, all are. */
export function comingSweepsOfTable(
  placed: Placed<SweepTableRecord>,
  context: SweepContext,
): readonly ComingSweep[] {
  const { record } = placed;
  const table = tableOf(placed, context);
  if (!table?.content.ok) return [];
  const { rows } = manyReadings(table.content, record, layoutOf(record, context));
  const coming: ComingSweep[] = [];
  for (const [index, row] of rows.entries()) {
    const { reading } = row.result;
    if (!reading) continue;
    const { input, time, instant } = readRow(row, record, context, context.reader.displayName(table.file));
    const { settings, target } = input;
    const key = String(index);
    if (coming.length === 0 && isAnalysed(record, key, input)) return [];
    const points = { reading, failure: input.readingFailure };
    coming.push({ owner: record, key, address: row.address, time, instant, settings, target, points });
  }
  return coming;
}

function sweepOfRow(
  row: SweepOfTable,
  index: number,
  { record, block }: Placed<SweepTableRecord>,
  context: SweepContext,
  where: TableInText,
): EvaluatedSweep {
  const { input, time, instant, problems } = readRow(row, record, context, where.shown);
  return {
    id: `${block.file}:${block.startLine + 1}#${index + 1}`,
    address: row.address,
    time,
    instant,
    record,
    block,
    place: headerPlace(block, record.headerRange),
    tableLine: row.firstLine,
    dataFile: where.file,
    target: input.target,
    reading: row.result.reading,
    analysis: rememberedAnalysis(record, String(index), input),
    problems: tableProblems([...problems, ...row.result.problems], where),
  };
}

interface ReadRow extends Pick<EvaluatedSweep, 'time' | 'instant'> {
  readonly input: SweepInput;
  /** Of its address and time. */
  readonly problems: readonly ReadingProblem[];
}

/** @param shown the name of the table in messages */
function readRow(row: SweepOfTable, record: SweepTableRecord, context: SweepContext, shown: string): ReadRow {
  const problems: ReadingProblem[] = [];
  const fail = (id: string, severity: 'error' | 'warning', message: string): void => {
    problems.push({ id, severity, message, place: { line: row.firstLine } });
  };
  const parsed = parseAddress(row.address);
  const address = isAddressFault(parsed) ? undefined : parsed;
  if (isAddressFault(parsed)) fail(parsed.id, 'error', parsed.message);
  else if (!context.campaign.strings.has(parsed.string)) {
    fail('reference/unknown', 'error', `The address "${row.address}" names no string of the campaign.`);
  }
  const local = row.time === '' ? undefined : parseTime(row.time);
  if (row.time !== '' && !local) {
    fail('time/unreadable', 'warning', `The time "${row.time}" is not of the form 2026-05-14 11:42.`);
  }
  const target = targetOf(record, context.campaign, address, local);
  const modules = target.string?.modules?.count;
  if (modules !== undefined && target.seriesModules === undefined) {
    const has = `string ${address!.string} has ${modules} modules`;
    fail('address/beyond-string', 'error', `The address "${row.address}" names more: ${has}.`);
  }
  const when = sweepTime(local, target.site);
  const settings: SweepSettings = { ...settingsOfRow(row, record), instant: when.instant };
  const readingFailure = firstError(row.result.problems, shown);
  const input = { settings, target, reading: row.result.reading, readingFailure };
  return { input, time: when.time ?? (row.time || undefined), instant: when.instant, problems };
}

function settingsOfRow(row: SweepOfTable, record: SweepTableRecord): SweepSettings {
  const read = (value: number, dimension: Quantity['dimension'], unit: string): Quantity => ({
    value,
    dimension,
    unit,
    writtenValue: value,
    range: record.data.range,
  });
  const temperature: SweepTemperature | undefined =
    row.temperature === undefined
      ? record.temperature
      : {
          kind: record.temperatureKind,
          value: read(row.temperature, 'temperature', 'degC'),
          offset: record.temperatureOffset,
          range: record.data.range,
        };
  return {
    irradiance: row.irradiance === undefined ? record.irradiance : read(row.irradiance, 'irradiance', 'W/m2'),
    temperature,
  };
}

interface TableInText {
  readonly block: BlockPlace;
  /** Where the text names the table. */
  readonly range: Range;
  readonly file: string;
  readonly shown: string;
}

/** Why there is no table to be read. */
interface NoTable {
  readonly failure: string;
  readonly file?: string;
  readonly problems: FileProblem[];
}

function openTable(
  placed: Placed<SweepRecord | SweepTableRecord>,
  { text: path, range }: Words,
  context: SweepContext,
): { file: string; content: Extract<FileContent, { ok: true }> } | NoTable {
  const { file: named, startLine } = placed.block;
  const none = (id: string, failure: string, file?: string): NoTable => {
    const place = { file: named, range: shiftRange(range, startLine) };
    return { failure, file, problems: [{ id, severity: 'error', ...place, message: failure }] };
  };
  const table = tableOf(placed, context);
  if (!table)
    return none('data/outside', `"${path}" leads out of the workspace folder; data files stay inside it.`);
  const { content, file } = table;
  if (content.ok) return { file, content };
  // That is said once, where it begins.
  if (content.reason === 'left-out') return { failure: beyondRows, file, problems: [] };
  const why = failureText(content, context.reader.displayName(named));
  return none(`data/${content.reason}`, `"${path}" ${why}.`, file);
}

/** At the place that names the table, with the row of the table beside it. */
function tableProblems(problems: readonly ReadingProblem[], where: TableInText): FileProblem[] {
  return problems.slice(0, mostProblems).map((problem): FileProblem => {
    const { place } = problem;
    const column = place?.column === undefined ? '' : `:${place.column}`;
    const at = place ? `:${place.line}${column}` : '';
    return {
      ...unplaced(problem),
      message: `${where.shown}${at}: ${problem.message}`,
      file: where.block.file,
      range: where.range,
      related: place
        ? [
            {
              place: { file: where.file, range: rangeOnLine(place.line - 1, 0, 1_000) },
              message: `Row ${place.line} of the table.`,
            },
          ]
        : undefined,
    };
  });
}

function unplaced({
  id,
  severity,
  message,
}: ReadingProblem): Pick<FileProblem, 'id' | 'severity' | 'message'> {
  return { id, severity, message };
}

function headerPlace(block: BlockPlace, headerRange: Range) {
  return { file: block.file, range: shiftRange(headerRange, block.startLine) };
}

interface Given {
  readonly irradiance?: unknown;
  readonly temperature?: unknown;
}

/** What neither the block nor its table gives. Inline points carry none, and the notation says so itself. */
function missingConditions(
  record: SweepRecord | SweepTableRecord,
  block: BlockPlace,
  table: Given,
): FileProblem[] {
  const absent = (name: keyof Given): boolean =>
    !record.propertyRanges.has(name) && table[name] === undefined;
  const missing = [
    ...(absent('irradiance') ? ['`irradiance 812 W/m2`'] : []),
    ...(absent('temperature') ? ['`temperature 44.1 degC cell`'] : []),
  ];
  if (missing.length === 0) return [];
  const message = `Neither this block nor its table gives the conditions of the measurement. Write ${missing.join(' and ')}.`;
  const { file, range } = headerPlace(block, record.headerRange);
  return [{ id: 'sweep/conditions-missing', severity: 'error', file, range, message }];
}
