/** A string as parts in series: measured curves where there are any, the model of the nameplate for the rest. */
import { assumedSubstrings } from '../analysis/workingSubstrings.js';
import { expectedModel } from '../analysis/diodeFit.js';
import { sweepAtConditions, substringsOutByVoc } from '../analysis/sweepAtConditions.js';
import type { SweepTarget } from '../campaign/model.js';
import type { CheckedSweep } from '../checks/check.js';
import { fallingCurve, voltageOfFalling, type FallingCurve } from '../physics/fallingCurve.js';
import type { Conditions, IvCurve } from '../physics/ivCurve.js';
import { sampleFalling, usualBypassVoltage } from '../physics/seriesComposition.js';
import { characteristicPoints, voltageAtCurrent, type SingleDiode } from '../physics/singleDiode.js';
import { lengthOf, type Run } from './positions.js';

/** Modules `first` to `last` of a string, measured together. */
export interface MeasuredPart extends Run {
  readonly address: string;
  readonly sweep: CheckedSweep;
  /** Substrings whose voltage its curve lacks. */
  readonly substringsOut: number;
}

/** Current and voltage of a device over those of another. */
export interface Scale {
  readonly current: number;
  readonly voltage: number;
}

export const unscaled: Scale = { current: 1, voltage: 1 };

/** Voltage (V) of something in series at a current (A). */
export type Part = (current: number) => number;

export function measuredPart(sweep: CheckedSweep, { first, last }: Run): MeasuredPart {
  const substringsOut = sweep.diagnosis?.substringsOut || substringsOutByVoc(sweep);
  return { address: sweep.address, first, last, sweep, substringsOut };
}

/** What a part carries at some conditions. */
export interface MovedPart {
  readonly curve: FallingCurve;
  /** Substrings that a bypass diode may take out of the path. */
  readonly substrings: number;
  /** How much steeper than expected its curve falls at Voc, ohm; zero where it does not. */
  readonly addedResistance: number;
}

/** The curve of a part at the conditions of the string; undefined where it cannot be brought there. */
export function movePart(part: MeasuredPart, to: Conditions): MovedPart | undefined {
  const moved = sweepAtConditions(part.sweep, to, part.substringsOut);
  if (!moved || moved.curve.voltage.length < 2) return undefined;
  const all = lengthOf(part) * (part.sweep.target.module?.substrings ?? assumedSubstrings);
  const substrings = Math.max(all - part.substringsOut, 1);
  return { curve: fallingCurve(moved.curve), substrings, addedResistance: addedResistance(part, substrings) };
}

/** The slope -dV/dI at Voc less that of so many substrings of the model; the junction's part, a/IL, is in both. */
function addedResistance({ sweep }: MeasuredPart, substrings: number): number {
  const { measured, conditions } = sweep.analysis;
  const model = expectedModel({ ...sweep.target, seriesModules: 1, parallelStrings: 1 }, conditions);
  if (!model || measured?.slopeAtVoc === undefined) return 0;
  const ofModule = model.seriesResistance + model.thermalVoltage / model.photocurrent;
  const expected = (ofModule * substrings) / (sweep.target.module?.substrings ?? assumedSubstrings);
  return Math.max(measured.slopeAtVoc - expected, 0);
}

/** What holds a part that is driven backwards. */
export interface Bypass {
  /** Forward voltage of one diode, V. */
  readonly voltage: number;
  /**
   * Share of an added resistance that lies outside the diodes (a connector, a joint in the box) and is not bypassed: a curve above
   * zero volts does not tell whether it does.
   */
  readonly shareOutside: number;
}

export const usualBypass: Bypass = { voltage: usualBypassVoltage, shareOutside: 0.5 };

/**
 * A measured part in series. Where the string drives more than its short-circuit current through it, or where its curve was
 * measured below zero volts, the bypass diodes of its working substrings hold it.
 */
export function seriesPart(
  { curve, substrings, addedResistance }: MovedPart,
  scale: Scale = unscaled,
  bypass = usualBypass,
): Part {
  return (current) =>
    Math.max(
      scale.voltage * voltageOfFalling(curve, current / scale.current),
      -substrings * bypass.voltage - bypass.shareOutside * addedResistance * current,
    );
}

/** So many equal modules as the model of one has them. */
export function modelPart(
  model: SingleDiode,
  count: number,
  substrings: number,
  scale: Scale = unscaled,
  bypass = usualBypass,
): Part {
  return (current) =>
    count *
    Math.max(scale.voltage * voltageAtCurrent(model, current / scale.current), -substrings * bypass.voltage);
}

/** One module of the nameplate at some conditions; undefined where it has no model. */
export function moduleModel(target: SweepTarget, conditions: Conditions): SingleDiode | undefined {
  return expectedModel({ ...target, seriesModules: 1, parallelStrings: 1 }, conditions);
}

export interface Series {
  readonly parts: readonly Part[];
  /** ohm. */
  readonly cable: number;
  /** A, at or above Isc of every part. */
  readonly strongest: number;
}

/** Voltages added at equal currents, less the drop in the cable. */
export function seriesVoltage({ parts, cable }: Series, current: number): number {
  let voltage = -current * cable;
  for (const part of parts) voltage += part(current);
  return voltage;
}

/** The curve of parts in series, from V = 0 to I = 0. */
export function seriesCurve(series: Series, points = 300): IvCurve {
  return sampleFalling((current) => seriesVoltage(series, current), series.strongest, points);
}

/** The largest power of parts in series, W: the best point of the curve, then between its neighbours. */
export function seriesPower(series: Series, curve = seriesCurve(series, 80)): number {
  const { voltage, current } = curve;
  let best = 0;
  for (let k = 1; k < voltage.length; k++)
    if (voltage[k]! * current[k]! > voltage[best]! * current[best]!) best = k;
  let high = current[Math.max(best - 1, 0)] ?? 0;
  let low = current[Math.min(best + 1, current.length - 1)] ?? 0;
  const powerAt = (at: number): number => at * seriesVoltage(series, at);
  let most = powerAt((low + high) / 2);
  for (let round = 0; round < 40; round++) {
    const [left, right] = [low + (high - low) / 3, high - (high - low) / 3];
    const [powerLeft, powerRight] = [powerAt(left), powerAt(right)];
    most = Math.max(most, powerLeft, powerRight);
    if (powerLeft < powerRight) low = left;
    else high = right;
  }
  return voltage.length === 0 ? 0 : Math.max(most, voltage[best]! * current[best]!);
}

/** Isc of a model with some to spare. */
export const strongestOf = (model: SingleDiode): number => 1.02 * characteristicPoints(model).isc;
