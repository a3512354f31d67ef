/** How one sweep stands to the expected curve in its three levels: current, voltage, fill factor. */
import { expectedModel } from '../analysis/diodeFit.js';
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import type { SweepTarget } from '../campaign/model.js';
import { characteristicPoints } from '../physics/singleDiode.js';

export interface SweepLevels {
  /** ln of measured over expected Isc. */
  readonly current: number;
  /** By how much warmer than given the cells would be for Voc to fit, K, with the irradiance that Isc tells. */
  readonly kelvin: number;
  /** ln of measured over expected fill factor. */
  readonly fill: number;
}

const known = new WeakMap<SweepAnalysis, SweepLevels | { readonly none: true }>();

/** Undefined where conditions, nameplate or a parameter are not known. */
export function sweepLevels(target: SweepTarget, analysis: SweepAnalysis): SweepLevels | undefined {
  let levels = known.get(analysis);
  if (!levels) known.set(analysis, (levels = workOut(target, analysis) ?? { none: true }));
  return 'none' in levels ? undefined : levels;
}

function workOut(target: SweepTarget, { conditions, measured }: SweepAnalysis): SweepLevels | undefined {
  const { isc, voc, ff } = measured?.parameters ?? {};
  const given = expectedModel(target, conditions);
  if (!given || !isc || !voc || !ff) return undefined;
  const current = Math.log(isc / characteristicPoints(given).isc);
  const at = (kelvin: number) =>
    characteristicPoints(
      expectedModel(target, {
        irradiance: conditions.irradiance! * Math.exp(current),
        cellTemperature: conditions.cellTemperature! + kelvin,
      })!,
    );
  const [cold, warm] = [at(-1), at(1)];
  const here = (cold.voc + warm.voc) / 2;
  return {
    current,
    kelvin: ((here - voc) * 2) / (cold.voc - warm.voc),
    fill: Math.log((ff * 2) / (cold.ff + warm.ff)),
  };
}
