import type { CheckedSweep } from '../checks/check.js';
import { stringOf } from '../campaign/names.js';
import type { StringCase } from './stringCase.js';

/** Sweeps that fail, also conditionally, on what is no string of the campaign, so that no case follows them. */
export function failedOutside<S extends CheckedSweep>({
  cases,
  sweeps,
}: {
  readonly cases: readonly StringCase[];
  readonly sweeps: readonly S[];
}): S[] {
  const strings = new Set(cases.map(({ string }) => string));
  return sweeps.filter(
    ({ address, analysis }) => analysis.verdict.endsWith('fail') && !strings.has(stringOf(address)),
  );
}
