import { analyseSweep, type SweepInput } from '../analysis/analyseSweep.js';
import type { Partner } from '../analysis/interpolatedSweep.js';
import type { Repeatability, SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { SweepTarget } from '../campaign/model.js';
import { Remembered } from './remembered.js';

const analyses = new Remembered<SweepAnalysis>();
const repeated = new Remembered<SweepAnalysis>();
const interpolated = new Remembered<SweepAnalysis>();
const reduced = new Remembered<SweepAnalysis>();

/**
 * The analysis of a sweep, computed when something it rests on has changed.
 * @param owner the record of the sweep; `key` tells apart the sweeps of one table
 */
export function rememberedAnalysis(owner: object, key: string, input: SweepInput): SweepAnalysis {
  const { settings, target, reading, readingFailure } = input;
  const { instant, irradiance, temperature } = settings;
  const degrees = temperature && temperature.kind !== 'voc' ? temperature.value.value : undefined;
  // The other settings come from the owner; these also from the zone of the site, and from the row of a table.
  const own = [instant, irradiance?.value, degrees, reading, readingFailure];
  const dependencies = [...own, ...targetItems(target)];
  return analyses.get(owner, key, dependencies, () => {
    const analysis = analyseSweep(input);
    inputs.set(analysis, { owner, key, input });
    return analysis;
  });
}

const inputs = new WeakMap<
  SweepAnalysis,
  { readonly owner: object; readonly key: string; readonly input: SweepInput }
>();

/** The analysis of the same sweep with the scatter of its repetitions in its uncertainty. */
export function repeatedAnalysis(
  { analysis }: { readonly analysis: SweepAnalysis },
  repeatability: Repeatability,
): SweepAnalysis {
  const { owner, key, input } = inputs.get(analysis)!;
  const dependencies = [analysis, repeatability.sweeps, ...Object.values(repeatability.relative)];
  return repeated.get(owner, key, dependencies, () => {
    const own = { ...input, repeatability };
    const result = analyseSweep(own);
    inputs.set(result, { owner, key, input: own });
    return result;
  });
}

/** The analysis of the same sweep by the coefficients of the substrings that a diagnosis found working. */
export function reducedAnalysis(
  { analysis }: { readonly analysis: SweepAnalysis },
  substringsOut: number,
): SweepAnalysis {
  const { owner, key, input } = inputs.get(analysis)!;
  return reduced.get(owner, key, [analysis, substringsOut], () => analyseSweep({ ...input, substringsOut }));
}

/** The analysis of the same sweep interpolated with another. */
export function interpolatedAnalysis(
  { analysis }: { readonly analysis: SweepAnalysis },
  partner: Partner,
): SweepAnalysis {
  const { owner, key, input } = inputs.get(analysis)!;
  const dependencies = [analysis, partner.analysis, partner.reading, partner.title];
  return interpolated.get(owner, key, dependencies, () => {
    const own = { ...input, partner };
    const result = analyseSweep(own);
    inputs.set(result, { owner, key, input: own });
    return result;
  });
}

/** What a target consists of: records are the same objects as long as their blocks are not edited. */
export function targetItems(target: SweepTarget): unknown[] {
  const { string, module, plane, site, criteria, layout, tracer, reference } = target;
  const { seriesModules, parallelStrings } = target;
  return [string, module, plane, site, criteria, layout, tracer, reference, seriesModules, parallelStrings];
}
