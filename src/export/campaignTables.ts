/** Tables of a campaign, its strings, its replacements and its electrical tests. */
import { stringOf } from '../campaign/names.js';
import type { ElectricalFigure } from '../electricalTests/electricalTest.js';
import {
  campaignId,
  sweepId,
  type ElectricalRow,
  type ExportSource,
  type ReplacementRow,
  type StringRow,
} from './campaignRows.js';
import { integer, moment, number, text, yesNo, type Column, type Table } from './exportTable.js';

/** The first column of every table. */
export function campaignColumn<Row extends { readonly source: ExportSource }>(): Column<Row> {
  return text(
    'campaign_id',
    'Path of the root file of the campaign from the folder that the export lies in; the same in all tables.',
    ({ source }) => campaignId(source),
  );
}

interface CampaignRow {
  readonly source: ExportSource;
}

const head = ({ source }: CampaignRow) => source.evaluation.campaign.campaign?.record;
const site = ({ source }: CampaignRow) => [...source.evaluation.campaign.sites.values()][0]?.record;
const counts = ({ source }: CampaignRow) => source.evaluation.counts;
const electrical = ({ source }: CampaignRow) => source.evaluation.electricalCounts;

function timesOf({ source }: CampaignRow): number[] {
  return source.evaluation.sweeps.flatMap(({ instant, analysis }) =>
    instant === undefined || analysis.verdict === 'void' ? [] : [instant],
  );
}

/** Of no times at all an infinity, which counts as unknown. */
const extreme = (values: readonly number[], of: (a: number, b: number) => number, start: number): number =>
  values.reduce((a, b) => of(a, b), start);

function problems({ source }: CampaignRow, severity: 'error' | 'warning'): number {
  return source.evaluation.problems.filter((problem) => problem.severity === severity).length;
}

export const campaigns: Table<CampaignRow> = {
  name: 'campaigns',
  meaning: 'One campaign, as its root file says.',
  key: ['campaign_id'],
  columns: [
    campaignColumn(),
    text('campaign', 'Name of the campaign.', (row) => head(row)?.name.text),
    text('title', 'Title of the campaign.', (row) => head(row)?.title),
    text('client', 'Client.', (row) => head(row)?.client),
    text('operator', 'Who measured.', (row) => head(row)?.operator),
    text('purpose', '`commissioning`, `periodic` or `fault-search`.', (row) => head(row)?.purpose),
    text('site', 'Name of the first site.', (row) => site(row)?.name.text),
    number('latitude', 'deg', 'Of the first site, north positive.', (row) => site(row)?.latitude),
    number('longitude', 'deg', 'Of the first site, east positive.', (row) => site(row)?.longitude),
    number('elevation', 'm', 'Of the first site.', (row) => site(row)?.elevation?.value),
    moment('first_sweep', 'First sweep that is not void, where the zone of the site is known.', (row) =>
      extreme(timesOf(row), Math.min, Infinity),
    ),
    moment('last_sweep', 'Last sweep that is not void, where the zone of the site is known.', (row) =>
      extreme(timesOf(row), Math.max, -Infinity),
    ),
    integer('sweeps', '', 'Sweeps, void ones included.', ({ source }) => source.evaluation.sweeps.length),
    integer('pass', '', 'Sweeps of this verdict.', (row) => counts(row).pass),
    integer('conditional_pass', '', 'Sweeps of this verdict.', (row) => counts(row).conditionalPass),
    integer('conditional_fail', '', 'Sweeps of this verdict.', (row) => counts(row).conditionalFail),
    integer('fail', '', 'Sweeps of this verdict.', (row) => counts(row).fail),
    integer('not_judged', '', 'Sweeps of this verdict.', (row) => counts(row).notJudged),
    integer('void', '', 'Sweeps set aside by the author.', (row) => counts(row).void),
    integer('electrical_pass', '', 'Electrical tests that passed.', (row) => electrical(row).pass),
    integer('electrical_fail', '', 'Electrical tests that failed.', (row) => electrical(row).fail),
    integer(
      'electrical_not_judged',
      '',
      'Electrical tests without a verdict.',
      (row) => electrical(row).notJudged,
    ),
    integer('errors', '', 'Errors in the files.', (row) => problems(row, 'error')),
    integer('warnings', '', 'Warnings in the files.', (row) => problems(row, 'warning')),
    text('program_version', 'Of the program that computed this.', ({ source }) => source.version),
  ],
};

