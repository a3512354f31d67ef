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

/** Medians of values without one of them: sorted once, each costs a search. As `median` has them for the others. */
export class WithoutOne {
  readonly #values: Float64Array;
  /** Sorted distances from the centres asked for: leaving one out moves a median by a place at most. */
  readonly #distances = new Map<number, Float64Array>();

  constructor(values: Iterable<number>) {
    this.#values = Float64Array.from(values).sort();
  }

  /** @param left one of the values; without it none is left out */
  median(left?: number): number {
    return medianWithout(this.#values, left);
  }

  /** Median of the absolute distances of the others from `centre`. */
  medianDistance(centre: number, left?: number): number {
    let distances = this.#distances.get(centre);
    if (!distances) {
      distances = this.#values.map((value) => Math.abs(value - centre)).sort();
      this.#distances.set(centre, distances);
    }
    return medianWithout(distances, left === undefined ? undefined : Math.abs(left - centre));
  }
}

function medianWithout(sorted: Float64Array, left: number | undefined): number {
  if (left === undefined) return sorted[sorted.length >> 1] ?? NaN;
  const rank = (sorted.length - 1) >> 1;
  return sorted[rank < firstNotBelow(sorted, left) ? rank : rank + 1] ?? NaN;
}

function firstNotBelow(sorted: Float64Array, value: number): number {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
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
