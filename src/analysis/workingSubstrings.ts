/** A device of which some substrings are out of the current path translates by the coefficients of those that work. */
import type { SweepTarget } from '../campaign/model.js';
import type { Reason } from './sweepAnalysis.js';

/** Bypass diodes of a module whose nameplate does not say (3 for 54, 60 and 72 cells: common practice, no source). */
export const assumedSubstrings = 3;

/** Modules in series whose voltage is there; not whole where single substrings are out. At least one substring works. */
export function workingModules({ module, seriesModules }: SweepTarget, substringsOut: number): number {
  const each = module?.substrings ?? assumedSubstrings;
  return (seriesModules ?? 1) - Math.min(substringsOut, (seriesModules ?? 1) * each - 1) / each;
}

/** What the translation rests on then; none where all substrings work. */
export function substringReasons({ module, seriesModules }: SweepTarget, substringsOut: number): Reason[] {
  if (substringsOut === 0 || seriesModules === undefined) return [];
  const all = seriesModules * (module?.substrings ?? assumedSubstrings);
  const assumed = module?.substrings === undefined ? `, ${assumedSubstrings} a module assumed` : '';
  const text =
    `The curve shows ${substringsOut} of ${all} substrings out of the current path${assumed}: it was translated with beta, Rs and ` +
    'kappa of the others. The deviation is held against the nameplate of the whole device.';
  return [{ code: 'substrings-out', text, decisive: false }];
}
