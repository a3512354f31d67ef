/** An irradiance for each point: what counts of it, and the curve as it would be at one irradiance. */
import { extractParameters } from '../physics/curveParameters.js';
import type { DeviceCoefficients } from '../physics/deviceCoefficients.js';
import type { CurveAt } from '../physics/interpolation.js';
import { translateByProcedure1, translateByProcedure2 } from '../physics/translation.js';
import { median } from '../physics/robustStatistics.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import type { Correction } from './moduleScience.js';

/** Mean of what was read; NaN stands where a field was empty. Undefined when all are. */
export function meanOf(values: Float64Array | undefined): number | undefined {
  const read = values?.filter((value) => !Number.isNaN(value));
  return read && read.length > 0 ? read.reduce((sum, value) => sum + value, 0) / read.length : undefined;
}

/** A reading below this share of the median is a reading that dropped out: own choice; no sweep lasts as long as a cloud needs. */
const leastShare = 0.1;

/**
 * The irradiance of each point (W/m2) with NaN where it was not read, and where it fell out: a logger writes 0 for a reading that
 * it missed. Where no reading is above zero, all stay as they are.
 */
export function usableIrradiance(reading: SweepReading | undefined): Float64Array | undefined {
  const values = reading?.irradiance;
  const bright = values?.filter((value) => value > 0);
  if (!values || !bright || bright.length === 0) return values;
  const least = leastShare * median(bright);
  return values.map((value) => (value < least ? NaN : value));
}

/** How many readings fell out. */
export function droppedReadings(reading: SweepReading | undefined): number {
  const usable = usableIrradiance(reading);
  return usable
    ? usable.filter((value, k) => Number.isNaN(value) && !Number.isNaN(reading!.irradiance![k]!)).length
    : 0;
}

/**
 * The curve with every point carried from its own irradiance to that of `measured.conditions`, and Isc there: the point at V = 0 was
 * taken at the irradiance of its moment. A point without a reading stays as it is. The readings are scaled so that their mean
 * is the irradiance of the conditions, which may hold a share of the rear.
 */
export function atOneIrradiance(
  measured: CurveAt,
  readings: Float64Array | undefined,
  correction: Correction,
  coefficients: DeviceCoefficients,
): CurveAt {
  const mean = meanOf(readings);
  if (!readings || mean === undefined || readings.every((value) => value === readings[0])) return measured;
  const { curve, conditions } = measured;
  const points = readings.map((value) =>
    Number.isNaN(value) ? conditions.irradiance : (value * conditions.irradiance) / mean,
  );
  let { isc } = measured;
  let steady = curve;
  // The shift of procedure 1 rests on Isc itself; a second round leaves nothing of a drift of some percent.
  for (let round = 0; round < (correction === 2 ? 1 : 2); round++) {
    steady =
      correction === 2
        ? translateByProcedure2(curve, conditions, conditions, coefficients, points)
        : translateByProcedure1(curve, isc, conditions, conditions, coefficients, points);
    isc = extractParameters(steady).parameters.isc ?? isc;
  }
  return { curve: steady, isc, conditions };
}
