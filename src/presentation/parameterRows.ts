import { judgedParameters } from '../analysis/verdict.js';
import type { BudgetLine, SweepAnalysis, Verdict } from '../analysis/sweepAnalysis.js';
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

/** The uncertainty budget as text, k = 1; the largest contribution to Pmax first, then what they come to. */
export function budgetRows(analysis: SweepAnalysis): BudgetRow[] {
  if (analysis.budget.length === 0) return [];
  const lines = [...analysis.budget]
    .sort((a, b) => Math.abs(b.contribution.pmax) - Math.abs(a.contribution.pmax))
    .map((line) => ({
      source: line.source + freedomText(line),
      standardUncertainty:
        line.unit === '1' || line.unit === '' || line.unit === '%'
          ? formatPercent(line.unit === '%' ? line.standardUncertainty / 100 : line.standardUncertainty)
          : formatValue(line.standardUncertainty, line.unit, 2),
      contribution: mapParameters((parameter) => contributionText(line.contribution[parameter])),
    }));
  return [...lines, ...sumRows(analysis)];
}

/** ` (nu = 2)`: the degrees of freedom of a line that few observations tell. */
function freedomText({ degreesOfFreedom = {} }: BudgetLine): string {
  const [first] = Object.values(degreesOfFreedom);
  return first === undefined ? '' : ` (nu = ${first})`;
}

/** Combined, the coverage factor, and expanded: how the budget becomes the stated uncertainty (JCGM 100, 6.2.1 and annex G). */
function sumRows({ uncertainty, coverage }: SweepAnalysis): BudgetRow[] {
  const factorOf = (name: ParameterName): number => coverage?.[name]?.factor ?? 2;
  const known = (text: (name: ParameterName, expanded: number) => string) =>
    mapParameters((name) => {
      const expanded = uncertainty[name];
      return expanded === undefined ? missing : text(name, expanded);
    });
  const row = (source: string, contribution: BudgetRow['contribution']): BudgetRow => ({
    source,
    standardUncertainty: '',
    contribution,
  });
  return [
    row(
      'Combined, k = 1',
      known((name, expanded) => contributionText(expanded / factorOf(name))),
    ),
    row(
      'Coverage factor k for 95.45 %',
      known((name) => coverageText(factorOf(name), coverage?.[name]?.degreesOfFreedom)),
    ),
    row(
      'Expanded',
      known((_, expanded) => contributionText(expanded)),
    ),
  ];
}

/** `2`, or `2.20 (nu_eff = 14)` where few observations tell a part that counts; GUM G.4.1 cuts nu_eff to a whole number. */
function coverageText(factor: number, degreesOfFreedom: number | undefined): string {
  if (degreesOfFreedom === undefined || !Number.isFinite(degreesOfFreedom) || factor < 2.005) return '2';
  return `${factor.toFixed(2)} (nu_eff = ${Math.floor(degreesOfFreedom + 1e-9)})`;
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
