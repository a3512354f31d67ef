/** Tables of the sweeps, their points, and what is said of them. */
import { stringOf } from '../campaign/names.js';
import { parameterNames, type CurveParameters } from '../physics/ivCurve.js';
import { parseAddress, isAddressFault } from '../campaign/names.js';
import { sweepId, type FindingRow, type PointRow, type SweepRow } from './campaignRows.js';
import { campaignColumn, noteText } from './campaignTables.js';
import { integer, moment, number, text, yesNo, type Column, type Table } from './exportTable.js';

const sweepColumn = <Row extends SweepRow>(): Column<Row> =>
  text(
    'sweep_id',
    'Where the sweep is written: `file:line`, with `#n` for the n-th sweep of a table.',
    sweepId,
  );

const units: Readonly<Record<keyof CurveParameters, string>> = {
  isc: 'A',
  voc: 'V',
  imp: 'A',
  vmp: 'V',
  pmax: 'W',
  ff: '1',
};

type Parameters = Partial<Record<keyof CurveParameters, number | undefined>> | undefined;

/** One column for each curve parameter: `measured_isc`, … */
function parameterColumns(
  prefix: string,
  meaning: string,
  of: (row: SweepRow) => Parameters,
  unit?: string,
): Column<SweepRow>[] {
  return parameterNames.map((name) =>
    number(`${prefix}_${name}`, unit ?? units[name], meaning, (row) => of(row)?.[name]),
  );
}

function positions({ sweep }: SweepRow): { readonly first?: number; readonly last?: number } {
  const address = parseAddress(sweep.address);
  if (isAddressFault(address)) return {};
  return { first: address.first, last: address.last ?? address.first };
}

const conditions = ({ sweep }: SweepRow) => sweep.analysis.conditions;
const recordOf = ({ sweep }: SweepRow) => (sweep.record.kind === 'sweep' ? sweep.record : undefined);

export const sweeps: Table<SweepRow> = {
  name: 'sweeps',
  meaning: 'One sweep, with all that was computed from it.',
  key: ['campaign_id', 'sweep_id'],
  columns: [
    campaignColumn(),
    sweepColumn(),
    text('string', 'Name of the string.', ({ sweep }) => stringOf(sweep.address)),
    text('address', '`string`, `string/position` or `string/first-last`.', ({ sweep }) => sweep.address),
    integer(
      'first_position',
      '',
      'First module, from 1 at the positive end; NULL for a whole string.',
      (row) => positions(row).first,
    ),
    integer('last_position', '', 'Last module; NULL for a whole string.', (row) => positions(row).last),
    yesNo('whole_string', 'The whole string was measured.', ({ sweep }) => sweep.target.wholeString),
    text('time', 'ISO 8601, with offset where the zone of the site is known.', ({ sweep }) => sweep.time),
    moment('time_utc', 'Where the zone of the site is known.', ({ sweep }) => sweep.instant),
    text('module_type', 'Name of the module type.', ({ sweep }) => sweep.target.module?.name.text),
    text('technology', 'Of the module type.', ({ sweep }) => sweep.target.module?.technology),
    integer(
      'series_modules',
      '',
      'Modules in series between the terminals.',
      ({ sweep }) => sweep.target.seriesModules,
    ),
    integer(
      'parallel_strings',
      '',
      'Strings in parallel between the terminals.',
      ({ sweep }) => sweep.target.parallelStrings,
    ),
    text('criteria', 'Name of the criteria.', ({ sweep }) => sweep.target.criteria?.name.text),
    text(
      'procedure',
      'Of the translation to standard test conditions.',
      ({ sweep }) => sweep.analysis.translated?.procedure,
    ),
    number('irradiance', 'W/m2', 'In the plane of the device.', (row) => conditions(row).irradiance),
    number(
      'irradiance_uncertainty',
      '1',
      'Relative, expanded.',
      (row) => conditions(row).irradianceUncertainty,
    ),
    number('cell_temperature', 'degC', 'Cell temperature.', (row) => conditions(row).cellTemperature),
    number('temperature_uncertainty', 'K', 'Expanded.', (row) => conditions(row).temperatureUncertainty),
    text('temperature_source', '`cell`, `module` or `voc`.', (row) => conditions(row).temperatureSource),
    number(
      'drift',
      '1',
      'Range over mean of the irradiance during the sweep.',
      (row) => conditions(row).drift,
    ),
    number(
      'incidence',
      'deg',
      'Angle of incidence of the sun on the plane.',
      (row) => conditions(row).incidence,
    ),
    number('sun_elevation', 'deg', 'Above the horizon.', (row) => conditions(row).sunElevation),
    integer('points', '', 'Usable points.', (row) => conditions(row).points),
    ...parameterColumns(
      'measured',
      'At the conditions of the sweep.',
      ({ sweep }) => sweep.analysis.measured?.parameters,
    ),
    ...parameterColumns(
      'translated',
      'At 1000 W/m2 and 25 degC.',
      ({ sweep }) => sweep.analysis.translated?.parameters,
    ),
    ...parameterColumns(
      'nameplate',
      'Nameplate times the series and parallel counts.',
      ({ sweep }) => sweep.analysis.nameplate,
    ),
    ...parameterColumns(
      'deviation',
      '(translated - nameplate) / nameplate.',
      ({ sweep }) => sweep.analysis.deviation,
      '1',
    ),
    ...parameterColumns(
      'uncertainty',
      'Relative expanded uncertainty of the translated value, 95.45 %.',
      ({ sweep }) => sweep.analysis.uncertainty,
      '1',
    ),
    text(
      'verdict',
      '`pass`, `conditional pass`, `conditional fail`, `fail`, `not judged` or `void`.',
      ({ sweep }) => sweep.analysis.verdict,
    ),
    text(
      'decisive_reason',
      'What decides the verdict; NULL where nothing does.',
      ({ sweep }) => sweep.analysis.reasons.find(({ decisive }) => decisive)?.text,
    ),
    yesNo(
      'healthy',
      'The shape differs in nothing from the expected curve; NULL where it was not looked at.',
      ({ sweep }) => sweep.diagnosis?.healthy,
    ),
    text(
      'leading_cause',
      'Code of the likeliest cause of what differs.',
      ({ sweep }) => sweep.diagnosis?.causes[0]?.code,
    ),
    text('remark', 'What was seen while measuring.', (row) => recordOf(row)?.remark),
    text('void_reason', 'Why it does not count.', (row) => recordOf(row)?.void?.text),
    text('notes', 'Notes of the block, one a line.', ({ sweep }) => noteText(sweep.record.notes)),
    text(
      'data_file',
      'Table of its points, from the same folder.',
      ({ source, sweep }) => sweep.dataFile && source.display(sweep.dataFile),
    ),
    text('file', 'Where it is written, from the same folder.', ({ source, sweep }) =>
      source.display(sweep.block.file),
    ),
    integer('line', '', 'Line in the file, from 1.', ({ sweep }) => sweep.place.range.start.line + 1),
  ],
};

