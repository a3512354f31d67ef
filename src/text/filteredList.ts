import { GroupedList } from './groupedList.js';

/** Those items of a list that fulfil something, again and again as few of them change; see `GroupedList`. */
export class FilteredList<Item, Chosen extends Item = Item> {
  readonly #groups: GroupedList<Item, true>;

  /** @param isChosen looks at nothing but the item, which does not change */
  constructor(isChosen: ((item: Item) => boolean) | ((item: Item) => item is Chosen)) {
    this.#groups = new GroupedList((item) => (isChosen(item) ? true : undefined));
  }

  /** The very same list as before where none of them changed. */
  of(items: readonly Item[]): readonly Chosen[] {
    return this.#groups.of(items).get(true) as readonly Chosen[];
  }
}
