/** Expanded uncertainty where some contributions are known from few observations: JCGM 100:2008, annex G. */
import { coverageFactor } from './studentDistribution.js';

export interface Contribution {
  /** u_i, k = 1, in the unit of the result; the sign is of no matter. */
  readonly standard: number;
  /** Infinity for what is not told by few observations. */
  readonly degreesOfFreedom: number;
}

export interface Expansion {
  /** u_c, k = 1. */
  readonly combined: number;
  /** Infinity where nothing rests on few observations. */
  readonly degreesOfFreedom: number;
  /** k for 95.45 %: 2 with infinite degrees of freedom, else larger. */
  readonly factor: number;
}

/**
 * Welch-Satterthwaite formula (G.4.1, equation G.2b): nu_eff = u_c^4 / sum(u_i^4 / nu_i), and Student's factor for 95.45 % at it (G.3.2).
 * nu_eff is used as it comes, which is the interpolation that G.4.1 allows, not cut to a whole number.
 */
export function expand(contributions: readonly Contribution[]): Expansion {
  const combined = Math.hypot(...contributions.map(({ standard }) => standard));
  const told = contributions.filter(({ degreesOfFreedom }) => Number.isFinite(degreesOfFreedom));
  const sum = told.reduce(
    (total, each) => total + (each.standard / combined) ** 4 / each.degreesOfFreedom,
    0,
  );
  const degreesOfFreedom = sum > 0 ? 1 / sum : Infinity;
  return { combined, degreesOfFreedom, factor: sum > 0 ? coverageFactor(degreesOfFreedom) : 2 };
}
