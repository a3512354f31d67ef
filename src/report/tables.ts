/** Tables of the whole campaign: its strings, all its sweeps, electrical tests, like strings, and years. */
import { stringOf } from '../campaign/names.js';
import { sweepListItem } from '../presentation/campaignModel.js';
import { campaignOverviewSpec } from '../presentation/chartSpecs.js';
import { lightTheme } from '../presentation/chartTheme.js';
import { electricalItems } from '../presentation/electricalModel.js';
import { missing } from '../presentation/formatNumber.js';
import type { CampaignModel } from '../presentation/previewTypes.js';
import type { EvaluatedSweep } from '../evaluation/evaluation.js';
import type { ReportContext } from './context.js';
import type { Block, Line, TableColumn } from './document.js';
import type { StringStanding } from './standings.js';

/** Of the conditions and of Pmax, in every list of sweeps. */
function sweepColumns(): TableColumn[] {
  return [
    { title: 'G', align: 'right' },
    { title: 'T', align: 'right' },
    { title: 'Pmax', align: 'right' },
  ];
}

function sweepCells({ local, verdict }: ReportContext, sweep: EvaluatedSweep | undefined): Line[] {
  if (!sweep) return [missing, missing, missing, missing, missing, verdict('not judged')];
  const item = sweepListItem(sweep);
  return [
    local.value(item.irradiance),
    local.value(item.cellTemperature),
    local.value(item.pmax),
    local.value(item.deviation),
    local.value(item.uncertainty),
    verdict(item.verdict),
  ];
}

const valueColumns = ({ words: { columns } }: ReportContext): TableColumn[] => [
  ...sweepColumns(),
  { title: columns.deviation, align: 'right' },
  { title: 'U', align: 'right' },
  { title: columns.verdict, align: 'left', whole: true },
];

/** One row a string: the sweep that counts for it, and where its case stands. */
export function stringTable(
  context: ReportContext,
  rows: readonly StringStanding[],
  anchors: ReadonlyMap<string, string> = new Map(),
): Block[] {
  const { words, local, state, evaluation } = context;
  if (evaluation.sweeps.length === 0) return [];
  return [
    { kind: 'heading', level: 2, text: words.headings.strings },
    {
      kind: 'table',
      caption: words.captions.sweeps,
      columns: [
        { title: words.columns.string, align: 'left', whole: true },
        { title: words.columns.time, align: 'left', whole: true },
        ...valueColumns(context),
        { title: words.columns.state, align: 'left', whole: true },
      ],
      rows: rows.map(({ string, sweep, case: found }) => [
        linked(string, anchors.get(string)),
        sweep ? local.time(sweepListItem(sweep).time) : missing,
        ...sweepCells(context, sweep),
        found ? state(found.state) : '',
      ]),
    },
  ];
}

export const linked = (text: string, anchor: string | undefined): Line =>
  anchor === undefined ? text : { text, link: anchor };

/** Every sweep in reading order. */
export function sweepsPart(context: ReportContext): Block[] {
  const { evaluation, words, local } = context;
  if (evaluation.sweeps.length === 0) return [];
  return [
    { kind: 'heading', level: 2, text: words.headings.sweeps },
    {
      kind: 'table',
      caption: words.captions.sweeps,
      columns: [
        { title: words.columns.sweep, align: 'left', whole: true },
        { title: words.columns.device, align: 'left' },
        { title: words.columns.time, align: 'left', whole: true },
        ...valueColumns(context),
      ],
      rows: evaluation.sweeps.map((sweep) => {
        const { address, device, time } = sweepListItem(sweep);
        return [address, device, local.time(time), ...sweepCells(context, sweep)];
      }),
    },
  ];
}

/** Rows that still tell one from the other on a page; a larger campaign has no overview chart. */
const mostOverviewRows = 60;

export function overviewPart(
  { evaluation, words, local, saidText }: ReportContext,
  model: CampaignModel,
): Block[] {
  const rows = model.overview.sweeps.length;
  if (rows === 0 || rows > mostOverviewRows || evaluation.sweeps.length === 0) return [];
  const beyond = model.overview.sweeps.some((row) => row.beyond !== '');
  const sweeps = model.overview.sweeps.map((row) => ({ ...row, beyond: local.value(row.beyond) }));
  const spec = campaignOverviewSpec(lightTheme, { width: 720 }, { ...model.overview, sweeps });
  return [
    { kind: 'heading', level: 2, text: words.headings.deviationChart },
    {
      kind: 'figure',
      charts: [local.chart({ key: 'overview', spec })],
      description: saidText(model.overview.description),
      caption: [words.captions.overview, ...(beyond ? [words.captions.beyond] : [])].join(' '),
    },
  ];
}

