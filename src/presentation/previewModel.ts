/** One sweep and the whole campaign as plain JSON for the panel and the page; see previewTypes.ts. */
import { stringOf } from '../campaign/names.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { cautions } from './cautions.js';
import { sweepChartData } from './chartData.js';
import { conditionRows } from './conditionRows.js';
import { diagnosisSection } from './diagnosisTexts.js';
import { fitSection } from './fitRows.js';
import { formatValue } from './formatNumber.js';
import { budgetRows, limitPlace, parameterRows } from './parameterRows.js';
import type { EstimateItem, FlagItem, PreviewModel, ReasonItem } from './previewTypes.js';
import { problemItem } from './problemItem.js';
import { placeIn } from './sourcePlace.js';
import { deviceText, headlineReason, methodTexts, timeText } from './sweepTexts.js';
import { verdictMark } from './verdictWords.js';

export type * from './previewTypes.js';
export { campaignHead, campaignModel } from './campaignModel.js';
export { sweepAt } from './sweepAtLine.js';

/** Everything that the panel and the page show of one sweep; undefined when no sweep has this id. */
export function previewModel(evaluation: Evaluation, sweepId: string): PreviewModel | undefined {
  const index = evaluation.sweeps.findIndex((sweep) => sweep.id === sweepId);
  const sweep = evaluation.sweeps[index];
  if (!sweep) return undefined;
  const { analysis, target } = sweep;
  return {
    revision: evaluation.revision,
    sweepId,
    place: { file: sweep.place.file, line: sweep.place.range.start.line },
    address: sweep.address,
    string: stringOf(sweep.address),
    device: deviceText(sweep),
    time: timeText(sweep.time),
    verdict: verdictMark(analysis.verdict),
    diagnosis: diagnosisSection(sweep.diagnosis),
    summary: summaryText(sweep),
    previous: evaluation.sweeps[index - 1]?.id,
    next: evaluation.sweeps[index + 1]?.id,
    conditions: conditionRows(sweep),
    parameters: parameterRows(evaluation, sweep),
    reasons: reasonItems(evaluation, sweep),
    estimates: estimateItems(sweep),
    flags: flagItems(sweep),
    problems: sweep.problems.map(problemItem),
    budget: budgetRows(analysis),
    fit: fitSection(sweep),
    notes: noteItems(evaluation, sweep),
    method: methodTexts(analysis, target.criteria),
    cautions: leadsToDisconnecting(sweep) ? cautions : [],
    charts: sweepChartData(sweep),
  };
}

/** `Fail. Pmax deviates by …`. */
export function summaryText(sweep: EvaluatedSweep): string {
  const { analysis } = sweep;
  const { word } = verdictMark(analysis.verdict);
  const reason = headlineReason(analysis) ?? analysis.reasons[0];
  return `${word.charAt(0).toUpperCase()}${word.slice(1)}.${reason ? ` ${reason.text}` : ''}`;
}

/** A failure is looked for module by module, and a single module is measured disconnected. */
function leadsToDisconnecting(sweep: EvaluatedSweep): boolean {
  const { verdict } = sweep.analysis;
  return verdict === 'fail' || verdict === 'conditional fail' || sweep.address.includes('/');
}

function reasonItems(evaluation: Evaluation, sweep: EvaluatedSweep): ReasonItem[] {
  return [...sweep.analysis.reasons]
    .sort((a, b) => Number(b.decisive) - Number(a.decisive))
    .map((reason) => ({
      code: reason.code,
      text: reason.text,
      decisive: reason.decisive,
      parameter: reason.parameter,
      place: reason.parameter && limitPlace(evaluation, sweep, reason.parameter),
    }));
}

function estimateItems(sweep: EvaluatedSweep): EstimateItem[] {
  return (sweep.analysis.translated?.estimates ?? []).map(({ symbol, value, unit, method }) => ({
    symbol,
    value: formatValue(value, unit),
    method,
  }));
}

function flagItems(sweep: EvaluatedSweep): FlagItem[] {
  const { measured, translated } = sweep.analysis;
  return [
    ...(measured?.flags ?? []).map((flag) => ({ curve: 'measured' as const, ...flag })),
    ...(translated?.flags ?? []).map((flag) => ({ curve: 'translated' as const, ...flag })),
  ];
}

function noteItems(evaluation: Evaluation, sweep: EvaluatedSweep): PreviewModel['notes'] {
  const own = sweep.record.notes.map((note) => ({
    text: note.text,
    place: placeIn(sweep.block, note.range),
  }));
  const remark = sweep.record.kind === 'sweep' ? sweep.record.remark : undefined;
  const remarkPlace = sweep.record.propertyRanges.get('remark') ?? sweep.record.headerRange;
  const others = evaluation.campaign.entries.flatMap(({ record, block }) =>
    record.kind === 'note' && record.address?.text === sweep.address
      ? [{ text: record.text.text, place: placeIn(block, record.text.range) }]
      : [],
  );
  return [
    ...own,
    ...(remark === undefined ? [] : [{ text: remark, place: placeIn(sweep.block, remarkPlace) }]),
    ...others,
  ];
}
