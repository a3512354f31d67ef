/** One sweep: its curves, parameters, conditions, budget, verdict and what explains it. */
import type { EvaluatedSweep } from '../evaluation/evaluation.js';
import { currentVoltageSpec, powerVoltageSpec } from '../presentation/chartSpecs.js';
import { lightTheme } from '../presentation/chartTheme.js';
import { previewModel } from '../presentation/previewModel.js';
import type { FitSection, PreviewModel } from '../presentation/previewTypes.js';
import type { ReportContext } from './context.js';
import type { Block, Line } from './document.js';

export function sweepBlocks(context: ReportContext, sweep: EvaluatedSweep): Block[] {
  const { evaluation, local, verdict, said } = context;
  const model = previewModel(evaluation, sweep.id);
  if (!model) return [];
  // Decisive first.
  const [first = [], ...rest] = model.reasons.map(({ text }) => said(text));
  return [
    {
      kind: 'heading',
      level: 3,
      text: [
        `${model.address}, ${local.time(model.time)}`,
        ...(model.device === '' ? [] : [{ text: `  ${model.device}`, soft: true }]),
      ],
    },
    {
      kind: 'paragraph',
      text: [verdict(model.verdict), '. ', ...first],
    },
    ...curveFigure(context, model),
    ...parameterTable(context, model),
    ...(rest.length === 0 ? [] : [{ kind: 'list', items: rest } as const]),
    ...conditionTable(context, model),
    ...budgetTable(context, model),
    ...diagnosisBlocks(context, model),
    ...fitBlocks(context, model.fit),
    ...remarkList(context, model),
    { kind: 'paragraph', small: true, text: methodLine(context, model) },
  ];
}

function curveFigure({ words, local, saidText }: ReportContext, { sweepId, charts }: PreviewModel): Block[] {
  if (charts.curves.length === 0) return [];
  const size = { width: 352, height: 220 };
  const continued = charts.curves.some((row) => row.part === 'continued');
  return [
    {
      kind: 'figure',
      charts: [
        local.chart({ key: `${sweepId} current`, spec: currentVoltageSpec(lightTheme, size, charts) }),
        local.chart({ key: `${sweepId} power`, spec: powerVoltageSpec(lightTheme, size, charts) }),
      ],
      description: saidText(charts.description),
      caption: [words.captions.curves, ...(continued ? [words.captions.continued] : [])].join(' '),
    },
  ];
}

function parameterTable({ words, local, verdict }: ReportContext, { parameters }: PreviewModel): Block[] {
  if (parameters.length === 0) return [];
  const { columns } = words;
  return [
    {
      kind: 'table',
      caption: words.captions.parameters,
      columns: [
        { title: columns.quantity, align: 'left' },
        { title: columns.measured, align: 'right' },
        { title: columns.atStc, align: 'right' },
        { title: columns.nameplate, align: 'right' },
        { title: columns.deviation, align: 'right' },
        { title: 'U', align: 'right' },
        { title: columns.limit, align: 'right' },
        { title: columns.outcome, align: 'left', whole: true },
      ],
      rows: parameters.map((row) => [
        [
          { text: row.symbol, strong: true },
          { text: ` ${words.parameters[row.parameter]}`, soft: true },
        ],
        local.value(row.measured),
        local.value(row.translated),
        local.value(row.nameplate),
        local.value(row.deviation),
        local.value(row.uncertainty),
        local.limit(row.limit),
        row.outcome ? verdict(row.outcome) : '',
      ]),
    },
  ];
}

function conditionTable(context: ReportContext, model: PreviewModel): Block[] {
  const { words, local, options, said, saidText } = context;
  return [
    {
      kind: 'table',
      caption: words.headings.conditions,
      columns: [
        { title: words.columns.quantity, align: 'left', whole: true },
        { title: words.columns.value, align: 'left', whole: true },
        { title: words.columns.origin, align: 'left' },
      ],
      rows: model.conditions.map(({ name, value, origin, place }) => {
        const isName = name === 'Tracer' || name === 'Reference device';
        const elsewhere = place && place.file !== model.place.file && place.line > 0;
        return [
          saidText(name),
          value === 'not known' ? saidText(value) : isName ? value : local.value(value),
          [
            ...said(origin),
            ...(elsewhere
              ? [{ text: ` ${words.line(options.display(place.file), place.line + 1)}`, soft: true }]
              : []),
          ],
        ];
      }),
    },
  ];
}