export function electricalPart(context: ReportContext, only?: string): Block[] {
  const { evaluation, words, local, verdict, said, saidText } = context;
  const items = electricalItems(evaluation).filter(
    ({ address }) => only === undefined || stringOf(address) === only,
  );
  if (items.length === 0) return [];
  const dangers = [...new Set(items.flatMap(({ danger }) => danger ?? []))];
  return [
    { kind: 'heading', level: 2, text: words.headings.electrical },
    ...(dangers.length > 0
      ? [{ kind: 'caution', title: words.danger, items: dangers.map((text) => said(text)) } as const]
      : []),
    {
      kind: 'table',
      caption: words.captions.electrical,
      columns: [
        { title: words.columns.device, align: 'left', whole: true },
        { title: words.columns.test, align: 'left', whole: true },
        { title: words.columns.time, align: 'left', whole: true },
        { title: words.columns.reading, align: 'left' },
        { title: words.columns.verdict, align: 'left', whole: true },
        { title: words.columns.why, align: 'left' },
      ],
      rows: items.map((item) => [
        item.address,
        words.tests[item.kind],
        local.time(item.time),
        saidText(item.reading),
        item.replaced ? [verdict(item.verdict), ` (${words.repeatedLater})`] : verdict(item.verdict),
        said(item.reasons.join(' ')),
      ]),
    },
  ];
}

/** Like strings among themselves, and change since an earlier campaign. */
export function comparisonsPart(
  { words, local, said, saidText }: ReportContext,
  model: CampaignModel,
): Block[] {
  const { history } = model;
  const peers: Block[] =
    model.peers.length === 0
      ? []
      : [
          { kind: 'heading', level: 2, text: words.headings.peers },
          {
            kind: 'list',
            items: model.peers
              .flatMap(({ group, standsOut }) => [group, ...standsOut])
              .map((text) => said(text)),
          },
        ];
  if (!history) return peers;
  return [
    ...peers,
    { kind: 'heading', level: 2, text: words.headings.degradation },
    ...(history.rows.length === 0
      ? []
      : [
          {
            kind: 'table',
            caption: words.captions.since(history.since),
            columns: [
              { title: words.columns.string, align: 'left', whole: true },
              { title: words.columns.years, align: 'right' },
              { title: words.columns.perYear, align: 'right' },
            ],
            rows: history.rows.map(({ string, years, pmax }) => [
              string.includes(' (then ') ? saidText(string) : string,
              local.value(years),
              local.value(pmax),
            ]),
          } as const,
        ]),
    ...(history.remarks.length === 0
      ? []
      : [{ kind: 'list', items: history.remarks.map((text) => said(text)) } as const]),
  ];
}

export function problemsPart(
  { words, options, said, saidText }: ReportContext,
  model: CampaignModel,
): Block[] {
  if (model.problems.length === 0) return [];
  const tones = { error: 'bad', warning: 'doubtful', information: 'neutral' } as const;
  return [
    { kind: 'heading', level: 2, text: words.headings.diagnostics },
    {
      kind: 'list',
      items: model.problems.map(({ severity, message, place, related }) => {
        const places = [
          words.line(options.display(place.file), place.line + 1),
          ...related.map(
            (each) =>
              `${saidText(each.message)}: ${words.line(options.display(each.place.file), each.place.line + 1)}`,
          ),
        ];
        return [
          { text: words.severities[severity], tone: tones[severity], strong: true },
          ': ',
          ...said(message),
          ' ',
          { text: `(${places.join('; ')})`, soft: true },
        ];
      }),
    },
  ];
}

export function replacementsTable(
  { words, local }: ReportContext,
  items: CampaignModel['replacements'],
): Block[] {
  if (items.length === 0) return [];
  return [
    { kind: 'heading', level: 3, text: words.headings.replacements },
    {
      kind: 'table',
      columns: [
        { title: words.columns.module, align: 'left', whole: true },
        { title: words.columns.time, align: 'left', whole: true },
        { title: words.columns.change, align: 'left' },
        { title: words.columns.reason, align: 'left' },
      ],
      rows: items.map(({ address, time, change, reason }) => [address, local.time(time), change, reason]),
    },
  ];
}
