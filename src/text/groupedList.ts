import { changedSpan, isSameList } from './changedSpan.js';

/** Items by a key. */
export interface Groups<Item, Key> {
  /** In the order of their first appearance. */
  readonly keys: readonly Key[];
  /** For each of the keys its items, in the order of the list. */
  readonly lists: readonly (readonly Item[])[];
  /** The items of a key; none where it has none. */
  get(key: Key): readonly Item[];
  /** For each item of the list the place of its group in `lists`, -1 where it belongs to none, and its own place in that. */
  readonly groupAt: readonly number[];
  readonly placeAt: readonly number[];
}

/**
 * A list put into groups by a key, again and again as few of its items change. A group of which no item changed is the very same list
 * as before; nothing is read of items that stand where they stood.
 */
export class GroupedList<Item, Key> {
  readonly #keyOf: (item: Item) => Key | undefined;
  #items: readonly Item[] = [];
  #keys: readonly (Key | undefined)[] = [];
  #groups: GroupsByKey<Item, Key> = new GroupsByKey<Item, Key>(new Map(), [], [], []);

  /** @param keyOf looks at nothing but the item, which does not change; undefined: it belongs to no group */
  constructor(keyOf: (item: Item) => Key | undefined) {
    this.#keyOf = keyOf;
  }

  /** The very same groups as before where no item changed. */
  of(items: readonly Item[]): Groups<Item, Key> {
    const former = this.#items;
    const { first, end, shift } = changedSpan(items, former);
    if (first === items.length && first === former.length) return this.#groups;
    const known = this.#keys;
    const keyAt = (at: number): Key | undefined =>
      at < former.length && items[at] === former[at] ? known[at] : this.#keyOf(items[at]!);
    const changed = Array.from({ length: end - first }, (_, at) => keyAt(first + at));
    this.#items = items;
    if (shift === 0 && changed.every((key, at) => key === known[first + at]))
      return (this.#groups = this.#groups.replacing(items, former, first, end));
    this.#keys = [...known.slice(0, first), ...changed, ...known.slice(end + shift)];
    return (this.#groups = GroupsByKey.of(items, this.#keys, this.#groups));
  }
}

const none: readonly never[] = [];

class GroupsByKey<Item, Key> implements Groups<Item, Key> {
  constructor(
    readonly index: ReadonlyMap<Key, number>,
    readonly lists: readonly (readonly Item[])[],
    readonly groupAt: readonly number[],
    readonly placeAt: readonly number[],
    readonly keys: readonly Key[] = [...index.keys()],
  ) {}

  get(key: Key): readonly Item[] {
    const at = this.index.get(key);
    return at === undefined ? none : this.lists[at]!;
  }

  static of<Item, Key>(
    items: readonly Item[],
    keys: readonly (Key | undefined)[],
    former: GroupsByKey<Item, Key>,
  ): GroupsByKey<Item, Key> {
    const index = new Map<Key, number>();
    const lists: Item[][] = [];
    const groupAt: number[] = [];
    const placeAt: number[] = [];
    keys.forEach((key, at) => {
      let group = -1;
      if (key !== undefined) {
        group = index.get(key) ?? lists.push([]) - 1;
        if (lists[group]!.length === 0) index.set(key, group);
        placeAt.push(lists[group]!.push(items[at]!) - 1);
      } else placeAt.push(-1);
      groupAt.push(group);
    });
    const kept = [...index.keys()].map((key, group) => {
      const before = former.get(key);
      return isSameList(lists[group]!, before) ? before : lists[group]!;
    });
    return new GroupsByKey(index, kept, groupAt, placeAt);
  }

  /** Items of the same keys in the places from `first` up to `end`. */
  replacing(
    items: readonly Item[],
    former: readonly Item[],
    first: number,
    end: number,
  ): GroupsByKey<Item, Key> {
    const fresh = new Map<number, Item[]>();
    for (let at = first; at < end; at++) {
      const group = this.groupAt[at]!;
      if (group < 0 || items[at] === former[at]) continue;
      let list = fresh.get(group);
      if (!list) fresh.set(group, (list = [...this.lists[group]!]));
      list[this.placeAt[at]!] = items[at]!;
    }
    const lists = [...this.lists];
    for (const [group, list] of fresh) lists[group] = list;
    return new GroupsByKey(this.index, lists, this.groupAt, this.placeAt, this.keys);
  }
}
