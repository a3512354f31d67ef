import { changedSpan } from './changedSpan.js';

/** A number of each item of a list, NaN for none, again and again as few of the items change; see `MappedList`. */
export class MappedNumbers<Item> {
  readonly #numberOf: (item: Item) => number | undefined;
  #items: readonly Item[] = [];
  #numbers = new Float64Array();

  /** @param numberOf looks at nothing but the item, which does not change */
  constructor(numberOf: (item: Item) => number | undefined) {
    this.#numberOf = numberOf;
  }

  /** The very same numbers as before where no item changed; not to be written to. */
  of(items: readonly Item[]): Float64Array {
    const [former, known] = [this.#items, this.#numbers];
    const { first, end, shift } = changedSpan(items, former);
    if (first === items.length && first === former.length) return known;
    const numbers = new Float64Array(items.length);
    numbers.set(known.subarray(0, first));
    for (let at = first; at < end; at++)
      numbers[at] =
        at < former.length && items[at] === former[at] ? known[at]! : (this.#numberOf(items[at]!) ?? NaN);
    numbers.set(known.subarray(end + shift), end);
    this.#items = items;
    this.#numbers = numbers;
    return numbers;
  }
}

/** Those that are numbers. */
export function knownNumbers(numbers: Float64Array): Float64Array {
  const known = new Float64Array(numbers.length);
  let count = 0;
  // A loop: a callback for each of thousands costs more than what it does.
  for (let at = 0; at < numbers.length; at++) {
    const number = numbers[at]!;
    if (number === number) known[count++] = number;
  }
  return known.subarray(0, count);
}
