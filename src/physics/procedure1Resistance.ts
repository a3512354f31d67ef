/**
 * Rs of procedure 1, IEC 60891, where the five-parameter model of a device is known.
 *
 * The procedure has one Rs for the whole curve. A shunt that weakens with irradiance asks for a large Rs at the maximum
 * (`estimateRs`) and for about that of the diode at open circuit, so every Rs leaves something over. The standard has Rs
 * found so that the translated curves agree in Pmax within 0.5 % (from memory, not confirmed); here that tolerance is
 * shared with Voc: the Rs whose largest error, each as a share of its limit, is the least. Where no Rs keeps all limits, those
 * of Pmax come first.
 */
import { estimateKappa, estimateRs } from './deviceCoefficients.js';
import { leastArgument } from './goldenSection.js';
import { standardTestConditions, type Conditions } from './ivCurve.js';
import { atConditions, type DiodeReference } from './nameplateModel.js';
import { characteristicPoints, pointAt, voltageAtCurrent, type SingleDiode } from './singleDiode.js';

export interface Procedure1Resistance {
  /** Ohm, of the device of the model. */
  readonly rs: number;
  /** The largest error as a share of its limit, with the Rs that makes it least. Above 1 no Rs keeps all limits. */
  readonly share: number;
}

/** Largest errors asked for, as fractions, of a translation to STC by procedure 1 (own choice). */
export const procedure1Limits = { pmax: 0.005, voc: 0.003, pmaxFar: 0.01 } as const;

interface Corner extends Conditions {
  readonly limits: { readonly pmax: number; readonly voc?: number };
}

const { pmax, voc, pmaxFar } = procedure1Limits;

/** The corners of the range: errors grow to its edges. */
const corners: readonly Corner[] = [
  { irradiance: 800, cellTemperature: 10, limits: { pmax, voc } },
  { irradiance: 800, cellTemperature: 55, limits: { pmax, voc } },
  { irradiance: 1100, cellTemperature: 10, limits: { pmax, voc } },
  { irradiance: 1100, cellTemperature: 55, limits: { pmax, voc } },
  { irradiance: 450, cellTemperature: 10, limits: { pmax: pmaxFar } },
  { irradiance: 450, cellTemperature: 65, limits: { pmax: pmaxFar } },
];

/** Undefined where the model gives no finite answer. Takes about half a millisecond; callers keep the result. */
export function resistanceOfProcedure1(reference: DiodeReference): Procedure1Resistance | undefined {
  const { model } = reference;
  const at = (irradiance: number, cellTemperature: number) =>
    characteristicPoints(atConditions(reference, { irradiance, cellTemperature }));
  const stc = at(1000, 25);
  const perKelvin = (key: 'isc' | 'voc' | 'pmax'): number => at(1000, 25.5)[key] - at(1000, 24.5)[key];
  const known = { ...stc, alpha: perKelvin('isc'), beta: perKelvin('voc'), gamma: perKelvin('pmax') };
  const measured = corners.map((corner) => measuredAt(reference, corner));
  const sharesOf = (rs: number): Shares => {
    const coefficients = { alpha: known.alpha, beta: known.beta, rs, kappa: estimateKappa({ ...known, rs }) };
    const shares = measured.map((curve) => sharesAt(curve, coefficients, stc));
    return {
      pmax: Math.max(...shares.map((each) => each.pmax)),
      voc: Math.max(...shares.map((each) => each.voc)),
    };
  };
  const largest = (rs: number): number => Math.max(...Object.values(sharesOf(rs)));
  const atMaximum = estimateRs({
    ...stc,
    photocurrent: model.photocurrent,
    rs: model.seriesResistance,
    rsh: model.shuntResistance,
    a: model.thermalVoltage,
  });
  const ends = [model.seriesResistance, atMaximum];
  const [from, to] = [Math.max(0, Math.min(...ends)), Math.max(...ends)];
  const best = leastArgument(largest, from, to);
  const share = largest(best);
  if (!Number.isFinite(share)) return undefined;
  if (share <= 1) return { rs: best, share };
  const pmaxFirst = (rs: number): number => {
    const shares = sharesOf(rs);
    return Math.max(1, shares.pmax) + 1e-3 * shares.voc;
  };
  return { rs: leastArgument(pmaxFirst, from, to), share };
}

/** Largest errors of Pmax and Voc as shares of their limits. */
interface Shares {
  readonly pmax: number;
  readonly voc: number;
}

interface MeasuredCorner {
  readonly corner: Corner;
  readonly model: SingleDiode;
  readonly isc: number;
}

function measuredAt(reference: DiodeReference, corner: Corner): MeasuredCorner {
  const model = atConditions(reference, corner);
  return { corner, model, isc: characteristicPoints(model).isc };
}

/** Errors of Pmax and Voc after procedure 1 from one corner. */
function sharesAt(
  { corner, model, isc }: MeasuredCorner,
  c: { readonly alpha: number; readonly beta: number; readonly rs: number; readonly kappa: number },
  stc: { readonly pmax: number; readonly voc: number },
): Shares {
  const dT = standardTestConditions.cellTemperature - corner.cellTemperature;
  const shift = isc * (standardTestConditions.irradiance / corner.irradiance - 1) + c.alpha * dT;
  const offset = c.beta * dT - c.rs * shift;
  // What the translated curve has at I = 0 was measured at I = -shift.
  const end = voltageAtCurrent(model, -shift);
  const powerAt = (diodeVoltage: number): number => {
    const { voltage, current } = pointAt(model, diodeVoltage);
    const moved = current + shift;
    return moved * (voltage + offset - c.kappa * moved * dT);
  };
  const diodeEnd = end - shift * model.seriesResistance;
  const power = powerAt(leastArgument((x) => -powerAt(x), 0.6 * diodeEnd, diodeEnd));
  const { limits } = corner;
  return {
    pmax: Math.abs(power / stc.pmax - 1) / limits.pmax,
    voc: limits.voc === undefined ? 0 : Math.abs((end + offset) / stc.voc - 1) / limits.voc,
  };
}
