import { judgedParameters } from '../analysis/verdict.js';
import type { SweepAnalysis, Verdict } from '../analysis/sweepAnalysis.js';
import type { ParameterName } from '../campaign/model.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import {
  formatDeviation,
  formatDeviationUncertainty,
  formatPercent,
  formatToUncertainty,
  formatValue,
  missing,
} from './formatNumber.js';
import type { BudgetRow, ParameterRow } from './previewTypes.js';
import { placeIn, type SourcePlace } from './sourcePlace.js';
import {
  deviationUncertainty,
  limitsOf,
  limitsText,
  parameterNamesInWords,
  parameterSymbols,
  parameterUnits,
} from './sweepTexts.js';
import { verdictMark, type VerdictMark } from './verdictWords.js';

/** Measured, translated, nameplate, deviation, limit and outcome of each parameter; none without a curve. */
export function parameterRows(evaluation: Evaluation, sweep: EvaluatedSweep): ParameterRow[] {
  const { measured, translated, nameplate, deviation, uncertainty } = sweep.analysis;
  if (!measured && !translated) return [];
  return judgedParameters.map((parameter) => {
    const unit = parameterUnits[parameter];
    const relative = uncertainty[parameter];
    const expanded = deviationUncertainty(relative, deviation[parameter]);
    return {
      parameter,
      symbol: parameterSymbols[parameter],
      name: parameterNamesInWords[parameter],
      measured: formatValue(measured?.parameters[parameter], unit),
      translated: formatToUncertainty(translated?.parameters[parameter], relative, unit),
      nameplate: formatValue(nameplate?.[parameter], unit),
      deviation: formatDeviation(deviation[parameter]),
      uncertainty: formatDeviationUncertainty(expanded),
      limit: limitsText(limitsOf(sweep, parameter)),
      outcome: outcomeOf(sweep.analysis, parameter),
      place: limitPlace(evaluation, sweep, parameter),
    };
  });
}

/** The outcome of one parameter, from the stable codes of the reasons (`limit-pass`, `limit-conditional-fail`, …). */
function outcomeOf(analysis: SweepAnalysis, parameter: ParameterName): VerdictMark | undefined {
  const reason = analysis.reasons.find((candidate) => candidate.parameter === parameter);
  if (!reason) return undefined;
  if (!reason.code.startsWith('limit-')) return verdictMark('not judged');
  const word = reason.code.slice('limit-'.length).replace('-', ' ');
  const known: readonly Verdict[] = ['pass', 'conditional pass', 'conditional fail', 'fail'];
  const verdict = known.find((candidate) => candidate === word);
  return verdict && verdictMark(verdict);
}

/** The line of the criteria that limits a parameter. */
export function limitPlace(
  evaluation: Evaluation,
  sweep: EvaluatedSweep,
  parameter: ParameterName,
): SourcePlace | undefined {
  const limits = limitsOf(sweep, parameter);
  const name = sweep.target.criteria?.name.text;
  const placed = name === undefined ? undefined : evaluation.campaign.criteria.get(name);
  return limits && placed && placeIn(placed.block, limits.range);
}

/** The uncertainty budget as text, k = 1; the largest contribution to Pmax first. */
export function budgetRows(analysis: SweepAnalysis): BudgetRow[] {
  return [...analysis.budget]
    .sort((a, b) => Math.abs(b.contribution.pmax) - Math.abs(a.contribution.pmax))
    .map((line) => ({
      source: line.source,
      standardUncertainty:
        line.unit === '1' || line.unit === '' || line.unit === '%'
          ? formatPercent(line.unit === '%' ? line.standardUncertainty / 100 : line.standardUncertainty)
          : formatValue(line.standardUncertainty, line.unit, 2),
      contribution: mapParameters((parameter) => contributionText(line.contribution[parameter])),
    }));
}

/** Two decimals; what rounds to nothing is shown as nothing. */
const contributionText = (fraction: number): string =>
  Math.abs(fraction) < 0.00005 ? missing : `${(Math.abs(fraction) * 100).toFixed(2)} %`;

function mapParameters(text: (parameter: ParameterName) => string): Record<ParameterName, string> {
  return {
    isc: text('isc'),
    voc: text('voc'),
    imp: text('imp'),
    vmp: text('vmp'),
    pmax: text('pmax'),
    ff: text('ff'),
  };
}
