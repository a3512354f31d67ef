/** One sweep: its curves, parameters, conditions, budget, verdict and what explains it. */
import type { EvaluatedSweep } from '../evaluation/evaluation.js';
import { currentVoltageSpec, powerVoltageSpec } from '../presentation/chartSpecs.js';
import { lightTheme } from '../presentation/chartTheme.js';
import { formatValue, missing } from '../presentation/formatNumber.js';
import { previewModel } from '../presentation/previewModel.js';
import type { FitSection, PreviewModel } from '../presentation/previewTypes.js';
import { phraseText, type ReportContext } from './context.js';
import type { Block, Line } from './document.js';

export function sweepBlocks(context: ReportContext, sweep: EvaluatedSweep): Block[] {
  const { evaluation, local, verdict } = context;
  const model = previewModel(evaluation, sweep.id);
  if (!model) return [];
  const [first, ...rest] = reasonLines(context, model);
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
      text: [verdict(model.verdict), '. ', ...(first === undefined ? [] : [first])],
    },
    ...curveFigure(context, model),
    ...parameterTable(context, model),
    ...(rest.length === 0 ? [] : [{ kind: 'list', items: rest } as const]),
    ...conditionTable(context, model),
    ...budgetTable(context, model),
    ...diagnosisBlocks(context, model),
    ...fitBlocks(context, model.fit),
    ...remarkList(context, model),
    { kind: 'paragraph', small: true, text: methodLine(context, sweep, model) },
  ];
}

/** Decisive first. What a limit came to is said in the language of the report, other reasons as the core says them. */
function reasonLines({ words, local, options, english }: ReportContext, model: PreviewModel) {
  return model.reasons.map(({ code, text, parameter }) => {
    const row = parameter && model.parameters.find((each) => each.parameter === parameter);
    if (options.language === 'en' || !row || row.outcome === undefined || !code.startsWith('limit-'))
      return english(text);
    return {
      text: words.limitReason(
        row.symbol,
        local.value(row.deviation),
        row.uncertainty === missing ? '' : local.value(row.uncertainty),
        local.limit(row.limit),
        words.verdicts[row.outcome.verdict],
      ),
    };
  });
}

function curveFigure({ words, local }: ReportContext, { sweepId, charts }: PreviewModel): Block[] {
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
      description: charts.description,
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
  const { words, local, options } = context;
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
          phraseText(context, name),
          value === 'not known' ? phraseText(context, value) : isName ? value : local.value(value),
          [
            phraseText(context, origin),
            ...(elsewhere
              ? [{ text: ` ${words.line(options.display(place.file), place.line + 1)}`, soft: true }]
              : []),
          ],
        ];
      }),
    },
  ];
}

function budgetTable({ words, local, english }: ReportContext, { budget }: PreviewModel): Block[] {
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
        english(source),
        local.value(standardUncertainty),
        local.value(contribution.pmax),
        local.value(contribution.isc),
        local.value(contribution.voc),
      ]),
    },
  ];
}

/** Findings numbered as in the chart, and causes by weight. */
function diagnosisBlocks({ words, english }: ReportContext, { diagnosis }: PreviewModel): Block[] {
  if (!diagnosis) return [];
  if (diagnosis.healthy && diagnosis.findings.length === 0)
    return [{ kind: 'paragraph', small: true, text: words.diagnosisHealthy }];
  return [
    { kind: 'heading', level: 3, text: words.headings.diagnosis },
    { kind: 'paragraph', text: english(diagnosis.headline) },
    ...(diagnosis.findings.length === 0
      ? []
      : [
          {
            kind: 'list',
            items: diagnosis.findings.map(({ text }, index) => [`${index + 1}. `, english(text)]),
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
            rows: diagnosis.causes.map(({ text, share, tellApart }) => [
              english(text),
              share,
              english(tellApart),
            ]),
          } as const,
        ]),
  ];
}

function fitBlocks({ words, local, english }: ReportContext, fit: FitSection | undefined): Block[] {
  if (!fit) return [];
  const heading: Block = { kind: 'heading', level: 3, text: words.headings.fittedModel };
  if (fit.reason !== undefined)
    return [heading, { kind: 'paragraph', small: true, text: english(fit.reason) }];
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
        [{ text: row.symbol, strong: true }, ' ', { ...english(row.name), soft: true }],
        local.value(row.fitted),
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
    ...(fit.note === undefined ? [] : [{ kind: 'paragraph', small: true, text: english(fit.note) } as const]),
  ];
}

/** Flags, problems and notes. */
function remarkList({ words, local, english }: ReportContext, model: PreviewModel): Block[] {
  const items: Line[] = [
    ...model.estimates.map(({ symbol, value, method }): Line => [
      `${symbol} = ${local.value(value)}: `,
      english(method),
    ]),
    ...model.flags.map(({ text }) => english(text)),
    ...model.problems.map(({ severity, message }): Line => [
      `${words.severities[severity]}: `,
      english(message),
    ]),
    ...model.notes.map(({ text }) => `${words.note}: ${text}`),
  ];
  if (items.length === 0) return [];
  return [
    { kind: 'heading', level: 3, text: words.headings.remarks },
    { kind: 'list', items },
  ];
}

/** How the numbers came about; what the core says beyond procedure and rule stays in its own words. */
function methodLine(
  { words, local, options, english }: ReportContext,
  sweep: EvaluatedSweep,
  model: PreviewModel,
): Line {
  const place = words.writtenIn(words.line(options.display(model.place.file), model.place.line + 1));
  const { translated } = sweep.analysis;
  const { criteria } = sweep.target;
  if (options.language === 'en') return [english(model.method.join(' ')), ` ${place}`];
  const further = model.method.filter((text) => text.startsWith('Interpolated'));
  const own = [
    ...(translated
      ? [
          words.translatedBy(
            local.value(formatValue(translated.to.irradiance, 'W/m2')).replace(/[.,]0+ /, ' '),
            local.value(`${translated.to.cellTemperature} degC`),
            words.procedures[translated.procedure],
          ),
        ]
      : []),
    ...(criteria ? [words.decisions[criteria.decision](criteria.name.text)] : []),
  ];
  return [...own.map((text) => `${text} `), ...further.map((text) => english(`${text} `)), place];
}
