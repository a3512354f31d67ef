/**
 * Cells in series behind one bypass diode, as a table of terminal current and voltage. The table follows the cells' own
 * current, so the steep and the flat parts of the curve have the points they need.
 */
import { bypassCurrent, type DiodeAtTemperature } from './bypassDiode.js';
import { currentAt, junctionAt, terminalVoltage, type Cell } from './cell.js';

/** Current in A, rising; voltage in V, falling. */
export interface Table {
  readonly current: Float64Array;
  readonly voltage: Float64Array;
}

/** So many equal cells in series. */
export interface Group {
  readonly cell: Cell;
  readonly count: number;
}

/** Cells in series; the groups may differ. */
export type Path = readonly Group[];

export type Substring =
  | {
      readonly kind: 'cells';
      /** One path, or the two halves of a half-cut module in parallel. */
      readonly paths: readonly Path[];
      readonly diode: DiodeAtTemperature;
    }
  /** The diode has failed as a short circuit of so many ohm. */
  | { readonly kind: 'shorted'; readonly resistance: number }
  /** The cells are interrupted and the diode carries the string. */
  | { readonly kind: 'open'; readonly diode: DiodeAtTemperature };

/** Currents beyond this are never reached by a string. */
const highestCurrent = 30;

const steps = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.round((to - from) / step) }, (_, index) => from + index * step);

/** Voltages of the junction: dense where a bypass diode bends the curve and where the cell's own diode does. */
const forward = [...steps(-0.06, 0, 0.0015), ...steps(0, 0.36, 0.02), ...steps(0.36, 0.801, 0.003)];
const reverse = Array.from({ length: 150 }, (_, index) => -14.9 + index * 0.1);

export function tableOf(substring: Substring): Table {
  if (substring.kind === 'shorted') {
    const { resistance } = substring;
    return {
      current: Float64Array.of(-highestCurrent, highestCurrent),
      voltage: Float64Array.of(highestCurrent * resistance, -highestCurrent * resistance),
    };
  }
  if (substring.kind === 'open') return diodeAlone(substring.diode);
  return withBypass(parallel(substring.paths), substring.diode);
}

function diodeAlone(diode: DiodeAtTemperature): Table {
  const current = Float64Array.from({ length: 120 }, (_, index) => highestCurrent * (index / 119) ** 3);
  return { current, voltage: current.map((value) => -diode.thermal * Math.log1p(value / diode.saturation)) };
}

/** Equal halves carry half the current each; unequal ones share it as their voltages agree. */
function parallel(paths: readonly Path[]): Table {
  const [first, second] = paths as [Path, Path?];
  const one = pathTable(first);
  if (!second) return one;
  if (second === first) return { current: one.current.map((value) => 2 * value), voltage: one.voltage };
  const other = pathTable(second);
  const voltage = Float64Array.from([...one.voltage, ...other.voltage])
    .sort()
    .reverse();
  return { current: voltage.map((value) => currentOf(one, value) + currentOf(other, value)), voltage };
}

function pathTable(path: Path): Table {
  const [only] = path;
  if (path.length === 1) {
    const { cell, count } = only!;
    const rising = Float64Array.from(forward, (junction) => currentAt(cell, junction)).reverse();
    const junctions = Float64Array.from(forward).reverse();
    return {
      current: rising,
      voltage: rising.map((value, row) => count * terminalVoltage(cell, junctions[row]!, value)),
    };
  }
  const currents = path.flatMap(({ cell }) =>
    [...reverse, ...forward].map((junction) => currentAt(cell, junction)),
  );
  const within = Float64Array.from(currents.filter((value) => Math.abs(value) < highestCurrent)).sort();
  const voltage = new Float64Array(within.length);
  for (const { cell, count } of path) {
    let junction = 0.7;
    within.forEach((value, row) => {
      junction = junctionAt(cell, value, junction);
      voltage[row]! += count * terminalVoltage(cell, junction, value);
    });
  }
  return { current: within, voltage };
}

/** The diode adds its current at each voltage of the cells. */
function withBypass({ current, voltage }: Table, diode: DiodeAtTemperature): Table {
  const total = current.map((value, index) => value + bypassCurrent(diode, voltage[index]!));
  // Where the cells alone would reach deep into reverse, the diode would carry currents that do not occur.
  const end = total.findIndex((value) => value > highestCurrent);
  const kept = end < 0 ? total.length : end + 1;
  return { current: total.subarray(0, kept), voltage: voltage.subarray(0, kept) };
}

/** A at a voltage in V, between the rows of the table; continued beyond them by the nearest two. */
export function currentOf({ current, voltage }: Table, at: number): number {
  let low = 0;
  let high = voltage.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (voltage[middle]! > at) low = middle;
    else high = middle;
  }
  const width = voltage[high]! - voltage[low]!;
  if (width === 0) return current[low]!;
  return current[low]! + ((current[high]! - current[low]!) * (at - voltage[low]!)) / width;
}
