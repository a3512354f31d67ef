/** What the columns of a table of one sweep tell: one address, the time of the first row, irradiance and temperature per point. */
import type { Campaign } from '../campaign/model.js';
import { significant } from '../presentation/formatNumber.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import { addressColumn } from './addressColumn.js';
import { addressNamed } from './addressNamed.js';
import { noFacts, type Found, type TableFacts } from './tableFacts.js';
import { temperatureKindOf } from './temperatureKind.js';
import type { TopOfTable } from './topOfTable.js';
import { readWrittenTime, type DateOrder } from './writtenTime.js';

export interface RowFacts {
  readonly facts: TableFacts;
  readonly order?: DateOrder;
  readonly isDoubtful: boolean;
  readonly remarks: readonly string[];
  /** With irradiance and temperature, once the points are read. */
  readonly ofReading: (reading: SweepReading) => TableFacts;
}

export function rowFacts(top: TopOfTable, campaign: Campaign, order?: DateOrder): RowFacts {
  const { rows, columns } = top;
  const [address, remark] = addressOfRows(
    rows,
    columns.address?.index ?? addressColumn(top, campaign),
    campaign,
    columns.address?.header,
  );
  const first = (index: number | undefined): string =>
    index === undefined ? '' : (rows.find((row) => (row[index] ?? '').trim() !== '')?.[index]?.trim() ?? '');
  const [date, clock] = [first(columns.date?.index), first(columns.time?.index)];
  const time = readWrittenTime(`${date} ${clock}`.trim(), order);
  const facts = { ...noFacts, address, time: timeOf(time, columns.time?.header ?? columns.date?.header) };
  return {
    facts,
    order: time?.order,
    isDoubtful: time?.isDoubtful === true,
    remarks: remark === undefined ? [] : [remark],
    ofReading: (reading) => ({
      ...facts,
      irradiance:
        meanOf(reading.irradiance) === undefined ? {} : { fact: { source: columnNamed(columns.irradiance) } },
      temperature: temperatureOf(reading, columns.temperature),
    }),
  };
}

type Named = { readonly index: number; readonly header?: string } | undefined;

const columnNamed = (column: Named): string =>
  column?.header === undefined ? `column ${(column?.index ?? 0) + 1}` : `column "${column.header}"`;

function addressOfRows(
  rows: TopOfTable['rows'],
  index: number | undefined,
  campaign: Campaign,
  header: string | undefined,
): [Found, string?] {
  if (index === undefined) return [{}];
  const texts = new Set<string>();
  for (const row of rows) {
    const text = (row[index] ?? '').trim();
    if (text !== '') texts.add(text);
    if (texts.size > 1) return [{}];
  }
  const [only] = texts;
  if (only === undefined) return [{}];
  const text = addressNamed(only, campaign);
  const source = columnNamed({ index, header });
  if (text !== undefined) return [{ fact: { text, source } }];
  return [{}, `${source} says "${only.slice(0, 40)}", which is no address of the campaign.`];
}

function timeOf(time: ReturnType<typeof readWrittenTime>, header: string | undefined): Found {
  const source = header === undefined ? 'the table' : `column "${header}"`;
  if (!time) return {};
  if (time.isDoubtful) return { doubt: `the day in ${source} could be read in two ways` };
  if (time.date === undefined) return {};
  if (time.clock === undefined) return { suggestion: `${time.date} ` };
  return { fact: { text: `${time.date} ${time.clock}`, source } };
}

/** The column itself counts as cell temperature; another one is written as its mean. */
function temperatureOf(reading: SweepReading, column: Named): Found {
  const mean = meanOf(reading.temperature);
  if (mean === undefined) return {};
  const source = columnNamed(column);
  const kind = temperatureKindOf(column?.header ?? '');
  if (kind === 'cell') return { fact: { source } };
  const text = `${Number(significant(mean, 4))} degC`;
  if (kind === 'module') return { fact: { text: `${text} module`, source: `mean of ${source}` } };
  return { withoutKind: text, doubt: `${source} does not say whether cell or back of module` };
}

function meanOf(values: Float64Array | undefined): number | undefined {
  const known = Array.from(values ?? []).filter((value) => !Number.isNaN(value));
  return known.length === 0 ? undefined : known.reduce((sum, value) => sum + value, 0) / known.length;
}
