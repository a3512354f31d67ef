/** The instrument: which points of a curve it takes, and how well it reads them. All values are invented. */
import type { Random } from './random.js';
import { currentOf, type Table } from './substring.js';

export interface Tracer {
  /** Relative errors of voltage and current, the same for all sweeps of a campaign. */
  readonly gain: { readonly voltage: number; readonly current: number };
  /** Standard deviation of a reading as a share of the range. */
  readonly noise: { readonly voltage: number; readonly current: number };
  readonly points: number;
  /** An electronic load that steps the voltage evenly, or a capacitor that charges and is read at even times. */
  readonly load: 'even' | 'capacitor';
}

export interface Point {
  readonly voltage: number;
  readonly current: number;
}

const voltageRanges = [100, 500, 1000, 1500];
const currentRanges = [5, 10, 15, 20];

/** From near short circuit to open circuit, while the irradiance goes from that of the first curve to that of the second. */
export function trace(before: Table, after: Table, tracer: Tracer, random: Random): Point[] {
  const open = voltageAtZero(before);
  const targets = targetsOf(before, open, tracer, random.between(0.003, 0.012));
  const voltageNoise = tracer.noise.voltage * rangeOf(voltageRanges, open);
  const currentNoise = tracer.noise.current * rangeOf(currentRanges, currentOf(before, 0));
  const read = (voltage: number, current: number): Point => ({
    voltage: voltage * (1 + tracer.gain.voltage) + voltageNoise * random.normal(),
    current: current * (1 + tracer.gain.current) + currentNoise * random.normal(),
  });
  const points = targets.map((voltage, index) => {
    const part = index / (targets.length - 1);
    return read(voltage, (1 - part) * currentOf(before, voltage) + part * currentOf(after, voltage));
  });
  // Open circuit is read before the capacitor is connected.
  return tracer.load === 'capacitor' ? [...points, read(open, 0)] : points;
}

function targetsOf(curve: Table, open: number, { points, load }: Tracer, start: number): number[] {
  const even = (count: number): number[] =>
    Array.from({ length: count }, (_, index) => open * (start + ((1 - start) * index) / (count - 1)));
  if (load === 'even') return even(points);
  // Charging: dV = I dt / C, until the current has fallen to a hundredth.
  const least = 0.01 * currentOf(curve, 0);
  const fine = even(2000).filter((voltage) => currentOf(curve, voltage) > least);
  const times = [0];
  for (let index = 1; index < fine.length; index++)
    times.push(times[index - 1]! + (fine[index]! - fine[index - 1]!) / currentOf(curve, fine[index]!));
  const last = times.at(-1)!;
  let row = 0;
  return Array.from({ length: points - 1 }, (_, index) => {
    const time = (last * index) / (points - 2);
    while (row < times.length - 2 && times[row + 1]! < time) row++;
    const part = (time - times[row]!) / (times[row + 1]! - times[row]!);
    return fine[row]! + part * (fine[row + 1]! - fine[row]!);
  });
}

function voltageAtZero({ current, voltage }: Table): number {
  const high = current.findIndex((value) => value >= 0);
  const low = Math.max(high - 1, 0);
  const width = current[high]! - current[low]!;
  const part = width === 0 ? 0 : -current[low]! / width;
  return voltage[low]! + part * (voltage[high]! - voltage[low]!);
}

const rangeOf = (ranges: readonly number[], value: number): number =>
  ranges.find((range) => range >= value * 1.02) ?? ranges.at(-1)!;
