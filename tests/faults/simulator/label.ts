/** What a maker would print on the label of a type: its curve at standard test conditions and how it moves with temperature. */
import { diodeAt, schottky } from './bypassDiode.js';
import { asTheType, cellOf, type ModuleType } from './moduleTypes.js';
import { inSeries } from './series.js';
import { currentOf, tableOf, type Substring, type Table } from './substring.js';

export interface CurveValues {
  readonly isc: number;
  readonly voc: number;
  readonly imp: number;
  readonly vmp: number;
  readonly pmax: number;
}

/** As printed: two decimals of V and A, coefficients in %/K. */
export interface Label extends CurveValues {
  readonly alpha: number;
  readonly beta: number;
  readonly gamma: number;
}

/** The substring of a sound module. */
export function soundSubstring(
  type: ModuleType,
  piece: typeof asTheType,
  irradiance: number,
  temperature: number,
  diodeTemperature: number,
): Substring {
  const path = [{ cell: cellOf(type, piece, irradiance, temperature), count: type.cells / type.substrings }];
  return {
    kind: 'cells',
    paths: type.halfCut ? [path, path] : [path],
    diode: diodeAt(schottky, diodeTemperature),
  };
}

export function moduleCurve(type: ModuleType, irradiance: number, temperature: number): Table {
  const table = tableOf(soundSubstring(type, asTheType, irradiance, temperature, temperature));
  const parts = Array.from({ length: type.substrings }, () => table);
  return inSeries(parts, 0, -0.05 * type.cell.photocurrent, 1.2 * type.cell.photocurrent);
}

/** Of a curve as a table; the maximum by a parabola through the best row and its neighbours. */
export function curveValues(table: Table): CurveValues {
  const { current, voltage } = table;
  const power = current.map((value, index) => value * voltage[index]!);
  const best = Math.max(1, Math.min(power.length - 2, power.indexOf(Math.max(...power))));
  const vmp = vertexOf([-1, 0, 1].map((step) => [voltage[best + step]!, power[best + step]!] as const));
  const imp = currentOf(table, vmp);
  const zero = current.findIndex((value) => value >= 0);
  const [low, high] = [zero - 1, zero];
  const part = -current[low]! / (current[high]! - current[low]!);
  const voc = voltage[low]! + part * (voltage[high]! - voltage[low]!);
  return { isc: currentOf(table, 0), voc, imp, vmp, pmax: imp * vmp };
}

function vertexOf(points: readonly (readonly [number, number])[]): number {
  const [[x0, y0], [x1, y1], [x2, y2]] = points as [[number, number], [number, number], [number, number]];
  const left = (y1 - y0) / (x1 - x0);
  const right = (y2 - y1) / (x2 - x1);
  const bend = (right - left) / (x2 - x0);
  return bend === 0 ? x1 : (x0 + x1) / 2 - left / (2 * bend);
}

const rounded = (value: number, digits: number): number => Number(value.toFixed(digits));

export function labelOf(type: ModuleType): Label {
  const at = (temperature: number): CurveValues => curveValues(moduleCurve(type, 1000, temperature));
  const [stc, cool, warm] = [at(25), at(20), at(50)];
  const perKelvin = (name: 'isc' | 'voc' | 'pmax'): number =>
    (100 * (warm[name] - cool[name])) / 30 / stc[name];
  const [imp, vmp] = [rounded(stc.imp, 2), rounded(stc.vmp, 2)];
  return {
    isc: rounded(stc.isc, 2),
    voc: rounded(stc.voc, 2),
    imp,
    vmp,
    pmax: rounded(imp * vmp, 1),
    alpha: rounded(perKelvin('isc'), 3),
    beta: rounded(perKelvin('voc'), 2),
    gamma: rounded(perKelvin('pmax'), 2),
  };
}
