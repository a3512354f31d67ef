/**
 * Curve parameters from the points of an I-V curve: Isc, Voc, Pmax with Imp and Vmp, FF, the slopes at both ends, and what
 * was found on the way. Each comes from a robust fit of the part of the curve it belongs to, never from one sample.
 */
import { unknownParameters, type CurveParameters, type IvCurve } from './ivCurve.js';
import { findLandmarks, type Landmarks } from './landmarks.js';
import { fitMaximumPower, type MaximumPower } from './maximumPower.js';
import { fitOpenCircuit, type OpenCircuit } from './openCircuit.js';
import { fitShortCircuit, type ShortCircuit } from './shortCircuit.js';
import { asOneDevice } from './oneDevice.js';
import { sweepPoints, type SweepPoints } from './sweepPoints.js';

export { astmE1036Parameters } from './astmE1036.js';
export { continueToOpenCircuit, type ContinuedCurve } from './continueToOpenCircuit.js';

export type CurveFinding =
  /** Voc lies `by` volts beyond the last point. */
  | { readonly code: 'voc-extrapolated'; readonly by: number }
  /** The sweep stops at `lastCurrent` (A), more than half of Isc: Voc is not told. */
  | { readonly code: 'voc-refused'; readonly lastCurrent: number }
  /** V = 0 lies `by` volts below the first point. */
  | { readonly code: 'isc-extrapolated'; readonly by: number }
  /** The sweep begins at `firstVoltage` (V), beyond half of Vmp: Isc is not told. */
  | { readonly code: 'isc-refused'; readonly firstVoltage: number }
  /** Power still rises at the last point, or has hardly begun to fall. */
  | { readonly code: 'stops-before-maximum'; readonly lastVoltage: number }
  /** Power falls from the first point on. */
  | { readonly code: 'starts-after-maximum'; readonly firstVoltage: number }
  /** Points far from the curve that no fit used. */
  | { readonly code: 'outliers-set-aside'; readonly count: number }
  /** Points within 75 to 115 % of Imp and Vmp, fewer than five. */
  | { readonly code: 'few-points-around-maximum'; readonly count: number }
  /** Fewer than six different voltages. */
  | { readonly code: 'too-few-points'; readonly count: number }
  /** Voltage or current is the same throughout, or no point generates power. */
  | { readonly code: 'no-variation' }
  /** The curve has steps; Pmax is that of the largest maximum. */
  | { readonly code: 'several-maxima'; readonly count: number };

export interface ExtractedParameters {
  readonly parameters: CurveParameters;
  /** -dI/dV at V = 0, S. */
  readonly slopeAtIsc: number | undefined;
  /** -dV/dI at I = 0, ohm. */
  readonly slopeAtVoc: number | undefined;
  /** Robust standard deviation of the current around the fit near the maximum, A. */
  readonly noise: number | undefined;
  /** Standard errors (k = 1) from the scatter of the points alone, in the units of the parameters. */
  readonly standardErrors: Partial<Record<'isc' | 'voc' | 'imp' | 'vmp' | 'pmax', number>>;
  readonly findings: readonly CurveFinding[];
}

/** Fewer different voltages than this carry no curve. */
export const leastPoints = 6;

/** The sweep must fall below this share of the maximum power on both sides of it. */
const shoulder = 0.985;

