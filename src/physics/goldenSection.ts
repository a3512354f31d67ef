const golden = (Math.sqrt(5) - 1) / 2;

/**
 * Argument of the least value of a function with one minimum between two ends, by golden section (Kiefer, Proc. Amer. Math.
 * Soc. 4 (1953) 502-506, from memory, not confirmed): each round leaves 0.618 of the interval, 19 of them 1e-4.
 */
export function leastArgument(
  valueAt: (at: number) => number,
  from: number,
  to: number,
  rounds = 19,
): number {
  let [low, high] = [from, to];
  let [left, right] = [high - golden * (high - low), low + golden * (high - low)];
  let [atLeft, atRight] = [valueAt(left), valueAt(right)];
  for (let round = 0; round < rounds; round++) {
    if (atLeft < atRight) {
      [high, right, atRight] = [right, left, atLeft];
      left = high - golden * (high - low);
      atLeft = valueAt(left);
    } else {
      [low, left, atLeft] = [left, right, atRight];
      right = low + golden * (high - low);
      atRight = valueAt(right);
    }
  }
  return (low + high) / 2;
}
