import { angleOfIncidence } from '../physics/sunPosition.js';
import type { FileProblem } from '../text/problem.js';
import { propertyRange, type Check, type CheckedSweep } from './check.js';
import { byPlaneAndDay, othersPlaces, othersSentence, type SweepsOfPlaneAndDay } from './planeAndDay.js';
import { sentenceOfShifts } from './shiftedTime.js';
import { lowestSun } from './sunBelowHorizon.js';

/**
 * Degrees; the limit is the project's own. A shadow of 18 mm read to 1 mm on a pin of 50 mm tells the angle to 1 deg, a clock that is
 * five minutes off moves it by up to 1.3 deg, and a roof is rarely known better than to 2 deg.
 */
export const mostPinDifference = 5;

/** Once for a plane and a day, as what makes them differ is. */
export const pinShadow: Check = {
  id: 'sweep/pin-shadow-disagrees',
  says: 'The angle of incidence from the shadow of a pin differs by more than 5 deg from the one computed: a wrong clock, zone or plane.',
  concerns: disagrees,
  run: ({ sweeps }) => byPlaneAndDay(sweeps).map(problemOf),
};

function disagrees({ analysis }: CheckedSweep): boolean {
  const { incidence, incidenceSource, pinIncidence, sunElevation } = analysis.conditions;
  // A sun below the horizon is another problem.
  if (incidenceSource !== 'sun' || pinIncidence === undefined || (sunElevation ?? -90) < lowestSun)
    return false;
  return Math.abs(incidence! - pinIncidence) > mostPinDifference;
}

function problemOf({ first, others }: SweepsOfPlaneAndDay): FileProblem {
  const { incidence, pinIncidence } = first.analysis.conditions;
  const fits = (at: Parameters<Parameters<typeof sentenceOfShifts>[1]>[0]): boolean =>
    Math.abs(angleOfIncidence(at.tilt, at.azimuth, at.sun) - pinIncidence!) < mostPinDifference / 2;
  return {
    id: pinShadow.id,
    severity: 'warning',
    file: first.block.file,
    range: rangeOf(first),
    message:
      `The shadow of the pin says that the sun stood ${pinIncidence!.toFixed(1)} deg off the normal of the plane; time, site and plane ` +
      `give ${incidence!.toFixed(1)} deg, and that one counts. Check the clock, the time zone, tilt and azimuth of the plane (and whether this ` +
      `string lies in it), and that the pin stood upright on it.${sentenceOfShifts(first, fits)}${othersSentence(others)}`,
    related: othersPlaces(others, rangeOf),
  };
}

const rangeOf = (sweep: CheckedSweep) => propertyRange(sweep, 'pin-shadow');