export function extractParameters(curve: IvCurve): ExtractedParameters {
  const raw = sweepPoints(curve);
  const count = raw.voltage.length;
  if (count >= 1 && !varies(raw)) return empty([{ code: 'no-variation' }]);
  if (count < leastPoints) return empty([{ code: 'too-few-points', count }]);
  const sighted = findLandmarks(raw);
  if (!sighted) return empty([{ code: 'no-variation' }]);
  const device = asOneDevice(raw, sighted);
  const points = device?.points ?? raw;
  const landmarks = device ? withoutSteps(findLandmarks(points) ?? sighted) : sighted;

  const findings: CurveFinding[] = [];
  const missed = missesMaximum(points, landmarks);
  if (missed) findings.push(missed);
  if (landmarks.maxima > 1) findings.push({ code: 'several-maxima', count: landmarks.maxima });
  const maximum = missed ? undefined : fitMaximumPower(points, landmarks, device);
  if (maximum && maximum.pointsAround < 5) {
    findings.push({ code: 'few-points-around-maximum', count: maximum.pointsAround });
  }
  const short = fitShortCircuit(points, landmarks, device?.trend);
  findings.push(...findingsAtShortCircuit(short, points));
  const open =
    missed?.code === 'stops-before-maximum'
      ? undefined
      : fitOpenCircuit(points, landmarks, short, device?.trend);
  findings.push(...findingsAtOpenCircuit(open, points));
  const setAside = countWild(points, maximum, open);
  if (setAside > 0) findings.push({ code: 'outliers-set-aside', count: setAside });
  return {
    parameters: assemble(short, open, maximum),
    slopeAtIsc: short.slope,
    slopeAtVoc: open?.slope,
    noise: maximum?.deviation ?? points.noise,
    standardErrors: {
      isc: short.standardError,
      voc: open?.standardError,
      ...maximum?.standardErrors,
    },
    findings,
  };
}

/** What rose and fell in power was wild points, if all others lie on one curve. */
function withoutSteps(landmarks: Landmarks): Landmarks {
  return {
    ...landmarks,
    maxima: 1,
    hollowBefore: undefined,
    hollowAfter: undefined,
    lastPlateau: undefined,
    firstHollowVoltage: undefined,
  };
}

function varies({ voltage, current }: SweepPoints): boolean {
  const first = current[0]!;
  return voltage.length > 1 && current.some((value) => value !== first);
}

function missesMaximum(
  { voltage, smooth }: SweepPoints,
  { maximum, imp, vmp }: Landmarks,
): CurveFinding | undefined {
  const enough = shoulder * imp * vmp;
  const powerAt = (k: number): number => voltage[k]! * smooth[k]!;
  const last = voltage.length - 1;
  let fallsAfter = false;
  for (let k = maximum + 1; k <= last && !fallsAfter; k++) fallsAfter = powerAt(k) < enough;
  if (!fallsAfter) return { code: 'stops-before-maximum', lastVoltage: voltage[last]! };
  let risesBefore = false;
  for (let k = maximum - 1; k >= 0 && !risesBefore; k--) risesBefore = powerAt(k) < enough;
  return risesBefore ? undefined : { code: 'starts-after-maximum', firstVoltage: voltage[0]! };
}

function findingsAtShortCircuit(
  { isc, extrapolatedBy }: ShortCircuit,
  { voltage }: SweepPoints,
): CurveFinding[] {
  if (isc === undefined) return [{ code: 'isc-refused', firstVoltage: voltage[0]! }];
  return extrapolatedBy > 0 ? [{ code: 'isc-extrapolated', by: extrapolatedBy }] : [];
}

function findingsAtOpenCircuit(open: OpenCircuit | undefined, { current }: SweepPoints): CurveFinding[] {
  if (open?.voc === undefined) return [{ code: 'voc-refused', lastCurrent: current.at(-1)! }];
  return open.extrapolatedBy > 0 ? [{ code: 'voc-extrapolated', by: open.extrapolatedBy }] : [];
}

function countWild(
  { wild }: SweepPoints,
  maximum: MaximumPower | undefined,
  open: OpenCircuit | undefined,
): number {
  const aside = new Set([...(maximum?.setAside ?? []), ...(open?.setAside ?? [])]);
  wild.forEach((mark, k) => mark && aside.add(k));
  return aside.size;
}

function assemble(
  { isc }: ShortCircuit,
  open: OpenCircuit | undefined,
  maximum: MaximumPower | undefined,
): CurveParameters {
  const voc = open?.voc;
  const pmax = maximum?.pmax;
  const ff = isc && voc && pmax !== undefined ? pmax / (isc * voc) : undefined;
  return { isc, voc, imp: maximum?.imp, vmp: maximum?.vmp, pmax, ff };
}

function empty(findings: readonly CurveFinding[]): ExtractedParameters {
  return {
    parameters: unknownParameters,
    slopeAtIsc: undefined,
    slopeAtVoc: undefined,
    noise: undefined,
    standardErrors: {},
    findings,
  };
}
