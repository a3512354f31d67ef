/** One file looked at: how it is laid out, what its points say, and what is known of the sweep beside them. */
import type { Campaign, SweepTableRecord } from '../campaign/model.js';
import { extractParameters } from '../physics/curveParameters.js';
import {
  columnText,
  formLines,
  layoutText,
  readLayout,
  type LayoutLines,
} from '../presentation/fixes/layoutText.js';
import { layoutName } from '../presentation/fixes/layoutCandidates.js';
import { readManySweeps, type ManySweeps } from '../sweeps/readManySweeps.js';
import { readSweepTable } from '../sweeps/readSweepTable.js';
import { recogniseLayout, type RecognisedLayout } from '../sweeps/recogniseLayout.js';
import type { ReadingProblem, SweepReading } from '../sweeps/sweepReading.js';
import { quotedText } from '../syntax/quotedText.js';
import { addressColumn } from './addressColumn.js';
import { fileNameFacts } from './fileNameFacts.js';
import type { FoundSweep, FoundTable, LeftOut, TableInput } from './foundTable.js';
import { headerFacts, type HeaderFacts } from './headerFacts.js';
import { readWithLayout, reachOf, type NamedLayout, type ReadTable } from './layoutNeeded.js';
import { manyFound } from './manyFound.js';
import { mergedFacts } from './mergedFacts.js';
import { rowFacts } from './rowFacts.js';
import { separateRuns } from './separateRuns.js';
import { topOfTable, type TopOfTable } from './topOfTable.js';
import type { DateOrder } from './writtenTime.js';

export interface FindOptions {
  readonly campaign: Campaign;
  /** Of the campaign, and those that files before this one need. */
  readonly layouts: readonly NamedLayout[];
  /** What other files show of days in slashes. */
  readonly order?: DateOrder;
  /** Write a layout down even where none is needed. */
  readonly writeLayout?: boolean;
  /** A name that is free. */
  readonly nameLayout: (wanted: string) => string;
}

export function findInTable(input: TableInput, options: FindOptions): FoundTable | LeftOut {
  const left = (reason: string): LeftOut => ({
    kind: 'left',
    file: input.file,
    path: input.path,
    reason,
    isNamed: false,
  });
  if (quotedText(input.path) === undefined)
    return left('Its name has characters that no line of text can hold; rename it.');
  const { layout: recognised, problems } = recogniseLayout(input.bytes);
  if (!recognised) return left(firstError(problems));
  const bare: BareTable = { ...input, recognised, top: topOfTable(input.bytes, recognised) };
  const found = tableOfMany(bare, options);
  if (found) return found;
  const one = oneFound(bare, options);
  if (!one) return left(firstError(readSweepTable(input.bytes).problems));
  const runs = separateRuns(one.reading);
  if (runs < 2) return one;
  return left(
    `Its voltage begins anew ${runs - 1} ${runs === 2 ? 'time' : 'times'}, so it holds several sweeps, but no column names strings of the campaign.`,
  );
}

/** A file as it is understood without a layout. */
interface BareTable extends TableInput {
  readonly recognised: RecognisedLayout;
  readonly top: TopOfTable;
}

/** By the header of its addresses, else by a column that holds nothing but addresses of the campaign. */
function tableOfMany(bare: BareTable, { campaign }: FindOptions): FoundTable | LeftOut | undefined {
  const { bytes, recognised, top } = bare;
  const plain = readManySweeps(bytes, noColumns);
  if (isMany(plain)) return manyFound(bare, recognised, plain, { campaign });
  const index = top.columns.address ? undefined : addressColumn(top, campaign);
  if (index === undefined) return undefined;
  const named = {
    ...recognised,
    columns: recognised.columns.map((each) =>
      each.number === index + 1 ? { ...each, role: 'address' as const } : each,
    ),
  };
  const record = { ...noColumns, columns: { address: { number: index + 1, range: nowhere } } };
  const many = readManySweeps(bytes, record);
  return isMany(many) ? manyFound(bare, named, many, { campaign }) : undefined;
}

