/**
 * Analyses remembered: each holds as long as everything it was computed from is the same object or the same value. An edit
 * replaces only the records of the blocks it touched, so only what depends on them is computed again.
 */
import { analyseSweep, type SweepInput } from '../analysis/analyseSweep.js';
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';

interface Remembered {
  readonly dependencies: readonly unknown[];
  readonly analysis: SweepAnalysis;
}

const byOwner = new WeakMap<object, Map<string, Remembered>>();

/** @param owner the record of the sweep; `key` tells apart the sweeps of one table. */
export function rememberedAnalysis(owner: object, key: string, input: SweepInput): SweepAnalysis {
  let ofOwner = byOwner.get(owner);
  if (!ofOwner) byOwner.set(owner, (ofOwner = new Map()));
  const dependencies = dependenciesOf(input);
  const known = ofOwner.get(key);
  if (known && sameItems(known.dependencies, dependencies)) return known.analysis;
  const analysis = analyseSweep(input);
  ofOwner.set(key, { dependencies, analysis });
  return analysis;
}

/** `settings` come from the owner, save the instant, which also depends on the site. */
function dependenciesOf({ settings, target, reading, readingFailure }: SweepInput): unknown[] {
  const { string, module, plane, site, criteria, tracer, reference, seriesModules, parallelStrings } = target;
  return [
    settings.instant,
    reading,
    readingFailure,
    string,
    module,
    plane,
    site,
    criteria,
    tracer,
    reference,
    seriesModules,
    parallelStrings,
  ];
}

function sameItems(a: readonly unknown[], b: readonly unknown[]): boolean {
  return a.length === b.length && a.every((item, index) => Object.is(item, b[index]));
}
