/**
 * Single-diode curves through the three points of a nameplate. For a given thermal voltage a and series resistance the
 * equations of short circuit, maximum power point and open circuit are linear in IL, I0 and 1/Rsh; the remaining one,
 * dP/dV = 0 at the maximum power point, then fixes Rs.
 */
import type { SingleDiode } from './singleDiode.js';

export interface NameplatePoints {
  readonly isc: number;
  readonly voc: number;
  readonly imp: number;
  readonly vmp: number;
}

/** Rounds of halving: enough for the last digit. */
const halvings = 56;

interface LinearSolution {
  /** I0 exp(Voc/a), A: the saturation current scaled so that it never underflows on the way. */
  readonly scaledSaturation: number;
  /** 1/Rsh, S. */
  readonly conductance: number;
  /** (Imp - g (Vmp - Imp Rs))/Imp, zero where dP/dV = 0. Falls as Rs grows. */
  readonly slopeResidual: number;
}

function solveLinear(points: NameplatePoints, a: number, rs: number): LinearSolution {
  const { isc, voc, imp, vmp } = points;
  const diodeAtMaximum = Math.exp((vmp + imp * rs - voc) / a);
  // Isc = p J + q G and Imp = r J + s G, each with the open circuit equation taken off.
  const p = -Math.expm1((isc * rs - voc) / a);
  const q = voc - isc * rs;
  const r = 1 - diodeAtMaximum;
  const s = voc - vmp - imp * rs;
  const determinant = p * s - q * r;
  const scaledSaturation = (isc * s - imp * q) / determinant;
  const conductance = (p * imp - r * isc) / determinant;
  const junction = (scaledSaturation / a) * diodeAtMaximum + conductance;
  return { scaledSaturation, conductance, slopeResidual: 1 - (junction * (vmp - imp * rs)) / imp };
}

/**
 * The curve of thermal voltage `a` (V) through the three points with its maximum at the middle one. Undefined where that
 * needs a negative resistance: `a` is then too large. A smaller `a` has larger losses in both resistances, so the curves
 * that exist are those below some limit, provided that Imp > Isc/2 and Vmp > Voc/2.
 */
export function curveThroughPoints(points: NameplatePoints, a: number): SingleDiode | undefined {
  const { voc, vmp, imp } = points;
  if (!(solveLinear(points, a, 0).slopeResidual >= 0)) return undefined;
  let low = 0;
  let high = (voc - vmp) / imp;
  for (let round = 0; round < halvings; round++) {
    const middle = (low + high) / 2;
    if (solveLinear(points, a, middle).slopeResidual > 0) low = middle;
    else high = middle;
  }
  const rs = low;
  const { scaledSaturation, conductance } = solveLinear(points, a, rs);
  const saturationCurrent = scaledSaturation * Math.exp(-voc / a);
  if (!(conductance >= 0) || !(saturationCurrent > 0)) return undefined;
  return {
    photocurrent: -Math.expm1(-voc / a) * scaledSaturation + voc * conductance,
    saturationCurrent,
    seriesResistance: rs,
    shuntResistance: 1 / conductance,
    thermalVoltage: a,
  };
}

/** The largest thermal voltage (V) up to `from` that has a curve through the points, or undefined. */
export function largestThermalVoltage(points: NameplatePoints, from: number): number | undefined {
  if (curveThroughPoints(points, from)) return from;
  let high = from;
  let low = from / 2;
  // exp(-Voc/a) must stay a number.
  while (!curveThroughPoints(points, low)) {
    high = low;
    low /= 2;
    if (points.voc / low > 600) return undefined;
  }
  for (let round = 0; round < 30; round++) {
    const middle = (low + high) / 2;
    if (curveThroughPoints(points, middle)) low = middle;
    else high = middle;
  }
  return low;
}
