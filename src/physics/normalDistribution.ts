/** The standard normal distribution. */

const density = (x: number): number => Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI);

/**
 * Phi(x), the probability that a standard normal variable stays below x; relative error under 1e-10 in either tail, exact
 * 0 and 1 beyond what a double holds. Series near the middle (Abramowitz and Stegun, Handbook of Mathematical Functions,
 * 26.2.11), continued fraction in the tails (26.2.14).
 */
export function normalCdf(x: number): number {
  if (Number.isNaN(x)) return NaN;
  if (x > 3) return 1 - upperTail(x);
  if (x < -3) return upperTail(-x);
  let term = x;
  let sum = x;
  for (let k = 3; Math.abs(term) > 1e-17; k += 2) {
    term *= (x * x) / k;
    sum += term;
  }
  return 0.5 + density(x) * sum;
}

/** Q(x) for x > 3. */
function upperTail(x: number): number {
  let fraction = x;
  for (let k = 60; k >= 1; k--) fraction = x + k / fraction;
  return density(x) / fraction;
}
