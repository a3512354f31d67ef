import type { Conditions } from './ivCurve.js';
import type { CurvePoint } from './translation.js';

/** What procedure 2 of the 2009 edition rests on beside the point. */
export interface Procedure2Edition2009 {
  /** Voc of the measured curve, V. */
  readonly voc: number;
  readonly from: Conditions;
  readonly to: Conditions;
  /** Relative coefficients, 1/K. */
  readonly alphaRel: number;
  readonly betaRel: number;
  /** Irradiance factor of Voc, dimensionless. */
  readonly a: number;
  /** Rs' in ohm, kappa' in ohm/K. */
  readonly rs: number;
  readonly kappa: number;
}

/**
 * Procedure 2 of IEC 60891:2009, as published in MATLAB_PV_LIB (`pvl_translate_IV_curve_IEC60891_2.m`):
 *
 *     I2 = I1 (1 + alpha_rel dT) G2/G1
 *     V2 = V1 + Voc1 (beta_rel dT + a ln(G2/G1)) - Rs' (I2 - I1) - kappa' I2 dT
 *
 * For comparison with older results only: beta_rel, when taken from Voc at STC, falls short with Voc1 as its multiplier, by
 * 1 % of Voc over 25 K.
 */
export function translatePointByProcedure2Edition2009(
  point: CurvePoint,
  task: Procedure2Edition2009,
): CurvePoint {
  const { voc, from, to, alphaRel, betaRel, a, rs, kappa } = task;
  const dT = to.cellTemperature - from.cellTemperature;
  const ratio = to.irradiance / from.irradiance;
  const current = point.current * (1 + alphaRel * dT) * ratio;
  return {
    current,
    voltage:
      point.voltage +
      voc * (betaRel * dT + a * Math.log(ratio)) -
      rs * (current - point.current) -
      kappa * current * dT,
  };
}
