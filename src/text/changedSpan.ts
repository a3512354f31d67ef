/** Where two lists of the same kind differ: nothing outside of it needs to be looked at. */
export interface ChangedSpan {
  /** The first place where they differ; the length of both where they do not. */
  readonly first: number;
  /** From here on, counted in the new list, both are the same again. */
  readonly end: number;
  /** To be added to a place from `end` on to find the same item in the former list. */
  readonly shift: number;
}

/** Compares by place from both ends, by identity; reads nothing of the items. */
export function changedSpan(items: readonly unknown[], former: readonly unknown[]): ChangedSpan {
  const shorter = Math.min(items.length, former.length);
  let first = 0;
  while (first < shorter && items[first] === former[first]) first++;
  // What came or went in between shifts those behind it.
  const shift = former.length - items.length;
  let end = items.length;
  while (end > first && end + shift > first && items[end - 1] === former[end - 1 + shift]) end--;
  return { first, end, shift };
}

/** Whether both lists hold the same items in the same order. */
export const isSameList = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a === b || (a.length === b.length && a.every((each, index) => each === b[index]));

/** Places at which two lists of one length differ; undefined where these are more than `most`, or the lengths differ. */
export function changedPlaces(
  items: ArrayLike<unknown>,
  former: ArrayLike<unknown>,
  most: number,
): number[] | undefined {
  if (items.length !== former.length) return undefined;
  const changed: number[] = [];
  for (let at = 0; at < items.length; at++)
    if (items[at] !== former[at] && changed.push(at) > most) return undefined;
  return changed;
}
