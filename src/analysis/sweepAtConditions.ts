/** A measured curve brought to the conditions of another sweep, by the coefficients of the substrings that still work. */
import { characteristicPoints } from '../physics/singleDiode.js';
import { continueToOpenCircuit } from '../physics/curveParameters.js';
import { deviceCoefficients } from '../physics/deviceCoefficients.js';
import type { Conditions, IvCurve } from '../physics/ivCurve.js';
import { atModuleTerminals } from './cableCorrection.js';
import { expectedModel } from './diodeFit.js';
import type { MeasuredSweep } from './interpolatedSweep.js';
import { moduleScience } from './moduleScience.js';
import { atOneIrradiance, usableIrradiance } from './pointIrradiance.js';
import { chooseProcedure } from './procedureChoice.js';
import { junctionOf, moveCurve } from './translateSweep.js';
import { workingModules } from './workingSubstrings.js';

/**
 * Substrings whose voltage the whole curve lacks, counted by the measured Voc against that of the nameplate's model at the
 * same conditions; at least one works. 0 where Voc or the model is not known.
 */
export function substringsOutByVoc({ target, analysis }: MeasuredSweep): number {
  const { module, seriesModules } = target;
  const voc = analysis.measured?.parameters.voc;
  const model = expectedModel(target, analysis.conditions);
  if (!model || voc === undefined || module?.substrings === undefined) return 0;
  const substrings = module.substrings * seriesModules!;
  const out = Math.round(substrings * (1 - voc / characteristicPoints(model).voc));
  return Math.min(Math.max(out, 0), substrings - 1);
}

export interface MovedSweep {
  /** At the module terminals, with Isc as the point at V = 0 where the sweep began above it. */
  readonly curve: IvCurve;
  /** A. */
  readonly isc: number;
}

/**
 * The curve of a sweep at other conditions, at the module terminals, by the procedure its criteria take (procedure 3 by that of
 * its temperature step). beta, Rs and kappa are those of the substrings that work (`substringsOut` do not). Undefined where
 * conditions, Isc or coefficients are not known.
 */
export function sweepAtConditions(
  { reading, target, analysis }: MeasuredSweep,
  to: Conditions,
  substringsOut: number,
): MovedSweep | undefined {
  const { module, seriesModules, parallelStrings } = target;
  const { irradiance, cellTemperature } = analysis.conditions;
  const isc = analysis.measured?.parameters.isc;
  if (!reading || !module || seriesModules === undefined || isc === undefined) return undefined;
  if (irradiance === undefined || cellTemperature === undefined) return undefined;
  const science = moduleScience(module);
  const { correction } = chooseProcedure(target, science);
  const known = science.procedures?.[correction];
  if (!known) return undefined;
  const working = workingModules(target, substringsOut);
  const coefficients = deviceCoefficients(known.coefficients, working, parallelStrings);
  const measured = {
    curve: atModuleTerminals(reading.curve, target).curve,
    isc,
    conditions: { irradiance, cellTemperature },
  };
  const steady = atOneIrradiance(measured, usableIrradiance(reading), correction, coefficients);
  const junction = known.junction && junctionOf(known.junction, coefficients);
  const moved = moveCurve(steady, to, correction, coefficients, junction);
  return { curve: fromShortCircuit(continueToOpenCircuit(moved.curve).curve, moved.isc), isc: moved.isc };
}

function fromShortCircuit({ voltage, current }: IvCurve, isc: number): IvCurve {
  if (voltage.length === 0 || voltage[0]! <= 0) return { voltage, current };
  return { voltage: Float64Array.of(0, ...voltage), current: Float64Array.of(isc, ...current) };
}
