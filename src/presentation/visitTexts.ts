/** Two visits to one plant side by side, in words: new failures first, then how the strings aged. */
import type { StringHistory } from '../cases/history.js';
import type { VisitComparison } from '../difference/compareVisits.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { addressList } from './addressList.js';
import type { Brief, BriefSection } from './brief.js';
import { historyRemarks, historyTable } from './comparisonTexts.js';
import { testTitle } from './differenceTexts.js';
import { formatDeviation, formatDeviationUncertainty, missing } from './formatNumber.js';
import { deviationUncertainty, timeText } from './sweepTexts.js';
import type { Column } from './terminalText.js';

export function visitBrief(comparison: VisitComparison): Brief {
  const { history, newFailures, mended, newTestFailures } = comparison;
  return {
    title: `${visitName(comparison.earlier)} -> ${visitName(comparison.later)}`,
    summary: visitSummary(comparison),
    sections: [
      ...listed('New failures', [
        ...newFailures.map(failureText),
        ...newTestFailures.map(({ before, now }) =>
          `${testTitle(now)}: ${before.verdict} -> ${now.verdict}. ${now.reasons.find(({ decisive }) => decisive)?.text ?? ''}`.trim(),
        ),
      ]),
      ...listed('Mended since', mended.map(failureText)),
      ...rateSection(comparison),
      ...listed('To be known with it', historyRemarks(history)),
      ...listed('Not compared', notCompared(comparison)),
      ...(history.strings.length > 0
        ? [{ title: 'Latest sweeps of both visits', table: verdictTable(history.strings), isDetail: true }]
        : []),
    ],
  };
}

const listed = (title: string, texts: readonly string[]): BriefSection[] =>
  texts.length > 0 ? [{ title, items: texts.map((text) => ({ text })) }] : [];

const visitName = ({ campaign, root }: Evaluation): string =>
  campaign.campaign?.record.title ?? campaign.campaign?.record.name.text ?? root.split('/').at(-1)!;

function visitSummary({
  history,
  newFailures,
  newTestFailures,
  mended,
  ...others
}: VisitComparison): string[] {
  const { strings, spread } = history;
  const failures = newFailures.length + newTestFailures.length;
  const replaced = strings.filter((each) => each.replaced.length > 0).length;
  const parts = [
    `${strings.length} ${strings.length === 1 ? 'string is' : 'strings are'} judged in both`,
    failures === 0 ? 'no new failure' : `${failures} new ${failures === 1 ? 'failure' : 'failures'}`,
    ...(mended.length > 0 ? [`${mended.length} mended`] : []),
    ...(replaced > 0 ? [`${replaced} with replaced modules`] : []),
    ...(others.onlyEarlier.length > 0 ? [`${others.onlyEarlier.length} in the earlier alone`] : []),
    ...(others.onlyLater.length > 0 ? [`${others.onlyLater.length} in the later alone`] : []),
  ];
  const pmax = spread.pmax;
  const rate = pmax
    ? [
        `Pmax at STC changed by ${formatDeviation(pmax.median)}/a in the median of ${pmax.count} strings, usual spread ${(100 * pmax.spread).toFixed(1)} %/a.`,
      ]
    : [];
  return [`${parts.join(', ')}.`, ...rate];
}

function failureText({ string, formerly, before, now }: StringHistory): string {
  const name = formerly === string ? string : `${string} (${formerly})`;
  const reason = now.analysis.verdict.endsWith('fail')
    ? now.analysis.reasons.find(({ decisive }) => decisive)?.text
    : undefined;
  return `${name}: ${before.analysis.verdict} -> ${now.analysis.verdict}${reason === undefined ? '' : `. ${reason}`}`;
}

function rateSection({ history }: VisitComparison): BriefSection[] {
  const table = historyTable(history);
  return table.rows.length > 0 ? [{ title: 'Change for each year at STC', table }] : [];
}

function notCompared({ onlyEarlier, onlyLater, notJudged }: VisitComparison): string[] {
  const inVisit = { earlier: 'the earlier campaign', later: 'the later campaign', both: 'either campaign' };
  return [
    ...(onlyEarlier.length > 0 ? [`${addressList(onlyEarlier)}: in the earlier campaign alone`] : []),
    ...(onlyLater.length > 0 ? [`${addressList(onlyLater)}: in the later campaign alone`] : []),
    ...(['earlier', 'later', 'both'] as const).flatMap((where) => {
      const strings = notJudged.filter((each) => each.where === where).map(({ string }) => string);
      return strings.length > 0 ? [`${addressList(strings)}: no judged sweep in ${inVisit[where]}`] : [];
    }),
  ];
}

const columns: readonly Column[] = [
  { title: 'string', align: 'left' },
  { title: 'then', align: 'left' },
  { title: 'from nameplate', align: 'right' },
  { title: 'now', align: 'left' },
  { title: 'from nameplate', align: 'right' },
  { title: 'verdict', align: 'left' },
];

function verdictTable(strings: readonly StringHistory[]) {
  const deviation = ({ analysis }: StringHistory['now']): string => {
    const own = analysis.deviation.pmax;
    const spread = formatDeviationUncertainty(deviationUncertainty(analysis.uncertainty.pmax, own));
    return spread === missing ? formatDeviation(own) : `${formatDeviation(own)} ${spread}`;
  };
  const rows = strings.map(({ string, formerly, before, now }) => {
    const [then, today] = [before.analysis.verdict, now.analysis.verdict];
    return [
      formerly === string ? string : `${string} (${formerly})`,
      timeText(before.time),
      deviation(before),
      timeText(now.time),
      deviation(now),
      then === today ? today : `${then} -> ${today}`,
    ];
  });
  return { columns, rows };
}
