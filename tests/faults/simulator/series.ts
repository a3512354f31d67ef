/** Tables in series, with a resistance: voltages add at equal current. */
import type { Table } from './substring.js';

/** Enough that a step of one substring in 84 keeps its shape. */
const rows = 2500;

/** From `lowest` to `highest` A. Each current of the parts is a candidate for a row, so all bends are kept. */
export function inSeries(
  parts: readonly Table[],
  resistance: number,
  lowest: number,
  highest: number,
): Table {
  const current = rowsOf(parts, lowest, highest);
  const voltage = current.map((value) => -value * resistance);
  const added = new Map<Table, number>();
  for (const part of parts) added.set(part, (added.get(part) ?? 0) + 1);
  for (const [part, count] of added) addVoltage(voltage, current, part, count);
  return { current, voltage };
}

function rowsOf(parts: readonly Table[], lowest: number, highest: number): Float64Array {
  const distinct = [...new Set(parts)];
  const all = new Float64Array(distinct.reduce((sum, { current }) => sum + current.length, 2));
  all.fill(lowest);
  let filled = 1;
  for (const { current } of distinct)
    for (const value of current) if (value > lowest && value < highest) all[filled++] = value;
  all[filled++] = highest;
  const sorted = all.subarray(0, filled).sort();
  const distinctRows = sorted.filter((value, index) => index === 0 || value > sorted[index - 1]!);
  const every = Math.max(1, Math.floor(distinctRows.length / rows));
  return distinctRows.filter((_, index) => index % every === 0 || index === distinctRows.length - 1);
}

/** Both run upwards, so one pass finds every place. */
function addVoltage(sum: Float64Array, at: Float64Array, { current, voltage }: Table, count: number): void {
  let row = 0;
  for (let index = 0; index < at.length; index++) {
    const value = at[index]!;
    while (row < current.length - 2 && current[row + 1]! < value) row++;
    const width = current[row + 1]! - current[row]!;
    const part = width === 0 ? 0 : (value - current[row]!) / width;
    sum[index]! += count * (voltage[row]! + part * (voltage[row + 1]! - voltage[row]!));
  }
}
