import { isAddressFault, parseAddress } from '../campaign/names.js';
import { parseTime } from '../campaign/time.js';
import type { Campaign } from '../campaign/model.js';
import { columnText, type LayoutLines } from '../presentation/fixes/layoutText.js';
import type { ManySweeps } from '../sweeps/readManySweeps.js';
import type { RecognisedColumn, RecognisedLayout } from '../sweeps/recogniseLayout.js';
import type { FoundSweeps, LeftOut, TableInput } from './foundTable.js';
import { noFacts, type Found } from './tableFacts.js';
import { temperatureKindOf } from './temperatureKind.js';

/** A table of many sweeps; left out where it names no string of the campaign at all. */
export function manyFound(
  { file, path }: TableInput,
  recognised: RecognisedLayout,
  { rows, problems }: ManySweeps,
  { campaign }: { readonly campaign: Campaign },
): FoundSweeps | LeftOut {
  const addresses = [...new Set(rows.map(({ address }) => address))];
  const unknown = addresses.filter((text) => !isKnown(text, campaign));
  if (unknown.length === addresses.length) {
    const reason = `None of its addresses is a string of the campaign: ${listed(unknown)}. Write the strings first.`;
    return { kind: 'left', file, path, reason, isNamed: false };
  }
  const timeless = rows.filter(({ time }) => time === '' || !parseTime(time));
  const remarks = problems.map(({ message, place }) => (place ? `Line ${place.line}: ${message}` : message));
  if (unknown.length > 0) remarks.push(`The campaign has no ${listed(unknown)}.`);
  if (timeless[0] && timeless[0].time !== '')
    remarks.push(`Times such as "${timeless[0].time}" are not read; write them as 2026-05-14 11:42.`);
  return {
    kind: 'sweeps',
    file,
    path,
    recognised,
    facts: { ...noFacts, ...columnFacts(recognised.columns, rows) },
    columns: columnLines(recognised.columns),
    count: rows.length,
    points: rows.reduce((sum, { result }) => sum + (result.reading?.curve.voltage.length ?? 0), 0),
    addresses,
    remarks,
  };
}

function isKnown(text: string, campaign: Campaign): boolean {
  const parsed = parseAddress(text);
  return !isAddressFault(parsed) && campaign.strings.has(parsed.string);
}

const listed = (names: readonly string[]): string =>
  names.length > 6 ? `${names.slice(0, 6).join(', ')} and ${names.length - 6} more` : names.join(', ');

/** A day and a time of day in two columns are joined by the reader itself as long as neither is named. */
function columnLines(columns: readonly RecognisedColumn[]): LayoutLines {
  const isSplit = columns.some(({ role }) => role === 'date');
  return (['address', 'time', 'voltage', 'current'] as const).flatMap((role) => {
    const column = role === 'time' && isSplit ? undefined : columns.find((each) => each.role === role);
    return column ? [[role, columnText(column, columns)] as const] : [];
  });
}

function columnFacts(
  columns: readonly RecognisedColumn[],
  rows: ManySweeps['rows'],
): { irradiance: Found; temperature: Found } {
  const irradiance = columns.find(({ role }) => role === 'irradiance');
  const temperature = columns.find(({ role }) => role === 'temperature');
  const source = (column: RecognisedColumn): string =>
    `column ${columnText(column, columns).replace(/^column /, '')}`;
  const found = { irradiance: {} as Found, temperature: {} as Found };
  if (irradiance && rows.some((row) => row.irradiance !== undefined))
    found.irradiance = { fact: { text: columnText(irradiance, columns), source: source(irradiance) } };
  if (temperature && rows.some((row) => row.temperature !== undefined)) {
    const kind = temperatureKindOf(temperature.header ?? '');
    const text = columnText(temperature, columns);
    found.temperature = kind
      ? { fact: { text: `${text} ${kind}`, source: source(temperature) } }
      : { withoutKind: text, doubt: `${source(temperature)} does not say whether cell or back of module` };
  }
  return found;
}
