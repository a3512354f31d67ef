/** What is usual among strings for each of them when it is left out. */
import { WithoutOne } from '../physics/robustStatistics.js';
import { changedPlaces } from '../text/changedSpan.js';
import { knownNumbers } from '../text/mappedNumbers.js';
import type { Usual } from './peers.js';
import { numbersOf } from '../physics/numbersOf.js';

export interface Rounding {
  /** The scatter is not less than this. */
  readonly leastScatter: number;
  /** Values and scatters are multiples of this, so that a change of one peer that moves nothing is no change. */
  readonly grid: number;
}

/** The same numbers are the same object, so that what is usual can be compared by identity. */
export class UsualValues {
  readonly #known = new Map<number, Map<number, Usual>>();
  readonly #rounding: Rounding;

  constructor(rounding: Rounding) {
    this.#rounding = rounding;
  }

  /**
   * Median of all but one, with the error of the median itself in its scatter.
   * @param left the value that is left out; `count` those that are not; `offset` is added to the value
   */
  of(values: WithoutOne, left: number | undefined, count: number, offset = 0): Usual {
    const { leastScatter, grid } = this.#rounding;
    const median = values.median(left);
    const spread = 1.4826 * values.medianDistance(median, left);
    const scatter = Math.max(leastScatter, spread) * Math.sqrt(1 + 1.57 / count);
    // No minus in front of zero.
    return this.#same(Math.round((median + offset) / grid) * grid + 0, Math.ceil(scatter / grid) * grid);
  }

  #same(value: number, scatter: number): Usual {
    let ofValue = this.#known.get(value);
    if (!ofValue) this.#known.set(value, (ofValue = new Map<number, Usual>()));
    let usual = ofValue.get(scatter);
    if (!usual) ofValue.set(scatter, (usual = { value, scatter }));
    return usual;
  }
}

/** More of them changed than this: all are put in order anew. */
const few = 50;

/** One number of each string, and what is usual for the others. */
export class UsualLevel<Member> {
  readonly #numberOf: (member: Member) => number;
  readonly #usual: UsualValues;
  #members: readonly (Member | undefined)[] = [];
  #numbers = new Float64Array();
  #sorted = new WithoutOne();

  constructor(numberOf: (member: Member) => number, rounding: Rounding) {
    this.#numberOf = numberOf;
    this.#usual = new UsualValues(rounding);
  }

  /**
   * @param members of each string one or none
   * @param stringAt for each sweep the place of its string among the members
   * @returns for each sweep what the other strings have; without meaning where there are none
   */
  of(members: readonly (Member | undefined)[], stringAt: readonly number[]): readonly (Usual | undefined)[] {
    this.#take(members);
    const numbers = this.#numbers;
    const count = this.#sorted.count;
    if (count === 0) return stringAt.map(() => undefined);
    const forOutsiders = this.#usual.of(this.#sorted, undefined, count);
    if (count === 1)
      return stringAt.map((string) => (Number.isNaN(numbers[string]) ? forOutsiders : undefined));
    // Those left out that give the same are told apart by few comparisons.
    const known = new Map<number, Usual>();
    return stringAt.map((string) => {
      const left = numbers[string]!;
      if (Number.isNaN(left)) return forOutsiders;
      const kind = this.#sorted.kindOf(left);
      let usual = known.get(kind);
      if (!usual) known.set(kind, (usual = this.#usual.of(this.#sorted, left, count - 1)));
      return usual;
    });
  }

  #take(members: readonly (Member | undefined)[]): void {
    const former = this.#members;
    if (members === former) return;
    this.#members = members;
    const changed = changedPlaces(members, former, few);
    if (!changed) {
      this.#numbers = numbersOf(members, (member) => (member ? this.#numberOf(member) : NaN));
      this.#sorted = new WithoutOne(knownNumbers(this.#numbers));
      return;
    }
    for (const at of changed) {
      const [before, member] = [this.#numbers[at]!, members[at]];
      const now = member ? this.#numberOf(member) : NaN;
      if (!Number.isNaN(before)) this.#sorted.remove(before);
      if (!Number.isNaN(now)) this.#sorted.add(now);
      this.#numbers[at] = now;
    }
  }
}
