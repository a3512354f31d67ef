/**
 * The same function, asked once for each object: what it answers holds as long as the object, whose end ends the memory.
 * @param compute looks at nothing but the object, which does not change
 */
export function onceFor<Item extends object, Result>(
  compute: (item: Item) => Result,
): (item: Item) => Result {
  const known = new WeakMap<Item, { readonly result: Result }>();
  return (item) => {
    let kept = known.get(item);
    if (!kept) known.set(item, (kept = { result: compute(item) }));
    return kept.result;
  };
}
