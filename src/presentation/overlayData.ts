import type { IvCurve } from '../physics/ivCurve.js';
import type { EvaluatedSweep } from '../evaluation/evaluation.js';
import { formatToUncertainty, formatValue } from './formatNumber.js';
import type { OverlayData, OverlayRole, OverlayRow } from './stringTypes.js';

/** A line of an overlay chart. */
export interface OverlayLine {
  readonly name: string;
  readonly role: OverlayRole;
  readonly curve: IvCurve;
  readonly pmax: string;
}

/** A chart of many lines draws no more points of each than this. */
const mostPoints = 160;

const round = (value: number): number => Number(value.toPrecision(6));

export function overlayData(lines: readonly OverlayLine[], what: string): OverlayData {
  return {
    rows: lines.flatMap(rowsOf),
    series: lines.map(({ name, role, pmax }) => ({ name, role, pmax })),
    description: lines.length === 0 ? '' : `${what}: ${lines.map(overlayLineText).join('; ')}.`,
  };
}

export const overlayLineText = ({ name, pmax }: Pick<OverlayLine, 'name' | 'pmax'>): string =>
  `${name}, Pmax ${pmax}`;

function rowsOf({ name, role, curve }: OverlayLine): OverlayRow[] {
  const { voltage, current } = curve;
  const step = Math.max(1, Math.ceil(voltage.length / mostPoints));
  return Array.from(voltage, (_, k) => k)
    .filter((k) => k % step === 0 || k === voltage.length - 1)
    .map((k) => ({ series: name, role, voltage: round(voltage[k]!), current: round(current[k]!) }));
}

/** A sweep at STC; nothing where it could not be translated. */
export function sweepLine(sweep: EvaluatedSweep, name: string): OverlayLine[] {
  const { translated, uncertainty, verdict } = sweep.analysis;
  if (!translated) return [];
  const pmax = formatToUncertainty(translated.parameters.pmax, uncertainty.pmax, 'W');
  return [{ name, role: roleOf(verdict), curve: translated.curve, pmax }];
}

function roleOf(verdict: EvaluatedSweep['analysis']['verdict']): OverlayRole {
  if (verdict === 'pass' || verdict === 'conditional pass') return 'passed';
  return verdict === 'fail' || verdict === 'conditional fail' ? 'failed' : 'other';
}

/** The nameplate of the device that a sweep was taken on. */
export function nameplateLine({ analysis }: EvaluatedSweep): OverlayLine[] {
  const { expected, nameplate } = analysis;
  if (!expected) return [];
  return [{ name: 'nameplate', role: 'nameplate', curve: expected, pmax: formatValue(nameplate?.pmax, 'W') }];
}
