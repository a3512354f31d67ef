import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { campaignChartData } from './chartData.js';
import { conditionCells } from './conditionRows.js';
import { electricalItems, electricalLine } from './electricalModel.js';
import { formatDeviation, formatDeviationUncertainty, formatToUncertainty, missing } from './formatNumber.js';
import type { CampaignModel, ReplacementItem, SweepListItem } from './previewTypes.js';
import { problemItem } from './problemItem.js';
import { placeIn } from './sourcePlace.js';
import { deviceText, deviationUncertainty, headlineReason, timeText } from './sweepTexts.js';
import { countsLine, verdictCounts, verdictMark } from './verdictWords.js';

/** Everything that the panel and the page show of the whole campaign. */
export function campaignModel(evaluation: Evaluation): CampaignModel {
  const record = evaluation.campaign.campaign?.record;
  const site = [...evaluation.campaign.sites.values()][0]?.record;
  return {
    revision: evaluation.revision,
    name: record?.name.text ?? '',
    title: record?.title ?? record?.name.text ?? 'Campaign without a name',
    client: record?.client ?? '',
    operator: record?.operator ?? '',
    purpose: record?.purpose?.replace('-', ' ') ?? '',
    site: site?.title ?? site?.name.text ?? '',
    counts: verdictCounts(evaluation.counts),
    summary: countsLine(evaluation.counts),
    sweeps: evaluation.sweeps.map(sweepListItem),
    electricalTests: electricalItems(evaluation),
    electricalSummary: electricalLine(evaluation),
    problems: evaluation.problems.map(problemItem),
    replacements: replacementItems(evaluation),
    overview: campaignChartData(evaluation),
  };
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
