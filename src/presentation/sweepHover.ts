import { judgedParameters } from '../analysis/verdict.js';
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { EvaluatedSweep } from '../evaluation/evaluation.js';
import { cautionLine } from './cautions.js';
import { conditionCells } from './conditionRows.js';
import { diagnosisHeadline, shareText } from './diagnosisTexts.js';
import { formatDeviation, formatToUncertainty, formatValue, missing } from './formatNumber.js';
import { escapeMarkdown, strongMarkdown } from './markdownText.js';
import { budgetRows } from './parameterRows.js';
import { deviceText, parameterSymbols, parameterUnits, timeText } from './sweepTexts.js';
import { verdictMark, verdictOrder } from './verdictWords.js';

/** Verdict, conditions, parameters and reasons of a sweep. */
export function sweepMarkdown(sweep: EvaluatedSweep): string {
  const { analysis } = sweep;
  const parts = [headline(sweep), conditions(sweep)];
  if (analysis.measured ?? analysis.translated) parts.push(parameterTable(sweep));
  if (analysis.reasons.length > 0) parts.push(reasons(sweep));
  const shape = shapeMarkdown(sweep);
  if (shape !== undefined) parts.push(shape);
  const estimates = (analysis.translated?.estimates ?? []).map(
    ({ symbol, value, unit, method }) =>
      `Estimated: ${symbol} = ${escapeMarkdown(formatValue(value, unit))}, ${escapeMarkdown(method)}.`,
  );
  if (estimates.length > 0) parts.push(estimates.join('  \n'));
  if (analysis.budget.length > 0) parts.push(budgetTable(analysis));
  if (analysis.verdict === 'fail') parts.push(`*${escapeMarkdown(cautionLine)}*`);
  return parts.join('\n\n');
}

function headline(sweep: EvaluatedSweep): string {
  const { symbol, word } = verdictMark(sweep.analysis.verdict);
  const device = deviceText(sweep);
  const words = [sweep.address, device, timeText(sweep.time)].filter(
    (part) => part !== '' && part !== missing,
  );
  return `${symbol} **${word}**: ${escapeMarkdown(words.join(', '))}`;
}

function conditions(sweep: EvaluatedSweep): string {
  const { irradiance, cellTemperature } = conditionCells(sweep);
  const { incidence, incidenceSource, pinIncidence, sunElevation } = sweep.analysis.conditions;
  const pin =
    incidenceSource === 'pin'
      ? ' from the shadow of the pin'
      : pinIncidence === undefined
        ? ''
        : ` (${pinIncidence.toFixed(1)} deg by the shadow of the pin)`;
  const sun = [
    ...(sunElevation === undefined ? [] : [`sun ${sunElevation.toFixed(1)} deg above the horizon`]),
    ...(incidence === undefined ? [] : [`angle of incidence ${incidence.toFixed(1)} deg${pin}`]),
  ];
  return escapeMarkdown([`G ${irradiance}`, `T ${cellTemperature}`, ...sun].join(', '));
}

function parameterTable({ analysis }: EvaluatedSweep): string {
  const { measured, translated, nameplate, deviation, uncertainty } = analysis;
  const rows = judgedParameters.map((parameter) => {
    const unit = parameterUnits[parameter];
    const cells = [
      parameterSymbols[parameter],
      formatValue(measured?.parameters[parameter], unit),
      formatToUncertainty(translated?.parameters[parameter], uncertainty[parameter], unit),
      formatValue(nameplate?.[parameter], unit),
      formatDeviation(deviation[parameter]),
    ];
    return `| ${cells.map(escapeMarkdown).join(' | ')} |`;
  });
  return ['| | measured | at STC | nameplate | deviation |', '|:--|--:|--:|--:|--:|', ...rows].join('\n');
}

const budgetColumns = ['pmax', 'isc', 'voc', 'ff'] as const;

/** What the uncertainties rest on, k = 1; the largest contribution to Pmax first. */
function budgetTable(analysis: SweepAnalysis): string {
  const rows = budgetRows(analysis).map(({ source, standardUncertainty, contribution }) => {
    const cells = [source, standardUncertainty, ...budgetColumns.map((name) => contribution[name])];
    return `| ${cells.map(escapeMarkdown).join(' | ')} |`;
  });
  const symbols = budgetColumns.map((name) => parameterSymbols[name]).join(' | ');
  return [`| Uncertainty budget, k = 1 | u | ${symbols} |`, '|:--|--:|--:|--:|--:|--:|', ...rows].join('\n');
}

/** Decisive ones first; a hover has room for four. */
function reasons({ analysis }: EvaluatedSweep): string {
  const sorted = [...analysis.reasons].sort((a, b) => Number(b.decisive) - Number(a.decisive));
  return sorted
    .slice(0, 4)
    .map(({ text, decisive }) => `- ${decisive ? strongMarkdown(text) : escapeMarkdown(text)}`)
    .join('\n');
}

/** What the shape of the curve says, where it differs, and what would tell the likeliest cause from the others. */
function shapeMarkdown({ diagnosis }: EvaluatedSweep): string | undefined {
  if (!diagnosis || diagnosis.healthy) return undefined;
  const [likeliest] = diagnosis.causes;
  const share = likeliest ? ` (${shareText(likeliest.share)} of the evidence)` : '';
  return escapeMarkdown(
    [`Shape: ${diagnosisHeadline(diagnosis)}${share}`, likeliest?.tellApart ?? ''].join(' ').trim(),
  );
}

/** Counts of a table of sweeps, and its first sweeps that did not pass. */
export function tableOfSweepsMarkdown(sweeps: readonly EvaluatedSweep[]): string {
  const counts = verdictOrder.flatMap((verdict) => {
    const count = sweeps.filter((sweep) => sweep.analysis.verdict === verdict).length;
    return count > 0 ? [`${count} ${verdict}`] : [];
  });
  const other = sweeps.filter((sweep) => sweep.analysis.verdict !== 'pass').slice(0, 5);
  return [
    `**${sweeps.length} sweeps**: ${counts.join(', ')}`,
    other.map((sweep) => `- ${headline(sweep)}`).join('\n'),
  ]
    .filter((part) => part !== '')
    .join('\n\n');
}
