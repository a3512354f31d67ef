import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** Repeatable noise: the same name gives the same numbers. */
export class Noise {
  readonly #generator;

  constructor(name: string) {
    let seed = 0;
    for (const letter of name) seed = (Math.imul(seed, 31) + letter.codePointAt(0)!) | 0;
    this.#generator = xoroshiro128plus(seed);
  }

  /** Standard normal, Box and Muller, Ann. Math. Statist. 29 (1958) 610-611. */
  normal(): number {
    const radius = Math.sqrt(-2 * Math.log(1 - uniformFloat64(this.#generator)));
    return radius * Math.cos(2 * Math.PI * uniformFloat64(this.#generator));
  }
}
