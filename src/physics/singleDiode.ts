/**
 * The single-diode model of a photovoltaic device:
 *
 *     I = IL - I0 (exp((V + I Rs)/a) - 1) - (V + I Rs)/Rsh
 *
 * solved explicitly by Lambert's W (Jain and Kapoor, Solar Energy Materials and Solar Cells 81 (2004) 269-277; from
 * memory, not confirmed; the tests hold the solutions against published high-precision values). All logarithms of
 * arguments, so nothing overflows for strings, for 1 W/m2 or far outside the generating quadrant.
 */
import type { IvCurve } from './ivCurve.js';
import { lambertWOfExp } from './lambertW.js';

/** The five parameters of a cell, module, string or array, as one device. */
export interface SingleDiode {
  /** IL, A, zero or more. */
  readonly photocurrent: number;
  /** I0, A, above zero. */
  readonly saturationCurrent: number;
  /** Rs, ohm, zero or more. */
  readonly seriesResistance: number;
  /** Rsh, ohm, above zero; Infinity for none. */
  readonly shuntResistance: number;
  /** a = n Ns k T / q of the whole device, V, above zero. */
  readonly thermalVoltage: number;
}

/** Curve parameters of a model: each exists. */
export interface CharacteristicPoints {
  readonly isc: number;
  readonly voc: number;
  readonly imp: number;
  readonly vmp: number;
  readonly pmax: number;
  readonly ff: number;
}

/** Current in A at a voltage in V, any sign. */
export function currentAtVoltage(model: SingleDiode, voltage: number): number {
  const { photocurrent, saturationCurrent, seriesResistance: rs, thermalVoltage: a } = model;
  const shuntConductance = 1 / model.shuntResistance;
  if (rs < 1e-200) {
    return photocurrent - saturationCurrent * Math.expm1(voltage / a) - voltage * shuntConductance;
  }
  const divider = 1 + shuntConductance * rs;
  const logArgument =
    Math.log(rs / (a * divider)) +
    Math.log(saturationCurrent) +
    (rs * (photocurrent + saturationCurrent) + voltage) / (a * divider);
  const withoutDiode = (photocurrent + saturationCurrent - voltage * shuntConductance) / divider;
  return withoutDiode - (a / rs) * lambertWOfExp(logArgument);
}

/**
 * Voltage in V at a current in A. Without shunt (above 1e100 ohm) no voltage carries IL + I0 or more: -Infinity.
 */
export function voltageAtCurrent(model: SingleDiode, current: number): number {
  const { saturationCurrent, seriesResistance: rs, shuntResistance: rsh, thermalVoltage: a } = model;
  const available = model.photocurrent + saturationCurrent - current;
  if (rsh > 1e100) {
    return available > 0 ? a * Math.log(available / saturationCurrent) - current * rs : -Infinity;
  }
  const logScale = Math.log((saturationCurrent * rsh) / a);
  const w = lambertWOfExp(logScale + (available * rsh) / a);
  // Two forms of one solution; each is free of cancellation where it is used.
  const diodeVoltage = w > 1 ? a * (Math.log(w) - logScale) : available * rsh - a * w;
  return diodeVoltage - current * rs;
}

/** Isc, Voc and the maximum power point, to about 1e-12 relative. All zero for a dark device. */
export function characteristicPoints(model: SingleDiode): CharacteristicPoints {
  const isc = currentAtVoltage(model, 0);
  const voc = voltageAtCurrent(model, 0);
  if (!(isc > 0) || !(voc > 0)) return { isc: 0, voc: 0, imp: 0, vmp: 0, pmax: 0, ff: 0 };
  const { voltage: vmp, current: imp } = pointAt(model, diodeVoltageOfMaximum(model, isc, voc));
  const pmax = vmp * imp;
  return { isc, voc, imp, vmp, pmax, ff: pmax / (isc * voc) };
}

/** The point of the curve whose diode carries `diodeVoltage` = V + I Rs: exact, without solving anything. */
export function pointAt(model: SingleDiode, diodeVoltage: number): { voltage: number; current: number } {
  const current =
    model.photocurrent -
    model.saturationCurrent * Math.expm1(diodeVoltage / model.thermalVoltage) -
    diodeVoltage / model.shuntResistance;
  return { voltage: diodeVoltage - current * model.seriesResistance, current };
}

