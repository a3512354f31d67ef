/** The rows behind the charts: named data sets that a host can replace without a new specification. */
import { atModuleTerminals } from '../analysis/cableCorrection.js';
import { expectedModel } from '../analysis/diodeFit.js';
import type { ParameterName } from '../campaign/model.js';
import { characteristicPoints, currentAtVoltage } from '../physics/singleDiode.js';
import type { IvCurve } from '../physics/ivCurve.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { formatDeviation } from './formatNumber.js';
import { deviationUncertainty, sweepTitle, timeText } from './sweepTexts.js';
import { verdictMark, verdictOrder } from './verdictWords.js';

/** The series of the two curve charts; the words of the legend. */
export const curveSeries = ['measured', 'translated to STC', 'nameplate at STC'] as const;
export type CurveSeries = (typeof curveSeries)[number];

export interface CurveRow {
  readonly series: CurveSeries;
  /** `continued`: points that the translation added to reach zero current. */
  readonly part: 'points' | 'continued';
  /** V, A, W. */
  readonly voltage: number;
  readonly current: number;
  readonly power: number;
}

/** A maximum power point. */
export interface MaximumRow {
  readonly series: CurveSeries;
  readonly voltage: number;
  readonly current: number;
  readonly power: number;
}

/** Measured less expected current at a measured voltage, at the conditions of the sweep: V, A. */
export interface DifferenceRow {
  readonly voltage: number;
  readonly difference: number;
}

/** Where findings of the diagnosis show on the measured curve; `mark` are their numbers in the list of findings: `2, 3`. */
export interface FindingRow {
  readonly mark: string;
  /** Below and left of such a point stand the numbers of an axis. */
  readonly nearAxis: boolean;
  readonly voltage: number;
  readonly current: number;
  readonly power: number;
}

/** Data sets `curves`, `maxima`, `differences` and `findings` of the charts of one sweep, and what they show in words. */
export interface SweepChartData {
  readonly curves: readonly CurveRow[];
  readonly maxima: readonly MaximumRow[];
  /** Empty where no model of the nameplate or no conditions are known. */
  readonly differences: readonly DifferenceRow[];
  readonly findings: readonly FindingRow[];
  readonly description: string;
}

/** Deviations in percent; absent where not known. */
export interface OverviewRow {
  /** Of the sweep, for a host that is clicked on. */
  readonly id: string;
  /** Short and unique: the address, with its time where it repeats. */
  readonly sweep: string;
  readonly verdict: string;
  /** Its mark of one character. */
  readonly symbol: string;
  readonly deviation: number;
  /** Where the mark stands: the deviation, or the edge of the chart for one far beyond. */
  readonly shown: number;
  /** The deviation in words where its mark stands at the edge; empty elsewhere. */
  readonly beyond: string;
  /** Ends of the whisker; none at the edge. */
  readonly low?: number;
  readonly high?: number;
}

/** A limit of the criteria in the row of a sweep, percent. */
export interface LimitRow {
  readonly sweep: string;
  readonly limit: number;
}

/** Data sets `sweeps` and `limits` of the overview chart. */
export interface CampaignChartData {
  readonly sweeps: readonly OverviewRow[];
  readonly limits: readonly LimitRow[];
  readonly description: string;
}

/** Percent. Deviations beyond stand at this edge with their number, so that one dead module does not squeeze the rest. */
const edge = 20;

/** A host draws no more points of one curve than this; thinned evenly, with both ends kept. */
const mostPoints = 600;

/** What the number of a finding takes of a chart, as a share of its width and height. */
const markRoom = 0.08;

/** Six digits are more than a screen shows and keep the messages small. */
const round = (value: number): number => Number(value.toPrecision(6));

export function sweepChartData(sweep: EvaluatedSweep): SweepChartData {
  const { measured, translated, expected, nameplate } = sweep.analysis;
  const curves = [
    ...curveRows('measured', measured?.curve),
    ...curveRows('translated to STC', translated?.curve, translated?.continuedFrom),
    ...curveRows('nameplate at STC', expected),
  ];
  const maxima = [
    ...maximumRow('measured', measured?.parameters),
    ...maximumRow('translated to STC', translated?.parameters),
    ...maximumRow('nameplate at STC', nameplate),
  ];
  return {
    curves,
    maxima,
    differences: differenceRows(sweep),
    findings: findingRows(sweep),
    description: describe(sweep, maxima),
  };
}

/** At the terminals of the modules, since the nameplate speaks of these. */
function differenceRows({ target, analysis }: EvaluatedSweep): DifferenceRow[] {
  const { measured, conditions } = analysis;
  const expected = measured && expectedModel(target, conditions);
  if (!expected) return [];
  const { voltage, current } = atModuleTerminals(measured.curve, target).curve;
  const { voc } = characteristicPoints(expected);
  const kept = thinned(voltage.length).filter((k) => voltage[k]! >= 0 && voltage[k]! <= 1.02 * voc);
  return kept.map((k) => ({
    voltage: round(voltage[k]!),
    difference: round(current[k]! - currentAtVoltage(expected, voltage[k]!)),
  }));
}

const largest = (values: Float64Array): number => values.reduce((most, value) => Math.max(most, value));

