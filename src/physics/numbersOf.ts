/** A number of each item. What `Float64Array.from` does, which walks an iterator for it and takes ten times as long. */
export function numbersOf<Item>(
  items: ArrayLike<Item>,
  numberOf: (item: Item, at: number) => number,
): Float64Array<ArrayBuffer> {
  const numbers = new Float64Array(items.length);
  for (let at = 0; at < numbers.length; at++) numbers[at] = numberOf(items[at]!, at);
  return numbers;
}

/** Those of the places from 0 up to `count` for which something holds. */
export function placesWhere(count: number, holds: (place: number) => boolean): number[] {
  const places: number[] = [];
  for (let place = 0; place < count; place++) if (holds(place)) places.push(place);
  return places;
}

/** The values that stand at some places. */
export function pick(values: ArrayLike<number>, places: ArrayLike<number>): Float64Array<ArrayBuffer> {
  const picked = new Float64Array(places.length);
  for (let at = 0; at < picked.length; at++) picked[at] = values[places[at]!]!;
  return picked;
}
