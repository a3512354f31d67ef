/** Items by a key, in the order of their first appearance; in the time of one pass. */
export function groupBy<Item, Key>(items: Iterable<Item>, keyOf: (item: Item) => Key): Map<Key, Item[]> {
  const groups = new Map<Key, Item[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return groups;
}

/** A part for each key: the one there was, else a new one; parts of keys that are gone are let go. */
export const partsByKey = <Key, Part>(
  keys: readonly Key[],
  known: ReadonlyMap<Key, Part>,
  make: (key: Key) => Part,
): Map<Key, Part> => new Map(keys.map((key) => [key, known.get(key) ?? make(key)]));
