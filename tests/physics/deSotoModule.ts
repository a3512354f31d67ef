/**
 * Exact curves to hold the translation against: the auxiliary equations of De Soto, Klein, Beckman, Solar Energy 80 (2006)
 * 78-88, written out here apart from the project's own model of them, with parameters of the CEC module table.
 */
import type { Conditions, IvCurve } from '../../src/physics/ivCurve.js';
import {
  characteristicPoints,
  pointAt,
  voltageAtCurrent,
  type CharacteristicPoints,
  type SingleDiode,
} from '../../src/physics/singleDiode.js';
import { readTable } from './checkData.js';

export interface DeSotoModule {
  readonly name: string;
  readonly alpha: number;
  readonly reference: SingleDiode;
}

const table = readTable('cec-modules-2017-06-05.csv');

/** A row of the module table, `row 1` and so on. */
export function deSotoModule(name: string): DeSotoModule {
  const row = table.find((each) => each['Name'] === name)!;
  return {
    name,
    alpha: Number(row['alpha_sc']),
    reference: {
      photocurrent: Number(row['I_L_ref']),
      saturationCurrent: Number(row['I_o_ref']),
      seriesResistance: Number(row['R_s']),
      shuntResistance: Number(row['R_sh_ref']),
      thermalVoltage: Number(row['a_ref']),
    },
  };
}

/** The module at other conditions; every entry of the table was made with the band gap of silicon. */
export function atConditions(module: DeSotoModule, to: Conditions): SingleDiode {
  const { reference: r, alpha } = module;
  const k = 8.617333262e-5;
  const tRef = 298.15;
  const t = to.cellTemperature + 273.15;
  const gap = 1.121 * (1 - 0.0002677 * (t - tRef));
  return {
    photocurrent: (to.irradiance / 1000) * (r.photocurrent + alpha * (t - tRef)),
    saturationCurrent: r.saturationCurrent * (t / tRef) ** 3 * Math.exp(1.121 / (k * tRef) - gap / (k * t)),
    seriesResistance: r.seriesResistance,
    shuntResistance: (r.shuntResistance * 1000) / to.irradiance,
    thermalVoltage: (r.thermalVoltage * t) / tRef,
  };
}

/** Points exactly on the curve, well beyond both axes, so that no translation runs out of them. */
export function wideCurve(model: SingleDiode, points = 1000): IvCurve {
  const voc = voltageAtCurrent(model, 0);
  const at = Array.from({ length: points }, (_, k) =>
    pointAt(model, voc * (-0.15 + (1.3 * k) / (points - 1))),
  );
  return {
    voltage: Float64Array.from(at, (point) => point.voltage),
    current: Float64Array.from(at, (point) => point.current),
  };
}

/** Isc, Voc and the maximum of a smooth, dense curve that crosses both axes, by three-point interpolation. */
export function pointsOfSmoothCurve(curve: IvCurve): CharacteristicPoints {
  const { voltage, current } = curve;
  const isc = crossing(voltage, current);
  const voc = crossing(current, voltage);
  let best = 0;
  for (let k = 0; k < voltage.length; k++) {
    if (voltage[k]! * current[k]! > voltage[best]! * current[best]!) best = k;
  }
  const [left, middle, right] = [best - 1, best, best + 1].map((k) => voltage[k]!) as [
    number,
    number,
    number,
  ];
  const power = (k: number): number => voltage[k]! * current[k]!;
  const d1 = (power(best) - power(best - 1)) / (middle - left);
  const d2 = (power(best + 1) - power(best)) / (right - middle);
  const bend = (d2 - d1) / (right - left);
  const slope = d1 + bend * (middle - left);
  const step = -slope / (2 * bend);
  const pmax = power(best) + (slope * step) / 2;
  const vmp = middle + step;
  return { isc, voc, imp: pmax / vmp, vmp, pmax, ff: pmax / (isc * voc) };
}

/** Value of `y` where `x` passes zero, by a parabola through three neighbours. */
function crossing(x: Float64Array, y: Float64Array): number {
  let k = 1;
  while (k < x.length - 2 && x[k]! * x[k - 1]! > 0) k++;
  const [a, b, c] = [k - 1, k, k + 1] as const;
  const term = (i: number, j: number, l: number): number =>
    (y[i]! * x[j]! * x[l]!) / ((x[i]! - x[j]!) * (x[i]! - x[l]!));
  return term(a, b, c) + term(b, a, c) + term(c, a, b);
}

export { characteristicPoints };
