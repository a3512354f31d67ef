import { shiftRange, type Range } from '../text/place.js';
import type { FileProblem } from '../text/problem.js';
import type { Check, CheckedSweep } from './check.js';
import { byPlaneAndDay, othersPlaces, othersSentence, type SweepsOfPlaneAndDay } from './planeAndDay.js';
import { shiftSentence } from './shiftedTime.js';
import { lowestSun } from './sunBelowHorizon.js';
import { boundOf, frontIrradiance, timeRange } from './sweepSun.js';

/** Once for a plane and a day: a wrong clock, plane or sensor raises all its sweeps. */
export const irradianceAboveClearSky: Check = {
  id: 'sweep/irradiance-above-clear-sky',
  says: 'More irradiance was read than any sky gives in the plane at that time: a wrong clock, time zone, plane or sensor.',
  concerns: isAbove,
  run: ({ sweeps }) => byPlaneAndDay(sweeps).map(problemOf),
};

/** Void sweeps were set aside, and a sun below the horizon is another problem. */
function isAbove(sweep: CheckedSweep): boolean {
  const irradiance = frontIrradiance(sweep);
  if (irradiance === undefined || sweep.analysis.verdict === 'void') return false;
  const at = boundOf(sweep);
  return at !== undefined && at.sun.elevation >= lowestSun && irradiance > at.bound;
}

function problemOf({ first, others }: SweepsOfPlaneAndDay): FileProblem {
  const irradiance = frontIrradiance(first)!;
  const { sun, bound, planeKnown } = boundOf(first)!;
  const which = first.record.kind === 'sweep' ? '' : `Sweep ${first.address}: `;
  const plane = planeKnown ? 'this plane' : 'a plane that faces the sun';
  const shift = shiftSentence(first, irradiance);
  const advice = shift || ' Check the clock, the time zone, tilt and azimuth of the plane, and the sensor.';
  return {
    id: irradianceAboveClearSky.id,
    severity: 'warning',
    file: first.block.file,
    range: rangeOf(first),
    message:
      `${which}${irradiance.toFixed(0)} W/m2 is more than the ${bound.toFixed(0)} W/m2 that ${plane} can get with the sun ` +
      `${sun.elevation.toFixed(0)} deg above the horizon.${advice}${othersSentence(others)}`,
    related: othersPlaces(others, rangeOf),
  };
}

function rangeOf(sweep: CheckedSweep): Range {
  const { record, block } = sweep;
  const written = record.kind === 'sweep' ? record.irradiance?.range : undefined;
  return written ? shiftRange(written, block.startLine) : timeRange(sweep);
}
