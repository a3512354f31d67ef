/** How well the instruments of a sweep measured, as far as the campaign declares it. */
import type { SweepTarget } from '../campaign/model.js';
import type { Uncertainty } from '../campaign/quantity.js';
import type { CurveParameters } from '../physics/ivCurve.js';
import { assumedTolerances } from './assumedTolerances.js';
import type { SweepConditions } from './sweepAnalysis.js';

/** What the instruments tell of one sweep. */
interface Readings {
  readonly target: SweepTarget;
  readonly conditions: SweepConditions;
  /** As measured: an absolute accuracy is that of a reading. */
  readonly parameters: CurveParameters;
}

/** k = 1, as a fraction of a reading; undefined where not declared, or absolute without a reading. */
export function standardFraction(
  declared: Uncertainty | undefined,
  reading: number | undefined,
): number | undefined {
  if (!declared) return undefined;
  if (declared.relative) return declared.value / declared.coverageFactor;
  return reading ? declared.value / declared.coverageFactor / Math.abs(reading) : undefined;
}

/** k = 1; undefined when one of tracer voltage, tracer current, irradiance and temperature is not known. */
export function instrumentUncertainties({
  target,
  conditions,
  parameters,
}: Readings): InstrumentUncertainties | undefined {
  const voltage = standardFraction(target.tracer?.voltage, parameters.vmp);
  const current = standardFraction(target.tracer?.current, parameters.imp);
  const { irradianceUncertainty, temperatureUncertainty } = conditions;
  if (
    voltage === undefined ||
    current === undefined ||
    irradianceUncertainty === undefined ||
    temperatureUncertainty === undefined
  ) {
    return undefined;
  }
  return {
    voltage,
    current,
    irradiance: irradianceUncertainty / 2,
    temperature: temperatureUncertainty / 2,
    alignment: alignmentError(target, conditions),
    spectrum: standardFraction(target.reference?.spectral, conditions.irradiance) ?? 0,
    drift: conditions.driftUncorrected ? conditions.drift! / 2 / Math.sqrt(3) : 0,
    rear: (conditions.rearUncertainty ?? 0) / 2,
    temperatureSpread: temperatureSpread(target, conditions),
  };
}

/** k = 1, K. Voc is a thermometer of all cells; a sensor is one of the cell that it touches. */
function temperatureSpread(
  { seriesModules = 1, parallelStrings }: SweepTarget,
  { temperatureSource }: SweepConditions,
): number {
  if (temperatureSource === 'voc') return 0;
  return assumedTolerances.temperatureSpread[seriesModules * parallelStrings > 1 ? 'modules' : 'module'];
}

export type InstrumentUncertainties = Readonly<
  Record<
    | 'voltage'
    | 'current'
    | 'irradiance'
    | 'temperature'
    | 'alignment'
    | 'spectrum'
    | 'drift'
    | 'rear'
    | 'temperatureSpread',
    number
  >
>;

/** Where the angle of incidence is not known: tan 45 deg = 1 (own choice; criteria rarely allow more). Degrees. */
const assumedIncidence = 45;

/**
 * k = 1, as a fraction: a plane that is turned by d against the array reads cos(i + d)/cos(i) of the direct light, which is tan(i) d
 * to first order. All light is taken as direct, which is the worst case.
 */
function alignmentError(
  { reference }: SweepTarget,
  { incidence = assumedIncidence }: SweepConditions,
): number {
  const declared = reference?.alignment;
  if (!declared || declared.relative) return 0;
  const radians = ((declared.value / declared.coverageFactor) * Math.PI) / 180;
  return Math.tan((Math.min(incidence, 80) * Math.PI) / 180) * radians;
}
