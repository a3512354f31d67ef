/** Statements of conformity with a limit: decision rules of ILAC-G8:09/2019 and the probability of conformity. */
import { studentCdf } from './studentDistribution.js';

export type Outcome = 'pass' | 'conditional pass' | 'conditional fail' | 'fail';

/** `simple`: the value decides. `guarded`: with a guard band w = U at every limit, non-binary. */
export type DecisionRule = 'simple' | 'guarded';

export interface DecisionInput {
  readonly value: number;
  /** Tolerance limits in the unit of `value`; absent: open on this side. A value on a limit conforms. */
  readonly least?: number | undefined;
  readonly most?: number | undefined;
  /** U, in the unit of `value`. The guarded rule needs it. */
  readonly expandedUncertainty?: number | undefined;
  /** By which k U was expanded and how many degrees of freedom it rests on; absent: k = 2, infinite. */
  readonly coverage?: { readonly factor: number; readonly degreesOfFreedom: number } | undefined;
  readonly rule: DecisionRule;
}

export interface Decision {
  readonly outcome: Outcome;
  /** Probability that the true value lies within the limits; absent where U is. */
  readonly conformityProbability?: number;
}

const bestToWorst: readonly Outcome[] = ['pass', 'conditional pass', 'conditional fail', 'fail'];

/**
 * Decides by ILAC-G8:09/2019, 4.2. Simple acceptance: pass up to the limit, fail beyond. Guarded, w = U, for an upper
 * limit TL: pass up to TL - w, conditional pass up to TL, conditional fail up to TL + w, fail beyond; a lower limit
 * mirrors it. With two limits the worse outcome counts.
 *
 * Throws a RangeError where the guarded rule has no uncertainty: the caller says "not judged".
 */
export function decide(input: DecisionInput): Decision {
  const { value, least, most, expandedUncertainty, rule } = input;
  const { factor, degreesOfFreedom } = input.coverage ?? { factor: 2, degreesOfFreedom: Infinity };
  if (rule === 'guarded' && expandedUncertainty === undefined) {
    throw new RangeError('The guarded decision rule needs an expanded uncertainty.');
  }
  const guard = rule === 'guarded' ? expandedUncertainty! : 0;
  const margins = [
    ...(least === undefined ? [] : [value - least]),
    ...(most === undefined ? [] : [most - value]),
  ];
  const worst = Math.max(0, ...margins.map((margin) => bestToWorst.indexOf(outcomeOf(margin, guard))));
  const outcome = bestToWorst[worst]!;
  if (expandedUncertainty === undefined) return { outcome };
  return {
    outcome,
    conformityProbability: conformityProbability(
      value,
      expandedUncertainty / factor,
      least,
      most,
      degreesOfFreedom,
    ),
  };
}

/** `margin` is how far inside the limit the value lies; negative when outside. */
function outcomeOf(margin: number, guard: number): Outcome {
  if (margin >= guard) return 'pass';
  if (margin >= 0) return 'conditional pass';
  if (margin >= -guard && guard > 0) return 'conditional fail';
  return 'fail';
}

/**
 * Probability that the true value lies within the limits, given the measured `value` and its standard uncertainty `u`:
 * Phi((most - y)/u) - Phi((least - y)/u), for one lower limit Phi((y - least)/u). JCGM 106:2012, clause 7, from memory of
 * its numbering; standard mathematics of the normal distribution. With `u` 0 it is 1 or 0. Where `u` rests on finite degrees of
 * freedom, Phi is Student's distribution scaled by u (JCGM 101:2008, 6.4.9).
 */
export function conformityProbability(
  value: number,
  u: number,
  least: number | undefined,
  most: number | undefined,
  degreesOfFreedom = Infinity,
): number {
  const cdf = (x: number): number => studentCdf(x, degreesOfFreedom);
  if (u === 0)
    return (least === undefined || value >= least) && (most === undefined || value <= most) ? 1 : 0;
  if (least === undefined) return most === undefined ? 1 : cdf((most - value) / u);
  if (most === undefined) return cdf((value - least) / u);
  // Differences of the smaller tails keep digits where both arguments are large and positive.
  const below = (least - value) / u;
  const above = (most - value) / u;
  const probability = below > 0 ? cdf(-below) - cdf(-above) : cdf(above) - cdf(below);
  return Math.max(0, probability);
}
