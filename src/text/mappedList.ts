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
    const [former, known] = [this.#items, this.#results];
    const shorter = Math.min(items.length, former.length);
    let first = 0;
    while (first < shorter && items[first] === former[first]) first++;
    if (first === items.length && first === former.length) return known;
    // What came or went in between shifts those behind it.
    const shift = former.length - items.length;
    let end = items.length;
    while (end > first && end + shift > first && items[end - 1] === former[end - 1 + shift]) end--;
    const results = [...known.slice(0, first)];
    for (let at = first; at < end; at++)
      results.push(at < former.length && items[at] === former[at] ? known[at]! : this.#compute(items[at]!));
    for (let at = end; at < items.length; at++) results.push(known[at + shift]!);
    this.#items = items;
    this.#results = results;
    return results;
  }
}