export const points: Table<PointRow> = {
  name: 'points',
  meaning: 'One point of a curve of a sweep, in ascending voltage.',
  key: ['campaign_id', 'sweep_id', 'curve', 'point'],
  columns: [
    campaignColumn(),
    sweepColumn(),
    text('curve', '`measured`: as read; `translated`: at 1000 W/m2 and 25 degC.', ({ curve }) => curve),
    integer('point', '', 'From 1, within the curve.', ({ point }) => point),
    number('voltage', 'V', 'Of the whole device.', ({ voltage }) => voltage),
    number('current', 'A', 'Of the whole device, positive when generating.', ({ current }) => current),
    number(
      'irradiance',
      'W/m2',
      'At this point, where the table has the column; measured curve only.',
      ({ irradiance }) => irradiance,
    ),
    number(
      'temperature',
      'degC',
      'At this point, where the table has the column; measured curve only.',
      ({ temperature }) => temperature,
    ),
  ],
};

export const findings: Table<FindingRow> = {
  name: 'findings',
  meaning:
    'One thing said of a sweep: a reason of its verdict, what its shape shows, what may cause that, or a flag of a curve.',
  key: ['campaign_id', 'sweep_id', 'number'],
  columns: [
    campaignColumn(),
    sweepColumn(),
    integer('number', '', 'From 1, within the sweep.', (row) => row.number),
    text('string', 'Name of the string.', ({ sweep }) => stringOf(sweep.address)),
    text('address', 'Of the sweep.', ({ sweep }) => sweep.address),
    text('kind', '`reason`, `finding`, `cause` or `flag`.', ({ kind }) => kind),
    text('code', 'Stable; the text may change.', ({ code }) => code),
    text(
      'about',
      'Of a cause: `conditions`, `entry` or `device`; of a flag: the curve.',
      ({ about }) => about,
    ),
    text('parameter', 'Curve parameter it speaks of, where it speaks of one.', ({ parameter }) => parameter),
    yesNo('decisive', 'Of a reason: does it decide the verdict?', ({ decisive }) => decisive),
    number('share', '1', 'Of a cause: its share of the evidence.', ({ share }) => share),
    text('figure', 'Name of its leading number; the text has all.', (row) => row.figure?.name),
    number('figure_value', '', 'The leading number, in `figure_unit`.', (row) => row.figure?.value),
    text('figure_unit', 'Unit of the leading number.', (row) => row.figure?.unit),
    number('figure_uncertainty', '', 'Expanded, in `figure_unit`.', (row) => row.figure?.uncertainty),
    text('text', 'One sentence.', (row) => row.text),
  ],
};
