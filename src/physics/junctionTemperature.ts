import { zeroCelsius } from './constants.js';
import { sortedByVoltage } from './curvePoints.js';
import type { IvCurve } from './ivCurve.js';

/** Crystalline silicon cells in series between the terminals, and what else the relation needs. */
export interface JunctionDevice {
  /** Cells in series. */
  readonly cells: number;
  /** Series resistance of the device, ohm. */
  readonly rs: number;
  /** Temperature coefficient of Isc, A/K; 0 where it is not known. */
  readonly alpha: number;
  /** Ideality factor n of the junctions; 1 unless known. */
  readonly ideality?: number;
}

/** Eg/q of crystalline silicon in this relation, V a cell: it stands for the band gap and the T³ of the saturation current. */
export const siliconJunctionVoltage = 1.232;

/**
 * A curve of crystalline silicon moved from one cell temperature to another (degC) at the same irradiance, without knowing
 * beta or kappa: at a given current below Isc every junction follows
 *
 *     dV/dT = (V + I Rs - n Ns Eg/q) / T
 *
 * Y. Hishikawa et al., Voltage-dependent temperature coefficient of the I-V curves of crystalline silicon photovoltaic
 * modules, IEEE J. Photovoltaics 8 (2018) 48-53; relation and Eg/q = 1.232 V from memory, not confirmed. Integrated, V + I Rs
 * moves away from n Ns Eg/q in proportion to the absolute temperature; currents are shifted by alpha dT.
 * Good to about 1 % of Voc and Pmax over 30 K where n is known, to 2.5 % with n = 1 (see the tests). Not for thin films.
 */
export function translateByJunctionTemperature(
  curve: IvCurve,
  fromTemperature: number,
  toTemperature: number,
  device: JunctionDevice,
): IvCurve {
  const limit = (device.ideality ?? 1) * device.cells * siliconJunctionVoltage;
  const ratio = (toTemperature + zeroCelsius) / (fromTemperature + zeroCelsius);
  const shift = device.alpha * (toTemperature - fromTemperature);
  const current = curve.current.map((i) => i + shift);
  const voltage = curve.voltage.map((v, k) => {
    const junction = v + curve.current[k]! * device.rs;
    return limit + (junction - limit) * ratio - current[k]! * device.rs;
  });
  return sortedByVoltage({ voltage, current });
}
