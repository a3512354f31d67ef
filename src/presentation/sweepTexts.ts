/** The short texts that every output shows of a sweep, written once so that all outputs agree. */
import { parameterSymbols } from '../analysis/verdict.js';
import type { Reason, SweepAnalysis, TranslatedCurve } from '../analysis/sweepAnalysis.js';
import type { CriteriaRecord, ParameterName } from '../campaign/model.js';
import type { Limits, Quantity } from '../campaign/quantity.js';
import type { EvaluatedSweep } from '../evaluation/evaluation.js';
import { missing } from './formatNumber.js';

export const parameterUnits: Readonly<Record<ParameterName, string>> = {
  isc: 'A',
  voc: 'V',
  imp: 'A',
  vmp: 'V',
  pmax: 'W',
  ff: '',
};

/** IEC TS 61836 terms, from memory, not confirmed. */
export const parameterNamesInWords: Readonly<Record<ParameterName, string>> = {
  pmax: 'Maximum power',
  isc: 'Short-circuit current',
  voc: 'Open-circuit voltage',
  imp: 'Current at maximum power',
  vmp: 'Voltage at maximum power',
  ff: 'Fill factor',
};

export { parameterSymbols };

/** `2026-05-14 11:42`, local to the site; seconds only where they are not zero. */
export function timeText(time: string | undefined): string {
  if (time === undefined) return missing;
  const parts = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2})(?::(\d{2})(?:\.\d+)?)?/.exec(time);
  if (!parts) return time;
  const seconds = parts[3] === undefined || parts[3] === '00' ? '' : `:${parts[3]}`;
  return `${parts[1]} ${parts[2]}${seconds}`;
}

/** `1.03 at 2026-05-14 11:42`. */
export function sweepTitle(sweep: EvaluatedSweep): string {
  return sweep.time === undefined ? sweep.address : `${sweep.address} at ${timeText(sweep.time)}`;
}

/** `18 x KF108M`, `KF108M` for one module, `2 x 18 x KF108M` for two strings in parallel; empty where not known. */
export function deviceText(sweep: EvaluatedSweep): string {
  const { seriesModules, parallelStrings, module, string } = sweep.target;
  const type = module?.name.text ?? string?.modules?.type.text;
  if (type === undefined) return '';
  const counts = [parallelStrings > 1 ? parallelStrings : 0, seriesModules ?? 0].filter((count) => count > 0);
  const only = counts.length === 1 && counts[0] === 1;
  return [...(only ? [] : counts.map(String)), type].join(' x ');
}

/** The reason that decides, or the first one; none for a pass, whose remarks decide nothing. */
export function headlineReason(analysis: SweepAnalysis): Reason | undefined {
  if (analysis.verdict === 'pass') return undefined;
  return analysis.reasons.find((reason) => reason.decisive) ?? analysis.reasons[0];
}

/** Expanded uncertainty of a deviation x/n - 1 whose x has the relative one `relative`. */
export function deviationUncertainty(
  relative: number | undefined,
  deviation: number | undefined,
): number | undefined {
  return relative === undefined || deviation === undefined ? undefined : relative * (1 + deviation);
}

/** The limits that a sweep is judged by, for one parameter. */
export function limitsOf(sweep: EvaluatedSweep, parameter: ParameterName): Limits | undefined {
  return sweep.target.criteria?.limits[parameter];
}

/** As many digits as were written, within what a number can hold. */
const plain = (value: number): string => String(Number(value.toPrecision(10)));

/** A quantity as written: `-0.27 %/K`. */
export function quantityText(quantity: Quantity): string {
  return `${plain(quantity.writtenValue)} ${quantity.unit}`.trim();
}

/** `-5 % ..`, `.. 45 deg`, `-3 % .. 3 %`. */
export function limitsText(limits: Limits | undefined): string {
  if (!limits) return missing;
  const ends = [limits.least, '..', limits.most].flatMap((end) =>
    end === undefined ? [] : [typeof end === 'string' ? end : quantityText(end)],
  );
  return ends.join(' ');
}

const junctionWords = 'the voltage-temperature relation of the single-junction cell (Hishikawa et al. 2018)';

const procedureWords: Readonly<Record<TranslatedCurve['procedure'], string>> = {
  'IEC60891-1': 'IEC 60891:2021, correction procedure 1',
  'IEC60891-2': 'IEC 60891:2021, correction procedure 2',
  'IEC60891-3': 'IEC 60891:2021, procedure 3',
  'Hishikawa-2018': `${junctionWords}; the irradiance by IEC 60891:2021, procedure 1`,
};

/** How an interpolation was made: its second step is not procedure 3, and a reader has to know. */
function interpolationText({ interpolation, estimates }: TranslatedCurve): string[] {
  if (!interpolation) return [];
  const { partner, fraction, cellTemperature } = interpolation;
  const step = estimates.some(({ symbol }) => symbol === 'beta') ? junctionWords : 'procedure 1';
  return [
    `Interpolated with ${partner} (a = ${fraction.toFixed(2)}) to 1000 W/m2, where the cell temperature is ${cellTemperature.toFixed(1)} degC; ` +
      `from there to 25 degC by ${step} at constant irradiance.`,
  ];
}

/** Sentences on how the numbers of a sweep came about. */
export function methodTexts(analysis: SweepAnalysis, criteria: CriteriaRecord | undefined): string[] {
  const { translated } = analysis;
  const texts: string[] = [];
  if (translated) {
    texts.push(
      `Translated to ${plain(translated.to.irradiance)} W/m2 and ${plain(translated.to.cellTemperature)} degC by ${procedureWords[translated.procedure]}.`,
      ...interpolationText(translated),
    );
  }
  if (criteria) texts.push(decisionText(criteria));
  return texts;
}

/** By which rule a verdict is had. */
export const decisionText = ({ name, decision }: CriteriaRecord): string =>
  decision === 'guarded'
    ? `Judged by criteria ${name.text}, guarded decision: the expanded uncertainty (95.45 %) is the guard band (ILAC-G8:09/2019).`
    : `Judged by criteria ${name.text}, simple decision: the value alone is held against the limit (ILAC-G8:09/2019).`;
