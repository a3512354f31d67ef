import { carrySweep, judgeSweep, type CarriedSweep, type SweepInput } from '../analysis/analyseSweep.js';
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
  return analyses.get(owner, key, dependenciesOf(input), () => analysed({ owner, key, input }));
}

export const isAnalysed = (owner: object, key: string, input: SweepInput): boolean =>
  analyses.has(owner, key, dependenciesOf(input));

/** Takes an analysis that was computed elsewhere, of the same input, for the one of this sweep. */
export function rememberAnalysis(
  owner: object,
  key: string,
  input: SweepInput,
  analysis: SweepAnalysis,
): void {
  analyses.set(owner, key, dependenciesOf(input), from({ owner, key, input }, analysis));
}

function dependenciesOf({ settings, target, reading, readingFailure }: SweepInput): unknown[] {
  const { instant, irradiance, temperature } = settings;
  const degrees = temperature && temperature.kind !== 'voc' ? temperature.value.value : undefined;
  // The other settings come from the owner; these also from the zone of the site, and from the row of a table.
  return [instant, irradiance?.value, degrees, reading, readingFailure, ...targetItems(target)];
}

interface Origin {
  readonly owner: object;
  readonly key: string;
  readonly input: SweepInput;
  /** Where the analysis was computed here; what it shares with another one of the same points is not computed again. */
  readonly carried?: CarriedSweep;
}

const origins = new WeakMap<SweepAnalysis, Origin>();

function from(origin: Origin, analysis: SweepAnalysis): SweepAnalysis {
  origins.set(analysis, origin);
  return analysis;
}

/** @param extracted the parameters of the points, where they are known */
function analysed(origin: Origin, extracted?: CarriedSweep['extracted']): SweepAnalysis {
  const carried = carrySweep(origin.input, extracted);
  return from({ ...origin, carried }, judgeSweep(carried, origin.input.repeatability));
}

/** The analysis of the same sweep with the scatter of its repetitions in its uncertainty. */
export function repeatedAnalysis(
  { analysis }: { readonly analysis: SweepAnalysis },
  repeatability: Repeatability,
): SweepAnalysis {
  const { owner, key, input, carried = carrySweep(input) } = origins.get(analysis)!;
  return repeated.get(owner, key, scatterOf(analysis, repeatability), () =>
    from({ owner, key, input: { ...input, repeatability }, carried }, judgeSweep(carried, repeatability)),
  );
}

/** Takes the analysis of a sweep among its repetitions that was computed elsewhere. */
export function rememberRepeated(
  analysis: SweepAnalysis,
  repeatability: Repeatability,
  result: SweepAnalysis,
): void {
  const { owner, key, input } = origins.get(analysis)!;
  const origin = { owner, key, input: { ...input, repeatability } };
  repeated.set(owner, key, scatterOf(analysis, repeatability), from(origin, result));
}

const scatterOf = (analysis: SweepAnalysis, { sweeps, relative }: Repeatability): unknown[] => [
  analysis,
  sweeps,
  ...Object.values(relative),
];

/** The analysis of the same sweep by the coefficients of the substrings that a diagnosis found working. */
export function reducedAnalysis(
  { analysis }: { readonly analysis: SweepAnalysis },
  substringsOut: number,
): SweepAnalysis {
  const { owner, key, input, carried } = origins.get(analysis)!;
  return reduced.get(owner, key, [analysis, substringsOut], () =>
    analysed({ owner, key, input: { ...input, substringsOut } }, carried?.extracted),
  );
}

/** Takes such an analysis that was computed elsewhere. */
export function rememberReduced(analysis: SweepAnalysis, substringsOut: number, result: SweepAnalysis): void {
  const { owner, key } = origins.get(analysis)!;
  reduced.set(owner, key, [analysis, substringsOut], result);
}

/** The analysis of the same sweep interpolated with another. */
export function interpolatedAnalysis(
  { analysis }: { readonly analysis: SweepAnalysis },
  partner: Partner,
): SweepAnalysis {
  const { owner, key, input, carried } = origins.get(analysis)!;
  return interpolated.get(owner, key, partnershipOf(analysis, partner), () =>
    analysed({ owner, key, input: { ...input, partner } }, carried?.extracted),
  );
}

/** Takes such an analysis that was computed elsewhere. */
export function rememberInterpolated(analysis: SweepAnalysis, partner: Partner, result: SweepAnalysis): void {
  const { owner, key, input } = origins.get(analysis)!;
  const origin = { owner, key, input: { ...input, partner } };
  interpolated.set(owner, key, partnershipOf(analysis, partner), from(origin, result));
}

const partnershipOf = (analysis: SweepAnalysis, partner: Partner): unknown[] => [
  analysis,
  partner.analysis,
  partner.reading,
  partner.title,
];

/** What a target consists of: records are the same objects as long as their blocks are not edited. */
export function targetItems(target: SweepTarget): unknown[] {
  const { string, module, plane, site, criteria, layout, tracer, reference } = target;
  const { seriesModules, parallelStrings } = target;
  return [string, module, plane, site, criteria, layout, tracer, reference, seriesModules, parallelStrings];
}
