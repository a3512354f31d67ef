/** How every report begins: what it is of, who measured with what, how it stands, and what to do next. */
import type { InstrumentRecord } from '../campaign/model.js';
import type { Uncertainty } from '../campaign/quantity.js';
import { isOpenState, isSettledState } from '../cases/stringCase.js';
import { campaignHead } from '../presentation/campaignModel.js';
import { stateMark } from '../presentation/caseWords.js';
import { electricalItems } from '../presentation/electricalModel.js';
import { missing } from '../presentation/formatNumber.js';
import { nextSteps } from '../presentation/nextSteps.js';
import { timeText } from '../presentation/sweepTexts.js';
import { unmeasuredText } from '../presentation/unmeasured.js';
import { verdictMark } from '../presentation/verdictWords.js';
import { marked, type ReportContext } from './context.js';
import type { Block, Line, Span, TableBlock } from './document.js';
import { standingCounts, stringStandings } from './standings.js';
import type { Standing } from './words/words.js';

export function cover(context: ReportContext): Block[] {
  const { evaluation, words } = context;
  const record = evaluation.campaign.campaign?.record;
  const site = [...evaluation.campaign.sites.values()][0]?.record;
  const criteria = [...evaluation.campaign.criteria.keys()].join(', ');
  const { facts } = words;
  const rows: (readonly [string, string])[] = [
    [facts.client, record?.client ?? ''],
    [facts.site, site?.title ?? site?.name.text ?? ''],
    [facts.position, positionText(context)],
    [facts.purpose, record?.purpose ? words.purposes[record.purpose] : ''],
    [facts.operator, record?.operator ?? ''],
    [facts.measured, period(context)],
    [facts.campaign, record?.name.text ?? ''],
    [facts.criteria, criteria],
  ];
  return [
    { kind: 'heading', level: 1, text: titleOf(context) },
    { kind: 'facts', rows: rows.filter(([, value]) => value !== '') },
  ];
}

export function titleOf({ evaluation, saidText }: ReportContext): string {
  const { name, title } = campaignHead(evaluation);
  // Without a name it is the core that gives one.
  return name === '' ? saidText(title) : title;
}

function positionText({ evaluation, local }: ReportContext): string {
  const site = [...evaluation.campaign.sites.values()][0]?.record;
  if (site?.latitude === undefined || site.longitude === undefined) return '';
  const end = (value: number, positive: string, negative: string): string =>
    `${local.value(String(Math.abs(value)))}° ${value < 0 ? negative : positive}`;
  return `${end(site.latitude, 'N', 'S')}, ${end(site.longitude, 'E', 'W')}`;
}

/** First and last day of anything that was measured. */
function period({ evaluation, words, local }: ReportContext): string {
  const days = [...evaluation.sweeps, ...evaluation.electricalTests]
    .map(({ time }) => timeText(time).slice(0, 10))
    .filter((day) => day !== missing)
    .sort();
  const [first, last] = [days[0], days.at(-1)];
  if (first === undefined || last === undefined) return '';
  return first === last ? local.time(first) : `${local.time(first)} ${words.to} ${local.time(last)}`;
}

/** How the strings stand, in plain words, with large numbers. */
export function summary(context: ReportContext): Block[] {
  const { evaluation, words } = context;
  // Without a single sweep no string was there to be judged.
  const counts = evaluation.sweeps.length === 0 ? [] : standingCounts(stringStandings(evaluation));
  const strings = counts.reduce((sum, { count }) => sum + count, 0);
  const when = period(context);
  const electrical = evaluation.electricalCounts;
  const tests = electrical.pass + electrical.fail + electrical.notJudged;
  const sentences = [
    ...(strings > 0
      ? [
          `${words.counts.ofStrings(
            strings,
            counts.map(({ standing, count }) => words.counts.standing[standing](count)).join('; '),
          )}.`,
        ]
      : []),
    evaluation.sweeps.length > 0
      ? words.counts.measuredBy(
          words.counts.sweeps(evaluation.sweeps.length),
          when === '' ? words.notGiven : when,
        )
      : tests > 0
        ? words.counts.noCurves
        : words.counts.nothingMeasured,
    ...(tests > 0
      ? [words.counts.electrical(tests, electrical.pass, electrical.fail, electrical.notJudged)]
      : []),
  ];
  return [
    { kind: 'heading', level: 2, text: words.headings.summary },
    { kind: 'paragraph', text: sentences.join(' ') },
    ...(counts.length === 0
      ? []
      : [
          {
            kind: 'counts',
            title: words.headings.strings,
            items: counts.map(({ standing, count }) => ({ count, mark: standingMark(context, standing) })),
          } as const,
        ]),
  ];
}

