/** A measured curve as voltage over current, which is what series connection needs. */
import type { IvCurve } from './ivCurve.js';

/** Points with strictly falling current and rising voltage. */
export interface FallingCurve {
  readonly voltage: readonly number[];
  readonly current: readonly number[];
}

/**
 * The curve that never rises and lies nearest to the points in current, in the sense of least squares (isotonic regression
 * by pooling adjacent violators, Ayer et al., Ann. Math. Statist. 26 (1955) 641-647, from memory). Points that noise put out
 * of order are one point at their mean; a curve in order stays as it is.
 */
export function fallingCurve({ voltage, current }: IvCurve): FallingCurve {
  const pools: { voltage: number; current: number; count: number }[] = [];
  for (let k = 0; k < voltage.length; k++) {
    let pool = { voltage: voltage[k]!, current: current[k]!, count: 1 };
    for (let before = pools.at(-1); before && before.current <= pool.current; before = pools.at(-1)) {
      pools.pop();
      const count = before.count + pool.count;
      pool = {
        voltage: (before.voltage * before.count + pool.voltage * pool.count) / count,
        current: (before.current * before.count + pool.current * pool.count) / count,
        count,
      };
    }
    pools.push(pool);
  }
  return { voltage: pools.map((pool) => pool.voltage), current: pools.map((pool) => pool.current) };
}

/**
 * Voltage at a current, between neighbours in a straight line. Above the first current -Infinity, as nothing tells how far the
 * device is driven backwards (a bypass diode then holds it); below the last current the last voltage.
 */
export function voltageOfFalling({ voltage, current }: FallingCurve, wanted: number): number {
  const last = current.length - 1;
  if (last < 0 || wanted > current[0]!) return -Infinity;
  if (wanted <= current[last]!) return voltage[last]!;
  let [low, high] = [0, last];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (current[middle]! >= wanted) low = middle;
    else high = middle;
  }
  const share = (current[low]! - wanted) / (current[low]! - current[high]!);
  return voltage[low]! + share * (voltage[high]! - voltage[low]!);
}
