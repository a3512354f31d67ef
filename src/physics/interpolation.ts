/** Interpolation between measured curves, procedure 3 of IEC 60891. It needs no coefficients, only curves. */
import type { Conditions, IvCurve } from './ivCurve.js';
import { sortedByVoltage } from './curvePoints.js';
import { pick } from './numbersOf.js';

/** A curve with its conditions and its Isc (A). */
export interface CurveAt {
  readonly curve: IvCurve;
  readonly isc: number;
  readonly conditions: Conditions;
}

/**
 * The fraction a that leads from `first` to `second` and on to the irradiance of `to`; where both have the same irradiance, to
 * its temperature. Below 0 or above 1 it extrapolates. Undefined where the two curves do not differ in what is asked.
 */
export function interpolationFraction(
  first: Conditions,
  second: Conditions,
  to: Conditions,
): number | undefined {
  const irradianceStep = second.irradiance - first.irradiance;
  if (irradianceStep !== 0) return (to.irradiance - first.irradiance) / irradianceStep;
  const temperatureStep = second.cellTemperature - first.cellTemperature;
  if (temperatureStep !== 0) return (to.cellTemperature - first.cellTemperature) / temperatureStep;
  return undefined;
}

/**
 * Procedure 3, from memory, not confirmed against the standard:
 *
 *     I3 = I1 + a (I2 - I1),  V3 = V1 + a (V2 - V1),   pairs chosen with I2 - I1 = Isc2 - Isc1
 *     G3 = G1 + a (G2 - G1),  T3 = T1 + a (T2 - T1)
 *
 * Each point of the first curve meets the second curve between two of its points; points of the first curve without such a
 * partner are left out. Irradiance and temperature cannot be chosen apart from each other with two curves; with three, the
 * result of two is interpolated with the third. Extrapolation far beyond the two distorts the curve (Xu et al., Prog.
 * Photovolt. 2023, DOI 10.1002/pip.3702).
 */
export function interpolateByProcedure3(first: CurveAt, second: CurveAt, a: number): CurveAt {
  const partner = byCurrent(second.curve);
  const shift = second.isc - first.isc;
  const voltage: number[] = [];
  const current: number[] = [];
  first.curve.voltage.forEach((v1, k) => {
    const i1 = first.curve.current[k]!;
    const v2 = voltageAt(partner, i1 + shift);
    if (v2 === undefined) return;
    voltage.push(v1 + a * (v2 - v1));
    current.push(i1 + a * shift);
  });
  const between = (one: number, other: number): number => one + a * (other - one);
  return {
    curve: sortedByVoltage({ voltage: Float64Array.from(voltage), current: Float64Array.from(current) }),
    isc: between(first.isc, second.isc),
    conditions: {
      irradiance: between(first.conditions.irradiance, second.conditions.irradiance),
      cellTemperature: between(first.conditions.cellTemperature, second.conditions.cellTemperature),
    },
  };
}

/** The points by ascending current. */
function byCurrent({ voltage, current }: IvCurve): IvCurve {
  const order = Array.from(current.keys()).sort(
    (a, b) => current[a]! - current[b]! || voltage[b]! - voltage[a]!,
  );
  return {
    voltage: pick(voltage, order),
    current: pick(current, order),
  };
}

/** Voltage at a current by linear interpolation; undefined beyond the ends. */
function voltageAt({ voltage, current }: IvCurve, wanted: number): number | undefined {
  let low = 0;
  let high = current.length - 1;
  if (!(wanted >= current[low]! && wanted <= current[high]!)) return undefined;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (current[middle]! <= wanted) low = middle;
    else high = middle;
  }
  const step = current[high]! - current[low]!;
  const share = step === 0 ? 0 : (wanted - current[low]!) / step;
  return voltage[low]! + share * (voltage[high]! - voltage[low]!);
}
