/**
 * Translation of measured I-V curves to other conditions, IEC 60891. Everything is linear in the point, so a whole curve
 * costs a few operations a point. Index 1 is measured, index 2 is wanted.
 */
import type { Conditions, IvCurve } from './ivCurve.js';
import { irradianceFactor, type DeviceCoefficients } from './deviceCoefficients.js';
import { sortedByVoltage } from './curvePoints.js';

/** One point of a curve: V and A. */
export interface CurvePoint {
  readonly voltage: number;
  readonly current: number;
}

/** What procedure 1 rests on beside the point. Irradiances must be above zero. */
export interface TranslationTask {
  /** Isc of the measured curve at `from`, A. Procedure 2 does not need it. */
  readonly isc: number;
  readonly from: Conditions;
  readonly to: Conditions;
  readonly coefficients: DeviceCoefficients;
}

/**
 * Procedure 1:
 *
 *     I2 = I1 + Isc1 (G2/G1 - 1) + alpha dT
 *     V2 = V1 - Rs (I2 - I1) - kappa I2 dT + beta dT,   dT = T2 - T1
 *
 * IEC 60891 (2009), procedure 1; the same form in the 2021 edition is from memory, not confirmed against the standard.
 */
export function translatePointByProcedure1(point: CurvePoint, task: TranslationTask): CurvePoint {
  const { isc, from, to, coefficients: c } = task;
  const dT = to.cellTemperature - from.cellTemperature;
  const shift = isc * (to.irradiance / from.irradiance - 1) + c.alpha * dT;
  const current = point.current + shift;
  return { current, voltage: point.voltage - c.rs * shift - c.kappa * current * dT + c.beta * dT };
}

/** The measured point that procedure 1 moves to `point`: the exact inverse of `translatePointByProcedure1`. */
export function untranslatePointByProcedure1(point: CurvePoint, task: TranslationTask): CurvePoint {
  const { isc, from, to, coefficients: c } = task;
  const dT = to.cellTemperature - from.cellTemperature;
  const shift = isc * (to.irradiance / from.irradiance - 1) + c.alpha * dT;
  return {
    current: point.current - shift,
    voltage: point.voltage + c.rs * shift + c.kappa * point.current * dT - c.beta * dT,
  };
}

/**
 * Procedure 2, edition of 2021, from memory, not confirmed against the standard:
 *
 *     I2 = I1 (G2/G1) (1 + alpha_rel (T2 - 25)) / (1 + alpha_rel (T1 - 25))
 *     V2 = V1 - Rs1' (I2 - I1) - kappa' I2 dT
 *          + Voc,STC { beta_rel [f(G2) (T2 - 25) - f(G1) (T1 - 25)] + 1/f(G2) - 1/f(G1) }
 *     f(G) = 1 + B1 ln(1000/G) + B2 ln²(1000/G),   Rs1' = Rs' + kappa' (T1 - 25)
 *
 * With Rs' counted at 25 degC the way there and back returns to the same point, exactly. The term kappa' (T1 - 25) in Rs1' is
 * the least certain of what is remembered. Where kappa' is not a temperature coefficient of a resistance, as in the single-diode
 * model with constant Rs, it lowers Pmax at STC by 0.3 % from 800 W/m2 and 55 degC (see tests/accuracy).
 */
export function translatePointByProcedure2(point: CurvePoint, task: TranslationTask): CurvePoint {
  const p = procedure2Terms(task);
  const current = point.current * p.currentFactor;
  return {
    current,
    voltage: point.voltage - p.rs1 * (current - point.current) - p.kappaDT * current + p.voltageShift,
  };
}

/** The measured point that procedure 2 moves to `point`: the exact inverse of `translatePointByProcedure2`. */
export function untranslatePointByProcedure2(point: CurvePoint, task: TranslationTask): CurvePoint {
  const p = procedure2Terms(task);
  const current = point.current / p.currentFactor;
  return {
    current,
    voltage: point.voltage + p.rs1 * (point.current - current) + p.kappaDT * point.current - p.voltageShift,
  };
}

function procedure2Terms({ from, to, coefficients: c }: TranslationTask) {
  const t1 = from.cellTemperature - 25;
  const t2 = to.cellTemperature - 25;
  const alphaRel = c.alpha / c.isc;
  const f1 = irradianceFactor(c, from.irradiance);
  const f2 = irradianceFactor(c, to.irradiance);
  return {
    currentFactor: ((to.irradiance / from.irradiance) * (1 + alphaRel * t2)) / (1 + alphaRel * t1),
    rs1: c.rs + c.kappa * t1,
    kappaDT: c.kappa * (t2 - t1),
    voltageShift: c.beta * (f2 * t2 - f1 * t1) + c.voc * (1 / f2 - 1 / f1),
  };
}

/**
 * The curve at `to` by procedure 1. `isc1` is Isc of the measured curve at `from.irradiance`.
 *
 * `pointIrradiance` (W/m2, one for each point of `curve`) corrects a drift during the sweep point by point: each point is
 * translated from its own irradiance Gp, with Isc scaled to it, Isc1 Gp/G1. Then `isc1` must still be Isc at
 * `from.irradiance`, not at the irradiance of the moment when the sweep passed V = 0.
 *
 * The result has as many points, sorted by ascending voltage: noise can make neighbours swap places when the voltage moves
 * with the current. Nothing is dropped or smoothed, and current need not fall from point to point. A number that is not
 * finite, or an irradiance of zero, gives points that are not finite.
 */
export function translateByProcedure1(
  curve: IvCurve,
  isc1: number,
  from: Conditions,
  to: Conditions,
  coefficients: DeviceCoefficients,
  pointIrradiance?: Float64Array,
): IvCurve {
  return translateCurve(curve, from, pointIrradiance, (point, pointFrom) =>
    translatePointByProcedure1(point, {
      isc: (isc1 * pointFrom.irradiance) / from.irradiance,
      from: pointFrom,
      to,
      coefficients,
    }),
  );
}

/**
 * The curve at `to` by procedure 2, edition of 2021, from memory, not confirmed against the standard. Order of points and
 * `pointIrradiance` as in `translateByProcedure1`.
 */
export function translateByProcedure2(
  curve: IvCurve,
  from: Conditions,
  to: Conditions,
  coefficients: DeviceCoefficients,
  pointIrradiance?: Float64Array,
): IvCurve {
  return translateCurve(curve, from, pointIrradiance, (point, pointFrom) =>
    translatePointByProcedure2(point, { isc: coefficients.isc, from: pointFrom, to, coefficients }),
  );
}

function translateCurve(
  curve: IvCurve,
  from: Conditions,
  pointIrradiance: Float64Array | undefined,
  translate: (point: CurvePoint, from: Conditions) => CurvePoint,
): IvCurve {
  const voltage = new Float64Array(curve.voltage.length);
  const current = new Float64Array(curve.voltage.length);
  for (let k = 0; k < voltage.length; k++) {
    const point = { voltage: curve.voltage[k]!, current: curve.current[k]! };
    const pointFrom = pointIrradiance ? { ...from, irradiance: pointIrradiance[k]! } : from;
    const moved = translate(point, pointFrom);
    voltage[k] = moved.voltage;
    current[k] = moved.current;
  }
  return sortedByVoltage({ voltage, current });
}
