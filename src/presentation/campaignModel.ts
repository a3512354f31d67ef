import { byMoment } from '../campaign/moment.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { caseStory } from './caseTexts.js';
import { stateMark, stateOrder } from './caseWords.js';
import { campaignChartData } from './chartData.js';
import { conditionCells } from './conditionRows.js';
import { electricalItems, electricalLine } from './electricalModel.js';
import { formatDeviation, formatDeviationUncertainty, formatToUncertainty, missing } from './formatNumber.js';
import { peerTexts } from './comparisonTexts.js';
import { nextSteps } from './nextSteps.js';
import type {
  CampaignHead,
  CampaignModel,
  CaseItem,
  HistorySection,
  MapRow,
  ReplacementItem,
  SweepListItem,
} from './previewTypes.js';
import { problemItem } from './problemItem.js';
import { placeIn } from './sourcePlace.js';
import { deviceText, deviationUncertainty, headlineReason, timeText } from './sweepTexts.js';
import { countsLine, verdictCounts, verdictMark } from './verdictWords.js';

/** Everything that the panel and the page show of the whole campaign. */
export function campaignModel(evaluation: Evaluation): CampaignModel {
  const record = evaluation.campaign.campaign?.record;
  const site = [...evaluation.campaign.sites.values()][0]?.record;
  return {
    ...campaignHead(evaluation),
    revision: evaluation.revision,
    client: record?.client ?? '',
    operator: record?.operator ?? '',
    purpose: record?.purpose?.replace('-', ' ') ?? '',
    site: site?.title ?? site?.name.text ?? '',
    counts: verdictCounts(evaluation.counts),
    sweeps: evaluation.sweeps.map(sweepListItem),
    electricalTests: electricalItems(evaluation),
    electricalSummary: electricalLine(evaluation),
    problems: evaluation.problems.map(problemItem),
    replacements: replacementItems(evaluation),
    overview: campaignChartData(evaluation),
    cases: caseItems(evaluation),
    steps: nextSteps(evaluation),
    map: mapRows(evaluation),
    peers: peerTexts(evaluation),
    history: historySection(evaluation),
  };
}

/** What every view says of the campaign. */
export function campaignHead({ campaign, counts }: Evaluation): CampaignHead {
  const record = campaign.campaign?.record;
  return {
    name: record?.name.text ?? '',
    title: record?.title ?? record?.name.text ?? 'Campaign without a name',
    summary: countsLine(counts),
  };
}

/** Strings that are or were at fault. */
function caseItems({ cases }: Evaluation): CaseItem[] {
  const known = cases.filter(({ state }) => state !== 'sound' && state !== 'not known');
  return [...known]
    .sort((a, b) => stateOrder.indexOf(a.state) - stateOrder.indexOf(b.state))
    .map((each) => ({
      string: each.string,
      state: stateMark(each.state),
      text: each.proposal?.text ?? caseStory(each),
    }));
}

function historySection({ history }: Evaluation): HistorySection | undefined {
  if (!history) return undefined;
  const told = history.strings.filter(({ refused }) => refused === undefined);
  const refusals = new Set(history.strings.flatMap(({ refused }) => refused ?? []));
  const replaced = history.strings.flatMap((each) => each.replaced);
  return {
    since: history.title ?? history.name ?? 'the earlier campaign',
    rows: told.map(({ string, formerly, years, rates: { pmax } }) => ({
      string: formerly === string ? string : `${string} (then ${formerly})`,
      years: years!.toFixed(1),
      pmax: pmax
        ? [
            formatDeviation(pmax.perYear),
            ...(pmax.uncertainty === undefined ? [] : [`± ${(100 * pmax.uncertainty).toFixed(1)} %`]),
          ].join(' ')
        : missing,
    })),
    remarks: [
      ...history.strings.flatMap(({ standsOut }) => standsOut ?? []),
      ...(replaced.length > 0 ? [`Replaced since: ${replaced.join('; ')}.`] : []),
      ...(history.doubt === undefined ? [] : [history.doubt]),
      ...refusals,
    ],
  };
}

/** The latest judged sweep of each string that has a position. */
function mapRows({ campaign, sweeps, cases }: Evaluation): MapRow[] {
  const stateOf = new Map(cases.map(({ string, state }) => [string, state]));
  const latest = new Map<string, EvaluatedSweep>();
  for (const sweep of sweeps) {
    if (sweep.address.includes('/') || sweep.analysis.verdict === 'void') continue;
    const former = latest.get(sweep.address);
    if (!former || byMoment(sweep, former) >= 0) latest.set(sweep.address, sweep);
  }
  return [...campaign.strings].flatMap(([name, { record }]): MapRow[] => {
    const { position } = record;
    // A run shares one position: its strings would hide one another.
    if (!position || record.names.length > 1) return [];
    const sweep = latest.get(name);
    const deviation = sweep?.analysis.deviation.pmax;
    return [
      {
        string: name,
        x: position.x.value,
        y: position.y.value,
        ...(deviation === undefined ? {} : { deviation: Number((100 * deviation).toFixed(2)) }),
        verdict: sweep?.analysis.verdict ?? 'not judged',
        state: stateMark(stateOf.get(name) ?? 'not known').word,
      },
    ];
  });
}

/** One sweep as every list shows it, in the panel, on the page and in the terminal. */
export function sweepListItem(sweep: EvaluatedSweep): SweepListItem {
  const { analysis } = sweep;
  const expanded = deviationUncertainty(analysis.uncertainty.pmax, analysis.deviation.pmax);
  return {
    id: sweep.id,
    address: sweep.address,
    device: deviceText(sweep),
    time: timeText(sweep.time),
    verdict: verdictMark(analysis.verdict),
    headline: headlineReason(analysis)?.text ?? '',
    ...conditionCells(sweep),
    pmax: formatToUncertainty(analysis.translated?.parameters.pmax, analysis.uncertainty.pmax, 'W'),
    deviation: formatDeviation(analysis.deviation.pmax),
    uncertainty: formatDeviationUncertainty(expanded),
    place: { file: sweep.place.file, line: sweep.place.range.start.line },
    problemCount: sweep.problems.length,
  };
}

function replacementItems(evaluation: Evaluation): ReplacementItem[] {
  return evaluation.campaign.entries.flatMap(({ record, block }) => {
    if (record.kind !== 'replace') return [];
    const serial = record.serial ? [`${record.serial.old} -> ${record.serial.new}`] : [];
    const type = record.type ? [`${record.type.old.text} -> ${record.type.new.text}`] : [];
    return [
      {
        address: record.address.text,
        time: timeText(record.time?.iso),
        change: [...serial, ...type].join(', ') || missing,
        reason: record.reason ?? '',
        place: placeIn(block, record.headerRange),
      },
    ];
  });
}