export const strings: Table<StringRow> = {
  name: 'strings',
  meaning: 'One string that the campaign describes, measured or not.',
  key: ['campaign_id', 'string'],
  columns: [
    campaignColumn(),
    text('string', 'Name of the string.', ({ name }) => name),
    text('title', 'Title of its block.', ({ record }) => record.title),
    text('module_type', 'Name of the module type.', ({ record }) => record.modules?.type.text),
    text('module_title', 'Title of the module type.', ({ module }) => module?.title),
    text('technology', 'Of the module type.', ({ module }) => module?.technology),
    integer('series_modules', '', 'Modules in series.', ({ record }) => record.modules?.count),
    integer(
      'parallel_strings',
      '',
      'Strings in parallel behind the terminals.',
      ({ record }) => record.parallel,
    ),
    number('nameplate_pmax', 'W', 'Nameplate Pmax of all its modules at STC.', ({ record, module }) =>
      record.modules && module?.pmax ? module.pmax.value * record.modules.count * record.parallel : undefined,
    ),
    text('plane', 'Name of the plane.', ({ record }) => record.plane?.text),
    text('feeds', 'What it feeds.', ({ record }) => record.feeds),
    number('x', 'm', 'Position on the map of the array.', ({ record }) => record.position?.x.value),
    number('y', 'm', 'Position on the map of the array.', ({ record }) => record.position?.y.value),
    number('cable_length', 'm', 'Out and back.', ({ record }) => record.cable?.length.value),
    integer('sweeps', '', 'Sweeps of the string, its sections and its modules.', ({ sweeps }) => sweeps),
    text(
      'latest_sweep_id',
      'Last sweep of the whole string that is not void.',
      ({ source, latest }) => latest && sweepId({ source, sweep: latest }),
    ),
    text('latest_verdict', 'Of that sweep.', ({ latest }) => latest?.analysis.verdict),
    number(
      'latest_deviation_pmax',
      '1',
      'Of that sweep, a fraction.',
      ({ latest }) => latest?.analysis.deviation.pmax,
    ),
    text(
      'case_state',
      'State of its fault: `sound`, `open`, `located`, `replaced`, `verified`, `waived`, `not known`.',
      ({ caseState }) => caseState,
    ),
  ],
};

export const replacements: Table<ReplacementRow> = {
  name: 'replacements',
  meaning: 'One replaced module.',
  key: ['campaign_id', 'line', 'file'],
  columns: [
    campaignColumn(),
    text('string', 'Name of the string.', ({ placed }) => placed.record.address.string),
    integer(
      'position',
      '',
      'Position in the string, from 1 at the positive end.',
      ({ placed }) => placed.record.address.first,
    ),
    text('time', 'As written, local to the site, ISO 8601.', ({ placed }) => placed.record.time?.iso),
    text('old_serial', 'Serial number of the module taken out.', ({ placed }) => placed.record.serial?.old),
    text('new_serial', 'Serial number of the module put in.', ({ placed }) => placed.record.serial?.new),
    text(
      'old_type',
      'Module type taken out, where it differs.',
      ({ placed }) => placed.record.type?.old.text,
    ),
    text('new_type', 'Module type put in, where it differs.', ({ placed }) => placed.record.type?.new.text),
    text('reason', 'As written.', ({ placed }) => placed.record.reason),
    text('notes', 'Notes of the block, one a line.', ({ placed }) => noteText(placed.record.notes)),
    text('file', 'Where it is written, from the same folder.', ({ source, placed }) =>
      source.display(placed.block.file),
    ),
    integer('line', '', 'Line in the file, from 1.', ({ placed }) => placed.block.startLine + 1),
  ],
};

export const noteText = (notes: readonly { readonly text: string }[]): string =>
  notes.map((note) => note.text).join('\n');

const figure =
  (name: ElectricalFigure['name'], of: (figure: ElectricalFigure) => number | undefined) =>
  ({ test }: ElectricalRow): number | undefined => {
    const found = test.figures.find((each) => each.name === name);
    return found && of(found);
  };

export const electricalTests: Table<ElectricalRow> = {
  name: 'electrical_tests',
  meaning: 'One string test of IEC 62446-1 beside the sweeps.',
  key: ['campaign_id', 'file', 'line'],
  columns: [
    campaignColumn(),
    text('string', 'Name of the string.', ({ test }) => stringOf(test.address)),
    text('address', 'Of what was tested.', ({ test }) => test.address),
    text('kind', '`insulation`, `continuity`, `polarity` or `meter`.', ({ test }) => test.kind),
    text('time', 'ISO 8601, with offset where the zone of the site is known.', ({ test }) => test.time),
    moment('time_utc', 'Where the zone of the site is known.', ({ test }) => test.instant),
    text(
      'pole',
      'Of an insulation test: `positive`, `negative` or `shorted`.',
      ({ test }) => test.record.pole,
    ),
    text('result', 'As the author found it.', ({ test }) => test.record.result),
    number('resistance', 'ohm', 'As read.', ({ test }) => test.record.resistance?.value),
    number(
      'least_resistance',
      'ohm',
      'What it is held against.',
      figure('resistance', ({ least }) => least),
    ),
    number('test_voltage', 'V', 'As written.', ({ test }) => test.record.testVoltage?.value),
    number('voc', 'V', 'As read.', ({ test }) => test.record.voc?.value),
    number('isc', 'A', 'As read.', ({ test }) => test.record.isc?.value),
    number('irradiance', 'W/m2', 'As read.', ({ test }) => test.record.irradiance?.value),
    number(
      'expected_voc',
      'V',
      'Of the nameplate at the conditions of the reading.',
      figure('Voc', ({ expected }) => expected),
    ),
    number(
      'expected_isc',
      'A',
      'Of the nameplate at the conditions of the reading.',
      figure('Isc', ({ expected }) => expected),
    ),
    text('verdict', '`pass`, `fail` or `not judged`.', ({ test }) => test.verdict),
    text(
      'reason',
      'What decides, or the first reason.',
      ({ test }) => (test.reasons.find(({ decisive }) => decisive) ?? test.reasons[0])?.text,
    ),
    yesNo('latest', 'No later test of the same kind and address stands for it.', ({ test }) => test.latest),
    text('notes', 'Notes of the block, one a line.', ({ test }) => noteText(test.record.notes)),
    text('file', 'Where it is written, from the same folder.', ({ source, test }) =>
      source.display(test.block.file),
    ),
    integer('line', '', 'Line in the file, from 1.', ({ test }) => test.block.startLine + 1),
  ],
};
