/**
 * Curves of strings whose modules differ, by adding voltages at equal currents: a single-diode curve for each substring, a
 * bypass diode across it, resistance in series. Voltage as a function of current is explicit, so the composition is exact;
 * a composed curve falls from the short-circuit current of its strongest part to zero.
 */
import type { IvCurve } from './ivCurve.js';
import { characteristicPoints, voltageAtCurrent, type SingleDiode } from './singleDiode.js';

/** A group of cells with a bypass diode across it. */
export interface Substring {
  readonly model: SingleDiode;
  /** Shorted, or its bypass diode failed shut: carries any current at no voltage. */
  readonly lost?: boolean;
}

export interface ComposedModule {
  readonly substrings: readonly Substring[];
  /** Forward voltage of a conducting bypass diode, V (0.5 for a Schottky diode: common practice, no source). */
  readonly bypassVoltage: number;
  /** Resistance in series with the module beyond that of the model, such as a corroded connector, ohm. */
  readonly addedResistance: number;
}

export interface ModuleDamage {
  /** How many substrings are lost (default 0). */
  readonly lostSubstrings?: number;
  /** Photocurrent of all or of the first `weakSubstrings` substrings as a share of the intact (default 1). */
  readonly photocurrentShare?: number;
  readonly weakSubstrings?: number;
  /** ohm (default 0). */
  readonly addedResistance?: number;
}

export const usualBypassVoltage = 0.5;

/** A module of `substrings` equal parts from the model of the whole module, with or without damage. */
export function moduleWithSubstrings(
  module: SingleDiode,
  substrings: number,
  damage: ModuleDamage = {},
  bypassVoltage = usualBypassVoltage,
): ComposedModule {
  const part: SingleDiode = {
    ...module,
    seriesResistance: module.seriesResistance / substrings,
    shuntResistance: module.shuntResistance / substrings,
    thermalVoltage: module.thermalVoltage / substrings,
  };
  const weak = damage.weakSubstrings ?? substrings;
  const share = damage.photocurrentShare ?? 1;
  const lost = damage.lostSubstrings ?? 0;
  return {
    substrings: Array.from({ length: substrings }, (_, index) => ({
      model: index < weak ? { ...part, photocurrent: part.photocurrent * share } : part,
      lost: index >= substrings - lost,
    })),
    bypassVoltage,
    addedResistance: damage.addedResistance ?? 0,
  };
}

/** Voltage of a module at a current, V: a substring that cannot carry the current is bypassed. */
export function moduleVoltage(module: ComposedModule, current: number): number {
  let voltage = -current * module.addedResistance;
  for (const { model, lost } of module.substrings) {
    if (!lost) voltage += Math.max(voltageAtCurrent(model, current), -module.bypassVoltage);
  }
  return voltage;
}

export interface StringOptions {
  /** Resistance of the cable, out and back, ohm (default 0). */
  readonly cableResistance?: number;
  /** Fineness: the curve gets between this and twice as many points (default 400, at least 8). */
  readonly points?: number;
}

/**
 * I-V curve of modules in series, from V = 0 to I = 0. The points are dense wherever voltage or current changes, so steps
 * are resolved.
 */
export function composeString(modules: readonly ComposedModule[], options: StringOptions = {}): IvCurve {
  const cable = options.cableResistance ?? 0;
  const kinds = countKinds(modules);
  const voltageAt = (current: number): number => {
    let voltage = -current * cable;
    for (const [module, count] of kinds) voltage += count * moduleVoltage(module, current);
    return voltage;
  };
  return sampleFalling(voltageAt, strongestCurrent(modules), Math.max(8, options.points ?? 400));
}

/** Modules given as one object are computed once. */
function countKinds(modules: readonly ComposedModule[]): Map<ComposedModule, number> {
  const kinds = new Map<ComposedModule, number>();
  for (const module of modules) kinds.set(module, (kinds.get(module) ?? 0) + 1);
  return kinds;
}

function strongestCurrent(modules: readonly ComposedModule[]): number {
  let strongest = 0;
  for (const { substrings } of modules) {
    for (const { model, lost } of substrings) {
      if (!lost) strongest = Math.max(strongest, characteristicPoints(model).isc);
    }
  }
  return strongest;
}

/**
 * Samples a falling voltage-over-current relation between V = 0 and I = 0: a fine grid in current, from which points even
 * in the mixture of both axes are taken. Empty where nothing generates.
 * @param most a current, A, at or above the one at V = 0
 */
export function sampleFalling(voltageAt: (current: number) => number, most: number, points: number): IvCurve {
  const voc = voltageAt(0);
  if (!(most > 0) || !(voc > 0)) return { voltage: new Float64Array(), current: new Float64Array() };
  const isc = currentAtZeroVoltage(voltageAt, most);
  // From short circuit to open circuit; where the curve is flat its voltage runs away within little current.
  const voltages: number[] = [0];
  const currents: number[] = [isc];
  const longest = 1 / (points - 1);
  const refine = (i1: number, v1: number, i2: number, v2: number, depth: number): void => {
    const length = ((i1 - i2) / isc + (v2 - v1) / voc) / 2;
    if (length > longest && depth < 40) {
      const middle = (i1 + i2) / 2;
      const between = voltageAt(middle);
      refine(i1, v1, middle, between, depth + 1);
      refine(middle, between, i2, v2, depth + 1);
      return;
    }
    voltages.push(v2);
    currents.push(i2);
  };
  refine(isc, 0, 0, voc, 0);
  return { voltage: Float64Array.from(voltages), current: Float64Array.from(currents) };
}

function currentAtZeroVoltage(voltageAt: (current: number) => number, most: number): number {
  let low = 0;
  let high = most;
  for (let round = 0; round < 60; round++) {
    const middle = (low + high) / 2;
    if (voltageAt(middle) > 0) low = middle;
    else high = middle;
  }
  return low;
}
