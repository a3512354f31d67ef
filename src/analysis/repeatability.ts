/** Scatter of repeated sweeps: what one sweep of a device differs from the next although nothing was changed. */
import type { ParameterName } from '../campaign/model.js';
import { parameterNames } from '../physics/ivCurve.js';
import type { Repeatability, SweepAnalysis } from './sweepAnalysis.js';

/** Fewer sweeps tell no scatter: own choice; with three, the standard deviation itself is known to about 50 %. */
export const leastRepeats = 3;

/**
 * Those that repeat each other: their Pmax agree within what each is known to. Between others something was changed, such as a module
 * replaced, a connector remade or glass cleaned, and that is no scatter. In the order of Pmax. Only judged sweeps count: one in poor light or
 * declared void says nothing about the others. Interpolated ones share their curves and do not scatter freely.
 */
export function agreeing<S extends { readonly analysis: SweepAnalysis }>(sweeps: readonly S[]): S[][] {
  const counted = sweeps
    .filter(({ analysis }) => counts(analysis))
    .sort((a, b) => pmaxOf(a.analysis) - pmaxOf(b.analysis));
  const groups: S[][] = [];
  for (const sweep of counted) {
    const last = groups.at(-1)?.at(-1);
    if (last && agree(last.analysis, sweep.analysis)) groups.at(-1)!.push(sweep);
    else groups.push([sweep]);
  }
  return groups;
}

const pmaxOf = ({ translated }: SweepAnalysis): number => translated?.parameters.pmax ?? -Infinity;

/** Expanded uncertainties of both; where one is not known, nothing tells them apart. */
function agree(a: SweepAnalysis, b: SweepAnalysis): boolean {
  const [own, other] = [a.uncertainty.pmax, b.uncertainty.pmax];
  if (own === undefined || other === undefined) return true;
  return Math.abs(pmaxOf(a) - pmaxOf(b)) <= Math.hypot(own * pmaxOf(a), other * pmaxOf(b));
}

const counts = ({ verdict, translated }: SweepAnalysis): boolean =>
  translated !== undefined &&
  translated.procedure !== 'IEC60891-3' &&
  verdict !== 'not judged' &&
  verdict !== 'void';

/**
 * Relative standard deviation of each translated parameter (JCGM 100:2008, 4.2: type A evaluation), of one sweep, not of
 * their mean. Undefined with fewer than three.
 * @param analyses of sweeps that are `agreeing`
 */
export function repeatabilityOf(analyses: readonly SweepAnalysis[]): Repeatability | undefined {
  if (analyses.length < leastRepeats) return undefined;
  const relative: Partial<Record<ParameterName, number>> = {};
  for (const name of parameterNames) {
    const values = analyses.flatMap(({ translated }) => translated!.parameters[name] ?? []);
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    if (values.length < leastRepeats || !(mean > 0)) continue;
    const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
    relative[name] = Math.sqrt(squares / (values.length - 1)) / mean;
  }
  return { sweeps: analyses.length, relative };
}
