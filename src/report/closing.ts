/** How every full report ends: method, standards, estimates, criteria, limits, what verdicts mean, and where to sign. */
import type { CriteriaRecord, ParameterName } from '../campaign/model.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { formatValue } from '../presentation/formatNumber.js';
import { decisionText, limitsText, parameterSymbols } from '../presentation/sweepTexts.js';
import { verdictCounts } from '../presentation/verdictWords.js';
import type { ReportContext } from './context.js';
import type { Block, SignatureBlock } from './document.js';
import { standardNames, type StandardName } from './words/words.js';

export function methodPart(context: ReportContext): Block[] {
  const { words } = context;
  const used = usedStandards(context.evaluation);
  return [
    { kind: 'heading', level: 2, text: words.headings.method },
    { kind: 'list', items: words.method },
    ...criteriaTable(context),
    {
      kind: 'table',
      caption: words.headings.standards,
      columns: [
        { title: words.columns.standard, align: 'left', whole: true },
        { title: words.columns.usedFor, align: 'left' },
      ],
      rows: standardNames.filter((name) => used.has(name)).map((name) => [name, words.standards[name]]),
    },
    ...estimatesTable(context),
  ];
}

function usedStandards({ sweeps, electricalTests }: Evaluation): Set<StandardName> {
  const used = new Set<StandardName>(['IEC 62446-1', 'IEC TS 61836']);
  if (electricalTests.some(({ verdict }) => verdict !== 'not judged')) used.add('IEC 62446-1');
  for (const { analysis, target, address } of sweeps) {
    if (analysis.translated) used.add('IEC 60891:2021');
    if (!address.includes('/')) used.add('IEC 61829');
    if (analysis.conditions.vocTemperature !== undefined || analysis.conditions.temperatureSource === 'voc')
      used.add('IEC 60904-5');
    if (target.criteria) used.add('ILAC-G8:09/2019');
    if (analysis.budget.length > 0) used.add('JCGM 100:2008');
  }
  return used;
}

/** What was agreed: limits, conditions and the rule of decision of each criteria that a sweep was judged by. */
function criteriaTable({ evaluation, words, local, said, saidText }: ReportContext): Block[] {
  const used = new Map<string, CriteriaRecord>();
  for (const { target } of evaluation.sweeps)
    if (target.criteria) used.set(target.criteria.name.text, target.criteria);
  if (used.size === 0) return [];
  const limits = (record: CriteriaRecord): string =>
    [
      ...(Object.keys(record.limits) as ParameterName[]).map(
        (name) => `${parameterSymbols[name]} ${local.limit(limitsText(record.limits[name]))}`,
      ),
      ...(
        [
          ['Irradiance', record.irradiance],
          ['Cell temperature', record.temperature],
          ['Irradiance drift', record.drift],
          ['Angle of incidence', record.incidence],
        ] as const
      ).flatMap(([name, ends]) => (ends ? [`${saidText(name)} ${local.limit(limitsText(ends))}`] : [])),
      ...(record.points === undefined ? [] : [`${saidText('Usable points')} ≥ ${record.points}`]),
    ].join('; ');
  return [
    {
      kind: 'table',
      columns: [
        { title: words.headings.criteria, align: 'left', whole: true },
        { title: words.columns.limit, align: 'left' },
        { title: words.columns.method, align: 'left' },
      ],
      rows: [...used].map(([name, record]) => [
        name,
        limits(record),
        [
          ...said(decisionText(record)),
          ...(record.tolerance === 'counted' ? [` ${words.toleranceCounted}`] : []),
        ],
      ]),
    },
  ];
}

interface EstimateGroup {
  readonly symbol: string;
  readonly unit: string;
  readonly method: string;
  readonly values: number[];
}

/** What the nameplate does not say: each value once, with how many sweeps rest on it. */
function estimatesTable({ evaluation, words, local, said }: ReportContext): Block[] {
  const groups = new Map<string, EstimateGroup>();
  for (const { analysis } of evaluation.sweeps)
    for (const { symbol, value, unit, method } of analysis.translated?.estimates ?? []) {
      const key = JSON.stringify([symbol, unit, method]);
      const group = groups.get(key) ?? { symbol, unit, method, values: [] };
      group.values.push(value);
      groups.set(key, group);
    }
  if (groups.size === 0) return [];
  const range = ({ values, unit }: EstimateGroup): string => {
    const ends = [Math.min(...values), Math.max(...values)].map((value) =>
      local.value(formatValue(value, unit)),
    );
    return ends[0] === ends[1] ? ends[0]! : ends.join(' … ');
  };
  return [
    {
      kind: 'table',
      caption: words.headings.estimates,
      columns: [
        { title: words.columns.symbol, align: 'left', whole: true },
        { title: words.columns.value, align: 'left' },
        { title: words.columns.method, align: 'left' },
        { title: words.columns.usedIn, align: 'right' },
      ],
      rows: [...groups.values()].map((group) => [
        { text: group.symbol, strong: true },
        range(group),
        said(group.method),
        String(group.values.length),
      ]),
    },
  ];
}

export function limitsPart(context: ReportContext): Block[] {
  const { words, verdict, evaluation } = context;
  return [
    { kind: 'heading', level: 2, text: words.headings.limits },
    { kind: 'list', items: words.limits },
    { kind: 'heading', level: 2, text: words.headings.verdictsMean },
    {
      kind: 'list',
      items: verdictCounts(evaluation.counts).map(({ mark }) => [
        verdict(mark),
        `: ${words.verdictMeanings[mark.verdict]}`,
      ]),
    },
  ];
}

export function signaturePart({ words }: ReportContext, kind: 'report' | 'repair'): Block[] {
  const { signature } = words;
  const fields = [signature.name, signature.date, signature.sign];
  const who =
    kind === 'report'
      ? [signature.measuredBy, signature.checkedBy, signature.acceptedBy]
      : [signature.repairedBy, signature.checkedBy];
  const block: SignatureBlock = { kind: 'signature', lines: who.map((name) => ({ who: name, fields })) };
  return [{ kind: 'heading', level: 2, text: words.headings.signatures }, block];
}