const nowhere = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };
const noColumns: SweepTableRecord = {
  kind: 'sweeps',
  data: { text: '', range: nowhere },
  columns: {},
  temperatureKind: 'cell',
  with: [],
  notes: [],
  headerRange: nowhere,
  propertyRanges: new Map(),
};

/** Two sweeps of which each can be read; a column that counts the rows makes no sweeps. */
const isMany = ({ rows }: ManySweeps): boolean => rows.filter(({ result }) => result.reading).length > 1;

function firstError(problems: readonly ReadingProblem[]): string {
  const found = problems.find(({ severity }) => severity === 'error') ?? problems[0];
  const line = found?.place ? `Line ${found.place.line}: ` : '';
  return `${line}${found?.message ?? 'It cannot be read as a sweep.'}`;
}

function oneFound(bare: BareTable, options: FindOptions): FoundSweep | undefined {
  const { file, path, bytes, recognised, top } = bare;
  const { campaign, order } = options;
  const above = headerFacts(top.above, recognised.decimal, campaign, order);
  const beside = fileNameFacts(path, campaign);
  const bareRows = rowFacts(top, campaign, order);
  const known = mergedFacts([bareRows.facts, above.facts, beside]).facts;
  const irradiance = parseFloat(known.irradiance.fact?.text ?? '');
  const expected = reachOf(
    known.address.fact?.text ?? known.address.suggestion,
    Number.isNaN(irradiance) ? undefined : irradiance,
    campaign,
  );
  const read = readWithLayout(bytes, options.layouts, expected);
  if (!read.reading) return undefined;
  const layout = read.layout ?? newLayout(bare, read, options);
  const rows = layout ? rowFacts(topOfTable(bytes, recognised, layout.record), campaign, order) : bareRows;
  const merged = mergedFacts([rows.ofReading(read.reading), above.facts, beside]);
  return {
    kind: 'sweep',
    file,
    path,
    recognised: (layout && recogniseLayout(bytes, layout.record).layout) ?? recognised,
    facts: merged.facts,
    layout,
    reading: read.reading,
    parameters: extractParameters(read.reading.curve).parameters,
    choices: read.isClear ? [] : read.candidates,
    order: orderOf(above, rows.order),
    isDayDoubtful: above.isDoubtful || rows.isDoubtful,
    remarks: [...readingRemarks(read), ...rows.remarks, ...merged.remarks],
  };
}

const orderOf = (above: HeaderFacts, ofRows: DateOrder | undefined): DateOrder | undefined =>
  above.order ?? ofRows;

function newLayout(
  { path, recognised }: BareTable,
  { candidates, reading }: ReadTable,
  { writeLayout, nameLayout }: FindOptions,
): NamedLayout | undefined {
  const lines = candidates[0]?.lines ?? (writeLayout ? asRecognised(recognised, reading!) : undefined);
  if (!lines) return undefined;
  const name = nameLayout(layoutName(path));
  const record = readLayout(layoutText(name, lines));
  return record && { name, record, lines };
}

/** Everything that was recognised, written down; undefined where no header told the columns. */
function asRecognised(recognised: RecognisedLayout, reading: SweepReading): LayoutLines | undefined {
  const { columns } = recognised;
  const column = (role: string): string | undefined => {
    const found = columns.find((each) => each.role === role);
    return found && columnText(found, columns);
  };
  const [voltage, current] = [column('voltage'), column('current')];
  if (voltage === undefined || current === undefined) return undefined;
  const more = (['irradiance', 'temperature'] as const).flatMap((role) => {
    const written = reading[role] ? column(role) : undefined;
    return written === undefined ? [] : [[role, written] as const];
  });
  return [
    ...formLines(recognised),
    ...(recognised.headerLine === undefined ? [['header', 'no'] as const] : []),
    ['voltage', voltage],
    ['current', current],
    ...more,
  ];
}

function readingRemarks({ problems }: ReadTable): string[] {
  return problems
    .filter(({ severity }) => severity !== 'error')
    .map(({ message, place }) => (place ? `Line ${place.line}: ${message}` : message));
}
