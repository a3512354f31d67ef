import { changedSpan } from './changedSpan.js';
import { finish, type Steps } from './steps.js';

/**
 * A list mapped item by item, again and again as few of its items change. Where an item stands as it stood the time before, so does
 * its answer; nothing is looked up, and what does not change is not even read.
 */
export class MappedList<Item, Result> {
  readonly #compute: (item: Item) => Result;
  #items: readonly Item[] = [];
  #results: readonly Result[] = [];

  /** @param compute looks at nothing but the item, which does not change */
  constructor(compute: (item: Item) => Result) {
    this.#compute = compute;
  }

  /** The very same list as before where no item changed. */
  of(items: readonly Item[]): readonly Result[] {
    return finish(this.steps(items));
  }

  /** The same with a step for each item that is computed. */
  *steps(items: readonly Item[]): Steps<readonly Result[]> {
    const [former, known] = [this.#items, this.#results];
    const { first, end, shift } = changedSpan(items, former);
    if (first === items.length && first === former.length) return known;
    const results = known.slice(0, first);
    for (let at = first; at < end; at++) {
      if (at < former.length && items[at] === former[at]) results.push(known[at]!);
      else {
        results.push(this.#compute(items[at]!));
        yield;
      }
    }
    for (let at = end; at < items.length; at++) results.push(known[at + shift]!);
    this.#items = items;
    this.#results = results;
    return results;
  }
}
