/** Repeatable random numbers for the simulation: the same seed gives the same row on every machine. */
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

export class Random {
  readonly #generator;

  constructor(seed: number) {
    this.#generator = xoroshiro128plus(seed | 0);
    // The first numbers of neighbouring seeds are alike.
    for (let skip = 0; skip < 8; skip++) uniformFloat64(this.#generator);
  }

  /** From `low` to below `high`. */
  between(low: number, high: number): number {
    return low + (high - low) * uniformFloat64(this.#generator);
  }

  /** A whole number from `low` to `high`, both included. */
  whole(low: number, high: number): number {
    return Math.min(high, low + Math.floor(this.between(0, high - low + 1)));
  }

  pick<T>(from: readonly T[]): T {
    return from[this.whole(0, from.length - 1)]!;
  }

  chance(share: number): boolean {
    return this.between(0, 1) < share;
  }

  /** Standard normal, Box and Muller, Ann. Math. Statist. 29 (1958) 610-611. */
  normal(): number {
    const radius = Math.sqrt(-2 * Math.log(1 - this.between(0, 1)));
    return radius * Math.cos(2 * Math.PI * this.between(0, 1));
  }

  /** Normal, drawn again beyond two standard deviations: an instrument that keeps its stated accuracy (k = 2). */
  within(expanded: number): number {
    for (;;) {
      const value = this.normal();
      if (Math.abs(value) <= 2) return (value * expanded) / 2;
    }
  }

  /** So many different whole numbers below `count`. */
  some(many: number, count: number): number[] {
    const all = Array.from({ length: count }, (_, index) => index);
    return Array.from(
      { length: Math.min(many, count) },
      () => all.splice(this.whole(0, all.length - 1), 1)[0]!,
    );
  }
}
