/** Student's t-distribution, for standard uncertainties that few observations tell. */
import { normalCdf } from './normalDistribution.js';

/** 2 Phi(2) - 1 = 95.45 %: what k = 2 covers of a normal distribution. */
export const coverageOfTwo = 2 * normalCdf(2) - 1;

/** More degrees of freedom than this make no difference that is shown. */
const asGoodAsInfinite = 1e7;

/**
 * Probability that a variable of Student's distribution stays below `t`. `degreesOfFreedom` is above 0, need not be whole, and may be
 * Infinity, which is the normal distribution. Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.1: the tail is
 * I_x(nu/2, 1/2)/2 with x = nu/(nu + t²).
 */
export function studentCdf(t: number, degreesOfFreedom: number): number {
  if (Number.isNaN(t) || !(degreesOfFreedom > 0)) return NaN;
  if (degreesOfFreedom > asGoodAsInfinite) return normalCdf(t);
  const x = degreesOfFreedom / (degreesOfFreedom + t * t);
  const tail = incompleteBeta(x, (t * t) / (degreesOfFreedom + t * t), degreesOfFreedom / 2, 0.5) / 2;
  return t > 0 ? 1 - tail : tail;
}

/**
 * The coverage factor t_p(nu) that encloses `coverage` (0 to 1, both excluded) of Student's distribution: JCGM 100:2008, table G.2
 * and G.3.2. For `coverageOfTwo` and infinite degrees of freedom it is 2.
 */
export function coverageFactor(degreesOfFreedom: number, coverage: number = coverageOfTwo): number {
  if (!(degreesOfFreedom > 0) || !(coverage > 0 && coverage < 1)) return NaN;
  const tail = (1 - coverage) / 2;
  let low = 0;
  let high = 1;
  while (studentCdf(-high, degreesOfFreedom) > tail && high < 1e300) high *= 2;
  for (let step = 0; step < 80 && high - low > 1e-13 * high; step++) {
    const middle = (low + high) / 2;
    if (studentCdf(-middle, degreesOfFreedom) > tail) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** I_x(a, b) with y = 1 - x given apart, so that neither loses digits; by continued fraction (26.5.8), reflected where it is slow. */
function incompleteBeta(x: number, y: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (y <= 0) return 1;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log(y));
  return x < (a + 1) / (a + b + 2)
    ? (front * betaFraction(x, a, b)) / a
    : 1 - (front * betaFraction(y, b, a)) / b;
}

/** By the modified method of Lentz (Thompson and Barnett, J. Comput. Phys. 64 (1986) 490-509). */
function betaFraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  const safe = (value: number): number => (Math.abs(value) < tiny ? tiny : value);
  let c = 1;
  let d = 1 / safe(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m <= 10_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / safe(1 + even * d);
    c = safe(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / safe(1 + odd * d);
    c = safe(1 + odd / c);
    fraction *= d * c;
    if (Math.abs(d * c - 1) < 1e-15) break;
  }
  return fraction;
}

/** ln Gamma(x) for x > 0: Stirling's series (6.1.41) after stepping x above 10. */
function logGamma(x: number): number {
  let shift = 0;
  let z = x;
  for (; z < 10; z++) shift += Math.log(z);
  const inverse = 1 / (z * z);
  const series =
    (1 / 12 - inverse * (1 / 360 - inverse * (1 / 1260 - inverse * (1 / 1680 - inverse / 1188)))) / z;
  return (z - 0.5) * Math.log(z) - z + 0.5 * Math.log(2 * Math.PI) + series - shift;
}
