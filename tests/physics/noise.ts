import type { IvCurve } from '../../src/physics/ivCurve.js';

/** Uniform numbers from 0 to 1 by the mulberry32 recurrence; the same seed gives the same row on every machine. */
export function seeded(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

export function gaussian(random: () => number): () => number {
  return () => Math.sqrt(-2 * Math.log(random() + 1e-300)) * Math.cos(2 * Math.PI * random());
}

/** Adds normal noise of a standard deviation in A, then makes `wild` points 40 % too low or 30 % too high. */
export function disturbed(curve: IvCurve, deviation: number, wild: number, seed: number): IvCurve {
  const random = seeded(seed);
  const normal = gaussian(random);
  const current = curve.current.map((value) => value + deviation * normal());
  for (let count = 0; count < wild; count++) {
    const at = Math.floor(random() * current.length);
    current[at] = current[at]! * (random() < 0.5 ? 0.6 : 1.3);
  }
  return { voltage: curve.voltage, current };
}
