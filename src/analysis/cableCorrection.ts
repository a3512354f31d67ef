/** From the place of measurement to the module terminals, which is where a nameplate holds. */
import type { SweepTarget } from '../campaign/model.js';
import { cableResistance, removeSeriesResistance } from '../physics/cable.js';
import type { IvCurve } from '../physics/ivCurve.js';
import type { Estimate } from './sweepAnalysis.js';

/** Of a conductor on a sunlit roof, degC, with a standard uncertainty in K: common practice, no source. */
const conductor = { temperature: 40, standardUncertainty: 10 } as const;

export interface CableCorrection {
  readonly curve: IvCurve;
  /** What was taken as the resistance of the cable; absent where nothing was corrected. */
  readonly estimate?: Estimate;
  /** Standard uncertainty of that resistance, ohm. */
  readonly standardUncertainty?: number;
}

/** A whole string is measured through its cable; a module or a section at its own leads. */
export function atModuleTerminals(curve: IvCurve, { string, wholeString }: SweepTarget): CableCorrection {
  const cable = string?.cable;
  if (!cable || !wholeString) return { curve };
  const run = {
    length: cable.length.value,
    crossSection: cable.crossSection.value * 1e6,
    conductor: cable.conductor,
  };
  const { resistance, standardUncertainty } = cableResistance(run, conductor.temperature);
  const perKelvin = 0.004 * resistance;
  return {
    curve: removeSeriesResistance(curve, resistance),
    standardUncertainty: Math.hypot(standardUncertainty, perKelvin * conductor.standardUncertainty),
    estimate: {
      symbol: 'Rcable',
      value: resistance,
      unit: 'ohm',
      method: `cable of ${cable.length.writtenValue} ${cable.length.unit}, ${cable.crossSection.writtenValue} ${cable.crossSection.unit} ${cable.conductor} at ${conductor.temperature} degC (between its geometry and the maximum of IEC 60228); its voltage drop is added back`,
    },
  };
}
