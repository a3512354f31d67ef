/** Statistics that a few wild values do not move. */

/** The `rank`-th smallest (from 0) by Hoare's selection. Reorders `values`. */
export function select(values: Float64Array, rank: number): number {
  let left = 0;
  let right = values.length - 1;
  while (left < right) {
    const pivot = values[(left + right) >> 1]!;
    let low = left;
    let high = right;
    while (low <= high) {
      while (values[low]! < pivot) low++;
      while (values[high]! > pivot) high--;
      if (low <= high) {
        const swapped = values[low]!;
        values[low++] = values[high]!;
        values[high--] = swapped;
      }
    }
    if (rank <= high) right = high;
    else if (rank >= low) left = low;
    else return values[rank]!;
  }
  return values[rank]!;
}

/** Median of finite values; the upper of the two middle ones for an even count. NaN for none. */
export function median(values: ArrayLike<number>): number {
  if (values.length === 0) return NaN;
  return select(Float64Array.from(values), values.length >> 1);
}

/** Median of the absolute values; times 1.4826 it estimates the standard deviation of a normal error. */
export function medianAbsolute(values: ArrayLike<number>): number {
  const absolute = new Float64Array(values.length);
  for (let k = 0; k < values.length; k++) absolute[k] = Math.abs(values[k]!);
  return values.length === 0 ? NaN : select(absolute, values.length >> 1);
}

/**
 * Medians of values without one of them, as `median` has them for the others. Kept in order, so that each costs a look or a search,
 * and one value more or less costs a search and a shift.
 */
export class WithoutOne {
  #values: Float64Array;
  #count: number;
  /** By centre, of all values: leaving one out moves a median by a place at most, so two ranks are enough. */
  readonly #distances = new Map<number, readonly [number, number]>();

  constructor(values: Iterable<number> = []) {
    this.#values = Float64Array.from(values).sort();
    this.#count = this.#values.length;
  }

  add(value: number): void {
    if (this.#count === this.#values.length) {
      const larger = new Float64Array(2 * this.#count + 8);
      larger.set(this.#values);
      this.#values = larger;
    }
    const at = this.#firstNotBelow(value);
    this.#values.copyWithin(at + 1, at, this.#count++);
    this.#values[at] = value;
    this.#distances.clear();
  }

  /** @param value one of the values */
  remove(value: number): void {
    const at = this.#firstNotBelow(value);
    this.#values.copyWithin(at, at + 1, this.#count--);
    this.#distances.clear();
  }

  get count(): number {
    return this.#count;
  }

  /**
   * Values of one kind leave the same behind: the same median, and the same median distance from it. There are four kinds.
   * @param left one of the values
   */
  kindOf(left: number): number {
    const rank = (this.#count - 1) >> 1;
    const isUpper = this.#valueAt(rank) < left;
    const centre = this.#valueAt(isUpper ? rank : rank + 1);
    return (isUpper ? 0 : 2) + (this.#nearest(centre)[0] < Math.abs(left - centre) ? 0 : 1);
  }

  /** NaN where none is left. @param left one of the values; without it none is left out */
  median(left?: number): number {
    if (left === undefined) return this.#valueAt(this.#count >> 1);
    const rank = (this.#count - 1) >> 1;
    const value = this.#valueAt(rank);
    return value < left ? value : this.#valueAt(rank + 1);
  }

  /** Median of the absolute distances of the others from `centre`. */
  medianDistance(centre: number, left?: number): number {
    if (left === undefined) return this.#distanceAt(this.#count >> 1, centre);
    const near = this.#nearest(centre);
    return near[0] < Math.abs(left - centre) ? near[0] : near[1];
  }

  #nearest(centre: number): readonly [number, number] {
    let near = this.#distances.get(centre);
    if (!near) {
      const rank = (this.#count - 1) >> 1;
      near = [this.#distanceAt(rank, centre), this.#distanceAt(rank + 1, centre)];
      this.#distances.set(centre, near);
    }
    return near;
  }

  #valueAt(rank: number): number {
    return rank >= 0 && rank < this.#count ? this.#values[rank]! : NaN;
  }

  /** The `rank`-th smallest distance: those up to it belong to neighbours, and the farther end of their row has it. */
  #distanceAt(rank: number, centre: number): number {
    if (rank < 0 || rank >= this.#count) return NaN;
    const values = this.#values;
    let [low, high] = [0, this.#count - 1 - rank];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (centre - values[middle]! > values[middle + rank + 1]! - centre) low = middle + 1;
      else high = middle;
    }
    return Math.max(Math.abs(values[low]! - centre), Math.abs(values[low + rank]! - centre));
  }

  #firstNotBelow(value: number): number {
    let [low, high] = [0, this.#count];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.#values[middle]! < value) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}

/** Median of at most `width` (odd) neighbours around each value; windows shrink at the ends. Leaves a monotonic row as it is. */
export function runningMedian(values: Float64Array, width: number): Float64Array {
  const result = new Float64Array(values.length);
  const window = new Float64Array(width);
  for (let k = 0; k < values.length; k++) {
    const half = Math.min(width >> 1, k, values.length - 1 - k);
    const count = 2 * half + 1;
    // Insertion sort: the windows are tiny.
    for (let filled = 0; filled < count; filled++) {
      const value = values[k - half + filled]!;
      let at = filled;
      while (at > 0 && window[at - 1]! > value) {
        window[at] = window[at - 1]!;
        at--;
      }
      window[at] = value;
    }
    result[k] = window[half]!;
  }
  return result;
}
