import type { IvCurve } from './ivCurve.js';
import { pick } from './numbersOf.js';

/** The same points by ascending voltage; of equal voltages the higher current first. The curve itself when it is in order. */
export function sortedByVoltage(curve: IvCurve): IvCurve {
  const { voltage, current } = curve;
  let ascending = true;
  for (let k = 1; k < voltage.length && ascending; k++) ascending = voltage[k]! >= voltage[k - 1]!;
  if (ascending) return curve;
  const order = Array.from(voltage.keys()).sort(
    (a, b) => voltage[a]! - voltage[b]! || current[b]! - current[a]!,
  );
  return {
    voltage: pick(voltage, order),
    current: pick(current, order),
  };
}