function standingMark({ words }: ReportContext, standing: Standing): Span {
  if (isSettledState(standing)) return marked(stateMark(standing), words.states[standing]);
  return marked(verdictMark(standing), words.verdicts[standing]);
}

/** What to do next; with `most`, only so many steps. */
export function nextPart(context: ReportContext, most = Infinity): Block[] {
  const { evaluation, words, said } = context;
  const all: Line[] = [
    ...failedTests(context),
    ...nextSteps(evaluation).map(({ text, why }): Line =>
      why === undefined ? said(text) : [...said(text), ' ', ...said(why, { soft: true })],
    ),
  ];
  const unmeasured = unmeasuredText(evaluation);
  if (unmeasured !== undefined) all.push(said(unmeasured));
  const left = all.length - most;
  const more = left > 0 ? [words.counts.moreInFull(left)] : [];
  return [
    { kind: 'heading', level: 2, text: words.headings.next },
    all.length === 0
      ? { kind: 'paragraph', text: words.counts.nothingToDo }
      : { kind: 'list', items: [...all.slice(0, most), ...more] },
  ];
}

/** Electrical tests that fail and were not repeated: the core proposes steps for sweeps alone. */
function failedTests({ evaluation, words, verdict, said, saidText }: ReportContext): Line[] {
  return electricalItems(evaluation)
    .filter((item) => item.verdict.verdict === 'fail' && !item.replaced)
    .map((item): Line => [
      { text: `${item.address}, ${words.tests[item.kind]}`, strong: true },
      `, ${saidText(item.reading)}: `,
      verdict(item.verdict),
      '. ',
      ...said(item.danger ?? item.reasons[0] ?? ''),
    ]);
}

/** Something is at fault, or is to be disconnected for what comes next: the cautions come first. */
export const needsCautions = ({ evaluation }: ReportContext): boolean =>
  evaluation.electricalCounts.fail > 0 ||
  evaluation.cases.some(({ state }) => isOpenState(state)) ||
  nextSteps(evaluation).some((step) => step.disconnects);

export const cautionPart = ({ words }: ReportContext): Block => ({
  kind: 'caution',
  title: words.cautionsTitle,
  items: words.cautions,
});

/** Tracers and reference devices with their calibration. */
export function instrumentsPart(context: ReportContext): Block[] {
  const { evaluation, words } = context;
  const records = [...evaluation.campaign.instruments.values()].map(({ record }) => record);
  if (records.length === 0) return [];
  const { columns } = words;
  const table: TableBlock = {
    kind: 'table',
    columns: [
      { title: columns.instrument, align: 'left' },
      { title: columns.serial, align: 'left' },
      { title: columns.calibrated, align: 'left', whole: true },
      { title: columns.accuracy, align: 'left' },
    ],
    rows: records.map((record) => [
      `${record.name.text}, ${words.instruments[record.kind]}${record.title === undefined ? '' : `: ${record.title}`}`,
      record.serial ?? missing,
      calibrationText(context, record),
      accuracyText(context, record),
    ]),
  };
  return [{ kind: 'heading', level: 2, text: words.headings.instruments }, table];
}

function calibrationText({ words, local }: ReportContext, record: InstrumentRecord): string {
  if (!record.calibrated) return words.notGiven;
  const interval = record.intervalMonths === undefined ? '' : `, ${words.months(record.intervalMonths)}`;
  return local.time(record.calibrated.text) + interval;
}

function accuracyText({ words, local }: ReportContext, record: InstrumentRecord): string {
  const units = {
    voltage: 'V',
    current: 'A',
    irradiance: 'W/m2',
    temperature: 'K',
    alignment: 'deg',
    spectral: '',
  };
  const parts = (Object.keys(units) as (keyof typeof units)[]).flatMap((name) => {
    const accuracy = record[name];
    return accuracy ? [`${words.accuracies[name]} ${local.value(accuracyOf(accuracy, units[name]))}`] : [];
  });
  return parts.join(', ') || words.notGiven;
}

function accuracyOf({ value, relative, coverageFactor }: Uncertainty, unit: string): string {
  const expanded = (2 * value) / coverageFactor;
  const plain = (number: number): string => String(Number(number.toPrecision(6)));
  return relative ? `± ${plain(100 * expanded)} %` : `± ${plain(expanded)} ${unit}`;
}
