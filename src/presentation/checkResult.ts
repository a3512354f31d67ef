import { diodeFitOf } from '../analysis/diodeFit.js';
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { ParameterName } from '../campaign/model.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { perParameter } from '../physics/ivCurve.js';
import type { FileProblem } from '../text/problem.js';
import { caseResult } from './caseResult.js';
import { cautions } from './cautions.js';
import { comparisonResults } from './comparisonResult.js';
import { diagnosisResult } from './diagnosisResult.js';
import { roundSignificant } from './formatNumber.js';
import { electricalResult } from './electricalResult.js';
import { resultDigits } from './resultDigits.js';
import type { CheckResult } from './checkResultSchema.js';

type Display = (file: string) => string;
type SweepResult = CheckResult['sweeps'][number];
type DiagnosticResult = CheckResult['diagnostics'][number];

const rounded = (value: number | undefined): number | null => roundSignificant(value, resultDigits);

/**
 * Everything computed, in the form of `checkResultSchema`. `display` turns a file into the name to write; `withFit` adds the
 * single-diode model of each measured curve.
 */
export function toResult(
  evaluation: Evaluation,
  display: Display,
  version: string,
  { withFit = false }: { readonly withFit?: boolean } = {},
): CheckResult {
  const record = evaluation.campaign.campaign?.record;
  return {
    program: { name: 'sweepbook', version },
    schemaVersion: 1,
    campaign: {
      name: record?.name.text ?? null,
      title: record?.title ?? null,
      client: record?.client ?? null,
      operator: record?.operator ?? null,
      purpose: record?.purpose ?? null,
      root: display(evaluation.root),
      files: evaluation.files.map(display),
    },
    counts: { ...evaluation.counts },
    sweeps: evaluation.sweeps.map((sweep) => ({
      ...sweepResult(sweep, display),
      ...(withFit ? { fit: fitResult(sweep) } : {}),
    })),
    cases: evaluation.cases.map((each) => caseResult(each, display)),
    cautions: evaluation.cases.some(({ proposal }) => proposal?.disconnects) ? [...cautions] : [],
    ...comparisonResults(evaluation, display),
    electricalCounts: { ...evaluation.electricalCounts },
    electricalTests: evaluation.electricalTests.map((test) => electricalResult(test, display)),
    diagnostics: evaluation.problems.map((problem) => diagnosticResult(problem, display)),
  };
}

function sweepResult(sweep: EvaluatedSweep, display: Display): SweepResult {
  const { analysis, target } = sweep;
  const { measured, translated } = analysis;
  return {
    address: sweep.address,
    time: sweep.time ?? null,
    location: { file: display(sweep.place.file), line: sweep.place.range.start.line + 1 },
    dataFile: sweep.dataFile === undefined ? null : display(sweep.dataFile),
    dataLine: sweep.tableLine ?? null,
    module: target.module?.name.text ?? null,
    seriesModules: target.seriesModules ?? null,
    parallelStrings: target.parallelStrings,
    criteria: target.criteria?.name.text ?? null,
    procedure: translated?.procedure ?? null,
    interpolation: translated?.interpolation
      ? {
          partner: translated.interpolation.partner,
          fraction: rounded(translated.interpolation.fraction),
          cellTemperature: rounded(translated.interpolation.cellTemperature),
        }
      : null,
    conditions: conditionsResult(analysis),
    measured: each(measured?.parameters),
    translated: each(translated?.parameters),
    nameplate: each(analysis.nameplate),
    deviation: each(analysis.deviation),
    uncertainty: each(analysis.uncertainty),
    coverageFactor: each(
      perParameter((name) =>
        analysis.uncertainty[name] === undefined ? undefined : coverageOf(analysis, name),
      ),
    ),
    effectiveDegreesOfFreedom: each(perParameter((name) => finiteFreedom(analysis, name))),
    estimates: (translated?.estimates ?? []).map((estimate) => ({
      ...estimate,
      value: rounded(estimate.value),
    })),
    flags: [
      ...(measured?.flags ?? []).map(({ code, text }) => ({ curve: 'measured' as const, code, text })),
      ...(translated?.flags ?? []).map(({ code, text }) => ({ curve: 'translated' as const, code, text })),
    ],
    verdict: analysis.verdict,
    reasons: analysis.reasons.map(({ code, text, parameter, decisive }) => ({
      code,
      text,
      parameter: parameter ?? null,
      decisive,
    })),
    diagnosis: sweep.diagnosis ? diagnosisResult(sweep.diagnosis) : null,
    diagnostics: sweep.problems.map((problem) => diagnosticResult(problem, display)),
  };
}

function fitResult(sweep: EvaluatedSweep): SweepResult['fit'] {
  const result = diodeFitOf(sweep);
  if (result.kind === 'none')
    return { reason: result.reason, doubt: null, values: [], deviation: null, expected: each(undefined) };
  const { values, doubt, deviation, expected } = result.fitted;
  return {
    reason: null,
    doubt: doubt ?? null,
    values: values.map(({ symbol, unit, ...found }) => ({
      symbol,
      unit,
      value: rounded(found.value),
      standardUncertainty: rounded(found.standardUncertainty),
      expected: rounded(found.expected),
    })),
    deviation: rounded(deviation),
    expected: each(expected),
  };
}

function conditionsResult({ conditions }: SweepAnalysis): SweepResult['conditions'] {
  return {
    irradiance: rounded(conditions.irradiance),
    irradianceUncertainty: rounded(conditions.irradianceUncertainty),
    cellTemperature: rounded(conditions.cellTemperature),
    temperatureUncertainty: rounded(conditions.temperatureUncertainty),
    temperatureSource: conditions.temperatureSource ?? null,
    drift: rounded(conditions.drift),
    incidence: rounded(conditions.incidence),
    pinIncidence: rounded(conditions.pinIncidence),
    sunElevation: rounded(conditions.sunElevation),
    points: conditions.points ?? null,
  };
}

const coverageOf = ({ coverage }: SweepAnalysis, name: ParameterName): number =>
  coverage?.[name]?.factor ?? 2;

function finiteFreedom({ coverage }: SweepAnalysis, name: ParameterName): number | undefined {
  const freedom = coverage?.[name]?.degreesOfFreedom;
  return Number.isFinite(freedom) ? freedom : undefined;
}

function each(
  values: Partial<Record<ParameterName, number | undefined>> | undefined,
): SweepResult['measured'] {
  return {
    isc: rounded(values?.isc),
    voc: rounded(values?.voc),
    imp: rounded(values?.imp),
    vmp: rounded(values?.vmp),
    pmax: rounded(values?.pmax),
    ff: rounded(values?.ff),
  };
}

function diagnosticResult(problem: FileProblem, display: Display): DiagnosticResult {
  return {
    id: problem.id,
    severity: problem.severity,
    message: problem.message,
    file: display(problem.file),
    line: problem.range.start.line + 1,
    column: problem.range.start.character + 1,
    related: (problem.related ?? []).map(({ message, place }) => ({
      message,
      file: display(place.file),
      line: place.range.start.line + 1,
    })),
  };
}
