/**
 * The principal branch of Lambert's W for arguments given by their logarithm: w = W(exp(x)), the solution of
 * w + ln w = x. The argument itself may be far outside the range of a number, the result never is.
 *
 * Fourth-order iteration of Fritsch, Shafer and Crowley, Communications of the ACM 16 (1973) 123-124 (from memory, not
 * confirmed); the tests hold it against its defining equation. Any finite `x`; relative error about 1e-15.
 */
export function lambertWOfExp(x: number): number {
  // Below this, W(z) = z - z^2 to the last bit, and ln w would lose digits.
  if (x < -20) {
    const z = Math.exp(x);
    return z * (1 - z);
  }
  let w = startingValue(x);
  for (let round = 0; round < 4; round++) {
    const residual = x - w - Math.log(w);
    const onePlus = 1 + w;
    const q = 2 * onePlus * (onePlus + (2 / 3) * residual);
    const change = ((residual / onePlus) * (q - residual)) / (q - 2 * residual);
    w *= 1 + change;
    if (Math.abs(change) < 1e-4) break; // the next correction would be of the order 1e-16
  }
  return w;
}

function startingValue(x: number): number {
  if (x > 1.5) {
    const logarithm = Math.log(x);
    return x - logarithm + logarithm / x;
  }
  const z = Math.exp(x);
  return x < -1.5 ? z / (1 + z) : Math.log1p(z) * (1 - Math.log1p(Math.log1p(z)) / (2 + Math.log1p(z)));
}