function budgetTable({ words, local, said }: ReportContext, { budget }: PreviewModel): Block[] {
  if (budget.length === 0) return [];
  return [
    {
      kind: 'table',
      caption: words.captions.budget,
      columns: [
        { title: words.columns.source, align: 'left' },
        { title: 'u', align: 'right' },
        { title: 'Pmax', align: 'right' },
        { title: 'Isc', align: 'right' },
        { title: 'Voc', align: 'right' },
      ],
      rows: budget.map(({ source, standardUncertainty, contribution }) => [
        said(source),
        local.value(standardUncertainty),
        local.value(contribution.pmax),
        local.value(contribution.isc),
        local.value(contribution.voc),
      ]),
    },
  ];
}

/** Findings numbered as in the chart, and causes by weight. */
function diagnosisBlocks({ words, said }: ReportContext, { diagnosis }: PreviewModel): Block[] {
  if (!diagnosis) return [];
  if (diagnosis.healthy && diagnosis.findings.length === 0)
    return [{ kind: 'paragraph', small: true, text: said(diagnosis.headline) }];
  return [
    { kind: 'heading', level: 3, text: words.headings.diagnosis },
    { kind: 'paragraph', text: said(diagnosis.headline) },
    ...(diagnosis.findings.length === 0
      ? []
      : [
          {
            kind: 'list',
            items: diagnosis.findings.map(({ text }, index) => [`${index + 1}. `, ...said(text)]),
          } as const,
        ]),
    ...(diagnosis.causes.length === 0
      ? []
      : [
          {
            kind: 'table',
            columns: [
              { title: words.columns.cause, align: 'left' },
              { title: words.columns.share, align: 'right' },
              { title: words.columns.tellApart, align: 'left' },
            ],
            rows: diagnosis.causes.map(({ text, share, tellApart }) => [said(text), share, said(tellApart)]),
          } as const,
        ]),
  ];
}

function fitBlocks({ words, local, said, saidText }: ReportContext, fit: FitSection | undefined): Block[] {
  if (!fit) return [];
  const heading: Block = { kind: 'heading', level: 3, text: words.headings.fittedModel };
  if (fit.reason !== undefined) return [heading, { kind: 'paragraph', small: true, text: said(fit.reason) }];
  const { columns } = words;
  return [
    heading,
    {
      kind: 'table',
      caption: words.captions.fitted,
      columns: [
        { title: columns.symbol, align: 'left' },
        { title: columns.fitted, align: 'right' },
        { title: columns.nameplate, align: 'right' },
      ],
      rows: fit.rows.map((row) => [
        [{ text: row.symbol, strong: true }, ' ', ...said(row.name, { soft: true })],
        saidText(row.fitted),
        local.value(row.expected),
      ]),
    },
    ...(fit.expected.length === 0
      ? []
      : [
          {
            kind: 'table',
            caption: words.captions.expected,
            columns: [
              { title: columns.symbol, align: 'left' },
              { title: columns.measured, align: 'right' },
              { title: columns.expected, align: 'right' },
              { title: columns.deviation, align: 'right' },
            ],
            rows: fit.expected.map(({ symbol, measured, expected, deviation }) => [
              { text: symbol, strong: true },
              local.value(measured),
              local.value(expected),
              local.value(deviation),
            ]),
          } as const,
        ]),
    ...(fit.note === undefined ? [] : [{ kind: 'paragraph', small: true, text: said(fit.note) } as const]),
  ];
}

/** Flags, problems and notes. */
function remarkList({ words, local, said }: ReportContext, model: PreviewModel): Block[] {
  const items: Line[] = [
    ...model.estimates.map(({ symbol, value, method }): Line => [
      `${symbol} = ${local.value(value)}: `,
      ...said(method),
    ]),
    ...model.flags.map(({ text }) => said(text)),
    ...model.problems.map(({ severity, message }): Line => [
      `${words.severities[severity]}: `,
      ...said(message),
    ]),
    ...model.notes.map(({ text }) => `${words.note}: ${text}`),
  ];
  if (items.length === 0) return [];
  return [
    { kind: 'heading', level: 3, text: words.headings.remarks },
    { kind: 'list', items },
  ];
}

/** How the numbers came about, and where the sweep is written. */
function methodLine({ words, options, said }: ReportContext, { method, place }: PreviewModel): Line {
  const where = words.writtenIn(words.line(options.display(place.file), place.line + 1));
  return [...said(method.join(' ')), method.length > 0 ? ` ${where}` : where];
}
