/** The section of one string: what it is, how it stands, what happened to it, and each of its sweeps. */
import { stringOf } from '../campaign/names.js';
import type { CaseEvent } from '../cases/stringCase.js';
import { overlaySpec } from '../presentation/chartSpecs.js';
import { lightTheme } from '../presentation/chartTheme.js';
import { missing } from '../presentation/formatNumber.js';
import { overlayLineText } from '../presentation/overlayData.js';
import { stringModel, type StringModel } from '../presentation/stringModel.js';
import type { OverlayData, OverlayRole } from '../presentation/stringTypes.js';
import type { CampaignModel } from '../presentation/previewTypes.js';
import type { ReportContext } from './context.js';
import { marked } from './context.js';
import { spansOf, type Block, type Line } from './document.js';
import { picturesPart } from './namedFiles.js';
import type { StringStanding } from './standings.js';
import { sweepBlocks } from './sweepPart.js';
import { electricalPart, replacementsTable } from './tables.js';

export function stringPart(
  context: ReportContext,
  row: StringStanding,
  campaign: CampaignModel,
  anchor: string,
): Block[] {
  const { evaluation, words, said } = context;
  const model = stringModel(evaluation, row.string);
  const sweeps = evaluation.sweeps.filter(({ address }) => stringOf(address) === row.string);
  const replaced = campaign.replacements.filter(({ address }) => stringOf(address) === row.string);
  const heading: Block = {
    kind: 'heading',
    level: 2,
    anchor,
    text: [words.string(row.string), ...(model?.device ? [{ text: `  ${model.device}`, soft: true }] : [])],
  };
  const written = [...stringNotes(context, row.string), ...picturesPart(context, row.string)];
  if (!model) return [heading, ...replacementsTable(context, replaced), ...written];
  return [
    heading,
    { kind: 'paragraph', text: standingLine(context, row, model) },
    ...(model.title === '' ? [] : [{ kind: 'paragraph', text: model.title, small: true } as const]),
    ...(model.remarks.length === 0
      ? []
      : [{ kind: 'list', items: model.remarks.map((text) => said(text)) } as const]),
    ...overlays(context, model),
    ...eventsTable(context, model),
    ...replacementsTable(context, replaced),
    ...evidenceTable(context, model),
    ...written,
    ...electricalPart(context, row.string).map((block) =>
      block.kind === 'heading' ? { ...block, level: 3 as const } : block,
    ),
    ...sweeps.flatMap((sweep) => sweepBlocks(context, sweep)),
  ];
}

/** `● pass. Case: ★ verified.` and what is proposed. */
function standingLine(
  context: ReportContext,
  { sweep, case: found }: StringStanding,
  model: StringModel,
): Line {
  const { words, verdict, state, said } = context;
  const proposal = model.proposal;
  const stands: Line[] = [
    ...(sweep ? [[verdict(sweep.analysis.verdict)]] : []),
    ...(found ? [[`${words.columns.state}: `, state(found.state)]] : []),
  ];
  return [
    ...(stands.length === 0
      ? [words.counts.noCurves]
      : [...stands.flatMap((part, index) => [...(index > 0 ? ['; '] : []), ...spansOf(part)]), '.']),
    ...(proposal ? [' ', ...said(proposal.text), ' ', ...said(proposal.why, { soft: true })] : []),
  ];
}

/** The sweeps of a string over one another, its parts likewise, and the string as its modules make it. */
function overlays(context: ReportContext, model: StringModel): Block[] {
  const { local, words, saidText } = context;
  const charts = [
    { key: 'wholes', data: model.wholes, caption: words.captions.wholes, least: 3 },
    { key: 'parts', data: model.parts, caption: words.captions.parts, least: 2 },
    { key: 'composed', data: model.composed, caption: words.captions.composed, least: 1 },
  ].filter(({ data, least }) => data.series.length >= least);
  if (charts.length === 0) return [];
  return charts.map(({ key, data, caption }): Block => ({
    kind: 'figure',
    charts: [
      local.chart({
        key: `${model.name} ${key}`,
        spec: overlaySpec(lightTheme, { width: 720, height: 220 }, data),
      }),
    ],
    description: saidText(data.description),
    caption: `${caption} ${legend(context, data)}`,
  }));
}

/** Which dash is which, since an overlay has no legend of its own. */
function legend({ saidText }: ReportContext, { series }: OverlayData): string {
  const dashes: Readonly<Record<OverlayRole, string>> = {
    failed: '- - -',
    passed: '———',
    other: '· · ·',
    nameplate: '— · —',
    composed: '— —',
    before: '- - -',
    after: '———',
  };
  return `${series.map((line) => `${dashes[line.role]} ${saidText(overlayLineText(line))}`).join('; ')}.`;
}

/** Words of people and serial numbers; of a replacement without either the core says that it was one. */
const isWritten = (kind: CaseEvent['kind'], text: string): boolean =>
  kind === 'note' || (kind === 'replaced' && text !== 'Replaced');

function eventsTable(
  { words, local, verdict, said, evaluation }: ReportContext,
  { events, name }: StringModel,
): Block[] {
  if (events.length < 2) return [];
  const kinds = evaluation.cases.find(({ string }) => string === name)!.events.map(({ kind }) => kind);
  return [
    { kind: 'heading', level: 3, text: words.headings.caseHistory },
    {
      kind: 'table',
      columns: [
        { title: words.columns.time, align: 'left', whole: true },
        { title: words.columns.device, align: 'left', whole: true },
        { title: words.columns.verdict, align: 'left', whole: true },
        { title: words.columns.event, align: 'left' },
      ],
      rows: events.map((event, index) => [
        local.time(event.time),
        event.address,
        event.verdict ? verdict(event.verdict) : '',
        isWritten(kinds[index]!, event.text) ? event.text : said(event.text),
      ]),
    },
  ];
}

function evidenceTable({ words, said }: ReportContext, model: StringModel): Block[] {
  const serials = model.modules.flatMap(({ position, serial }) =>
    serial === undefined ? [] : [`${model.name}/${position}: ${serial}`],
  );
  if (model.evidence.length === 0) return [];
  return [
    { kind: 'heading', level: 3, text: words.headings.moduleEvidence },
    {
      kind: 'table',
      columns: [
        { title: words.columns.positions, align: 'left' },
        { title: words.columns.known, align: 'left', whole: true },
        { title: words.columns.why, align: 'left' },
      ],
      rows: model.evidence.map(({ positions, mark, because }) => [
        positions.replaceAll(' to ', '–'),
        marked(mark, words.modules[mark.word as keyof typeof words.modules]),
        said(because),
      ]),
    },
    ...(serials.length === 0
      ? []
      : [
          { kind: 'paragraph', small: true, text: `${words.columns.serial}: ${serials.join('; ')}` } as const,
        ]),
  ];
}

/** Notes on the string that belong to no sweep. */
function stringNotes({ evaluation, words, local }: ReportContext, string: string): Block[] {
  const measured = new Set(evaluation.sweeps.map(({ address }) => address));
  const notes = evaluation.campaign.entries.flatMap(({ record }) =>
    record.kind === 'note' && record.address?.string === string && !measured.has(record.address.text)
      ? [
          `${record.address.text}, ${local.time(record.time?.iso.slice(0, 16).replace('T', ' ') ?? missing)}: ${record.text.text}`,
        ]
      : [],
  );
  return notes.length === 0 ? [] : [{ kind: 'list', items: notes.map((text) => `${words.note}: ${text}`) }];
}