/** Slope -dI/dVd of the diode and shunt together at a diode voltage, S. */
export function junctionConductance(model: SingleDiode, diodeVoltage: number): number {
  const { saturationCurrent, thermalVoltage: a } = model;
  return (saturationCurrent / a) * Math.exp(diodeVoltage / a) + 1 / model.shuntResistance;
}

/** Root of dP/dVd = (1 + g Rs) I - g V, which falls from short circuit to open circuit. Newton kept inside a bracket. */
function diodeVoltageOfMaximum(model: SingleDiode, isc: number, voc: number): number {
  const { seriesResistance: rs, thermalVoltage: a } = model;
  let low = isc * rs;
  let high = voc;
  let at = Math.max(low, voc - a * Math.log1p(voc / a));
  for (let round = 0; round < 100; round++) {
    const { voltage, current } = pointAt(model, at);
    const conductance = junctionConductance(model, at);
    const slope = (1 + conductance * rs) * current - conductance * voltage;
    if (slope > 0) low = at;
    else high = at;
    const change = (conductance - 1 / model.shuntResistance) / a;
    const slopeChange = change * (rs * current - voltage) - 2 * conductance * (1 + conductance * rs);
    const next = at - slope / slopeChange;
    const inside = next > low && next < high ? next : (low + high) / 2;
    if (Math.abs(inside - at) <= 1e-15 * voc) return inside;
    at = inside;
  }
  return at;
}

/** `series` equal devices in series, `parallel` such rows side by side, as one device. Both 1 or more. */
export function inSeriesParallel(model: SingleDiode, series: number, parallel: number): SingleDiode {
  return {
    photocurrent: model.photocurrent * parallel,
    saturationCurrent: model.saturationCurrent * parallel,
    seriesResistance: (model.seriesResistance * series) / parallel,
    shuntResistance: (model.shuntResistance * series) / parallel,
    thermalVoltage: model.thermalVoltage * series,
  };
}

export interface SamplingOptions {
  /** The curve runs on beyond open circuit, down to this current below zero (A, zero or more; default 0). */
  readonly toNegativeCurrent?: number;
}

/**
 * `points` (at least 3) points from V = 0 to I = 0, exactly on the curve, both ends included. They are even in a mixture
 * of voltage and current, each over its own span, which puts most of them around the knee and on the leg behind it.
 */
export function sampleCurve(model: SingleDiode, points: number, options: SamplingOptions = {}): IvCurve {
  const isc = Math.max(0, currentAtVoltage(model, 0));
  const end = -Math.max(0, options.toNegativeCurrent ?? 0);
  const voltageAtEnd = voltageAtCurrent(model, end);
  const diodeStart = isc * model.seriesResistance;
  const diodeEnd = voltageAtEnd + end * model.seriesResistance;
  const voltage = new Float64Array(points);
  const current = new Float64Array(points);
  // Vd = V + I Rs is monotonic in the mixture's arc length, which is therefore found by bisection.
  const mixture = (diodeVoltage: number): number => {
    const point = pointAt(model, diodeVoltage);
    return (point.voltage / voltageAtEnd + (isc - point.current) / (isc - end)) / 2;
  };
  let from = diodeStart;
  for (let index = 0; index < points; index++) {
    const wanted = index / (points - 1);
    from = bisect((at) => mixture(at) - wanted, from, diodeEnd);
    const point = pointAt(model, from);
    voltage[index] = point.voltage;
    current[index] = point.current;
  }
  voltage[0] = 0;
  current[0] = isc;
  voltage[points - 1] = voltageAtEnd;
  current[points - 1] = end;
  return { voltage, current };
}

/** Root of an increasing function between two ends, to about 1e-10 of the interval. */
function bisect(increasing: (at: number) => number, low: number, high: number): number {
  let from = low;
  let to = high;
  for (let round = 0; round < 34; round++) {
    const middle = (from + to) / 2;
    if (increasing(middle) > 0) to = middle;
    else from = middle;
  }
  return (from + to) / 2;
}