function findingRows({ diagnosis, analysis }: EvaluatedSweep): FindingRow[] {
  const curve = analysis.measured?.curve;
  if (!curve) return [];
  const [width, height] = [largest(curve.voltage), largest(curve.current)];
  const rows: FindingRow[] = [];
  for (const [index, { at }] of (diagnosis?.findings ?? []).entries()) {
    if (!at) continue;
    const { voltage, current } = at;
    const isNear = (row: FindingRow): boolean =>
      Math.abs(row.voltage - voltage) < markRoom * width &&
      Math.abs(row.current - current) < markRoom * height;
    const near = rows.findIndex(isNear);
    const number = String(index + 1);
    // Two numbers at one place would hide each other.
    if (near >= 0) rows[near] = { ...rows[near]!, mark: `${rows[near]!.mark}, ${number}` };
    else
      rows.push({
        mark: number,
        nearAxis: voltage < markRoom * width || current < markRoom * height,
        voltage: round(voltage),
        current: round(current),
        power: round(voltage * current),
      });
  }
  return rows;
}

/** Indices of at most about `mostPoints` points, evenly, with both ends kept. */
function thinned(count: number): number[] {
  const step = Math.max(1, Math.ceil(count / mostPoints));
  return Array.from({ length: count }, (_, k) => k).filter((k) => k % step === 0 || k === count - 1);
}

function curveRows(series: CurveSeries, curve: IvCurve | undefined, continuedFrom = Infinity): CurveRow[] {
  if (!curve) return [];
  const rows: CurveRow[] = [];
  const count = curve.voltage.length;
  const step = Math.max(1, Math.ceil(count / mostPoints));
  for (let i = 0; i < count; i++) {
    if (i % step !== 0 && i !== count - 1 && i !== continuedFrom && i !== continuedFrom - 1) continue;
    const voltage = curve.voltage[i]!;
    const current = curve.current[i]!;
    const row = { series, voltage: round(voltage), current: round(current), power: round(voltage * current) };
    if (i < continuedFrom) rows.push({ ...row, part: 'points' });
    // The last measured point stands in both parts, so that the two lines meet.
    if (i >= continuedFrom - 1) rows.push({ ...row, part: 'continued' });
  }
  return rows;
}

function maximumRow(
  series: CurveSeries,
  parameters: Partial<Record<ParameterName, number | undefined>> | undefined,
): MaximumRow[] {
  const { vmp, imp, pmax } = parameters ?? {};
  if (vmp === undefined || imp === undefined || pmax === undefined) return [];
  return [{ series, voltage: round(vmp), current: round(imp), power: round(pmax) }];
}

function describe(sweep: EvaluatedSweep, maxima: readonly MaximumRow[]): string {
  const points = maxima.map(
    (row) =>
      `${row.series} ${row.power.toFixed(0)} W at ${row.voltage.toFixed(1)} V and ${row.current.toFixed(2)} A`,
  );
  const found =
    points.length > 0 ? ` Maximum power points: ${points.join('; ')}.` : ' No maximum power point is known.';
  return `Curves of sweep ${sweepTitle(sweep)}.${found} The table of parameters carries the same numbers.`;
}

/** Sweeps whose deviation of Pmax is known, in reading order; void ones are left out. */
export function campaignChartData(evaluation: Evaluation): CampaignChartData {
  const shown = evaluation.sweeps.filter(
    ({ analysis }) => analysis.deviation.pmax !== undefined && analysis.verdict !== 'void',
  );
  const labels = rowLabels(shown);
  const sweeps = shown.map((sweep, index) => overviewRow(sweep, labels[index]!));
  const limits = shown.flatMap((sweep, index) => {
    const { least, most } = sweep.target.criteria?.limits.pmax ?? {};
    return [least, most].flatMap((limit) =>
      limit === undefined ? [] : [{ sweep: labels[index]!, limit: percent(limit.value) }],
    );
  });
  const counts = verdictOrder.flatMap((verdict) => {
    const count = sweeps.filter((row) => row.verdict === verdict).length;
    return count > 0 ? [`${count} ${verdict}`] : [];
  });
  return {
    sweeps,
    limits,
    description: `Deviation of maximum power from nameplate for ${sweeps.length} sweeps: ${counts.join(', ') || 'none'}. The table of sweeps carries the same numbers.`,
  };
}

const percent = (fraction: number): number => round(fraction * 100);

/** Short and unique: the address; behind it, where the address repeats, the time, and the day where days differ. */
function rowLabels(sweeps: readonly EvaluatedSweep[]): string[] {
  const oneDay = new Set(sweeps.map((sweep) => sweep.time?.slice(0, 10))).size <= 1;
  const times = (sweep: EvaluatedSweep): string => timeText(sweep.time).slice(oneDay ? 11 : 0);
  const repeated = repeats(sweeps.map((sweep) => sweep.address));
  const labels = sweeps.map((sweep) =>
    repeated.has(sweep.address) ? `${sweep.address}, ${times(sweep)}` : sweep.address,
  );
  const still = repeats(labels);
  return labels.map((label, index) => (still.has(label) ? `${label} (${index + 1})` : label));
}

function repeats(texts: readonly string[]): ReadonlySet<string> {
  const seen = new Set<string>();
  return new Set(texts.filter((text) => seen.has(text) || !seen.add(text)));
}

function overviewRow(sweep: EvaluatedSweep, label: string): OverviewRow {
  const { deviation, uncertainty, verdict } = sweep.analysis;
  const value = deviation.pmax!;
  const { symbol } = verdictMark(verdict);
  const row = { id: sweep.id, sweep: label, verdict, symbol, deviation: percent(value) };
  if (Math.abs(row.deviation) > edge) {
    return { ...row, shown: Math.sign(value) * edge, beyond: formatDeviation(value) };
  }
  const expanded = deviationUncertainty(uncertainty.pmax, value);
  const whisker =
    expanded === undefined ? {} : { low: percent(value - expanded), high: percent(value + expanded) };
  return { ...row, shown: row.deviation, beyond: '', ...whisker };
}
