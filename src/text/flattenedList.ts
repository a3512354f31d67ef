import { changedSpan } from './changedSpan.js';

/** Lists strung together, again and again as few of them change: nothing is read of those that stand where they stood. */
export class FlattenedList<Item> {
  #lists: readonly (readonly Item[])[] = [];
  /** Where each of the lists begins. */
  #starts: readonly number[] = [];
  #items: readonly Item[] = [];

  /** The very same list as before where none of the lists changed. */
  of(lists: readonly (readonly Item[])[]): readonly Item[] {
    const former = this.#lists;
    const { first, end, shift } = changedSpan(lists, former);
    if (first === lists.length && first === former.length) return this.#items;
    this.#lists = lists;
    let fits = shift === 0;
    for (let at = first; fits && at < end; at++) fits = lists[at]!.length === former[at]!.length;
    if (fits) {
      const items = [...this.#items];
      for (let at = first; at < end; at++)
        lists[at]!.forEach((item, place) => (items[this.#starts[at]! + place] = item));
      this.#items = items;
    } else {
      const starts: number[] = [];
      const items: Item[] = [];
      for (const list of lists) {
        starts.push(items.length);
        for (const item of list) items.push(item);
      }
      this.#starts = starts;
      this.#items = items;
    }
    return this.#items;
  }
}
