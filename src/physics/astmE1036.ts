/**
 * Curve parameters by the recipe of ASTM E1036-15 (2019) as implemented in pvlib `ivtools.utils.astm_e1036`: plain
 * polynomials, no weights. It serves as a check on the project's own method and as an option where a report has to name
 * that practice. The text of ASTM E1036 was not read.
 */
import { unknownParameters, type CurveParameters, type IvCurve } from './ivCurve.js';
import { fitRobustly, polynomialDesign } from './leastSquares.js';
import { maximumOf } from './maximumPower.js';
import { numbersOf, pick, placesWhere } from './numbersOf.js';

export interface AstmE1036Options {
  /** Least and most current in the window, as shares of the sample's at maximum power (0.75, 1.15). */
  readonly currentLimits?: readonly [number, number];
  /** The same for voltage. */
  readonly voltageLimits?: readonly [number, number];
  /** Points of the straight lines at both ends (3). */
  readonly endPoints?: number;
  /** Order of the polynomial of power over voltage (4). */
  readonly order?: number;
}

export function astmE1036Parameters(curve: IvCurve, options: AstmE1036Options = {}): CurveParameters {
  const { voltage, current } = curve;
  if (voltage.length < 3) return unknownParameters;
  const count = options.endPoints ?? 3;
  const nearestVoc = nearestToZero(current);
  const nearestIsc = nearestToZero(voltage);
  const roughVoc = voltage[nearestVoc]!;
  const roughIsc = current[nearestIsc]!;
  const voc =
    Math.abs(current[nearestVoc]!) <= 0.001 * roughIsc
      ? roughVoc
      : interceptNearZero(current, voltage, count);
  const isc =
    Math.abs(voltage[nearestIsc]!) <= 0.005 * roughVoc
      ? roughIsc
      : interceptNearZero(voltage, current, count);
  const maximum = maximumPower(curve, options);
  if (!maximum || isc === undefined || voc === undefined)
    return { ...unknownParameters, isc, voc, ...maximum };
  return { isc, voc, ...maximum, ff: maximum.pmax / (isc * voc) };
}

function nearestToZero(values: Float64Array): number {
  let best = 0;
  for (let k = 1; k < values.length; k++) if (Math.abs(values[k]!) < Math.abs(values[best]!)) best = k;
  return best;
}

/** Straight line of y over x through the `count` points nearest to x = 0, read at x = 0. */
function interceptNearZero(x: Float64Array, y: Float64Array, count: number): number | undefined {
  const nearest = Array.from(x.keys())
    .sort((a, b) => Math.abs(x[a]!) - Math.abs(x[b]!))
    .slice(0, count);
  const design = polynomialDesign(pick(x, nearest), 1);
  return fitRobustly(design, 2, pick(y, nearest), undefined, 1)?.coefficients[0];
}

function maximumPower(
  { voltage, current }: IvCurve,
  options: AstmE1036Options,
): { imp: number; vmp: number; pmax: number } | undefined {
  let best = 0;
  for (let k = 1; k < voltage.length; k++) {
    if (voltage[k]! * current[k]! > voltage[best]! * current[best]!) best = k;
  }
  const [vLow, vHigh] = options.voltageLimits ?? [0.75, 1.15];
  const [iLow, iHigh] = options.currentLimits ?? [0.75, 1.15];
  const vBest = voltage[best]!;
  const iBest = current[best]!;
  const chosen = placesWhere(voltage.length, (k) => {
    const v = voltage[k]! / vBest;
    const i = current[k]! / iBest;
    return v > vLow && v < vHigh && i > iLow && i < iHigh;
  });
  const order = options.order ?? 4;
  if (chosen.length <= order) return undefined;
  const from = voltage[chosen[0]!]!;
  const to = voltage[chosen.at(-1)!]!;
  const middle = (from + to) / 2;
  const scale = (to - from) / 2;
  const x = numbersOf(chosen, (k) => (voltage[k]! - middle) / scale);
  const power = numbersOf(chosen, (k) => voltage[k]! * current[k]!);
  const fit = fitRobustly(polynomialDesign(x, order), order + 1, power, undefined, 1);
  if (!fit) return undefined;
  const at = maximumOf(fit.coefficients, -1, 1);
  const vmp = middle + at * scale;
  const pmax = fit.coefficients.reduceRight((sum, coefficient) => sum * at + coefficient, 0);
  return { vmp, imp: pmax / vmp, pmax };
}
