import { shiftRange } from '../text/place.js';
import type { FileProblem } from '../text/problem.js';
import type { Check, CheckedSweep } from './check.js';
import { shiftSentence } from './shiftedTime.js';
import { lowestSun } from './sunBelowHorizon.js';
import { boundOf, frontIrradiance, timeRange } from './sweepSun.js';

/** Once for a `sweep` block, and once for a table of sweeps, with the number of its other sweeps. */
export const irradianceAboveClearSky: Check = {
  id: 'sweep/irradiance-above-clear-sky',
  says: 'More irradiance was read than any sky gives in the plane at that time: a wrong clock, time zone, plane or sensor.',
  run: ({ sweeps }) => {
    const byBlock = new Map<CheckedSweep['record'], { first: CheckedSweep; others: number }>();
    for (const sweep of sweeps) {
      if (!isAbove(sweep)) continue;
      const known = byBlock.get(sweep.record);
      if (known) known.others++;
      else byBlock.set(sweep.record, { first: sweep, others: 0 });
    }
    return [...byBlock.values()].map(({ first, others }) => problemOf(first, others));
  },
};

/** Void sweeps were set aside, and a sun below the horizon is another problem. */
function isAbove(sweep: CheckedSweep): boolean {
  const irradiance = frontIrradiance(sweep);
  if (irradiance === undefined || sweep.analysis.verdict === 'void') return false;
  const at = boundOf(sweep);
  return at !== undefined && at.sun.elevation >= lowestSun && irradiance > at.bound;
}

function problemOf(sweep: CheckedSweep, others: number): FileProblem {
  const irradiance = frontIrradiance(sweep)!;
  const { sun, bound, planeKnown } = boundOf(sweep)!;
  const { record, block } = sweep;
  const written = record.kind === 'sweep' ? record.irradiance?.range : undefined;
  const which = record.kind === 'sweep' ? '' : `Sweep ${sweep.address}: `;
  const plane = planeKnown ? 'this plane' : 'a plane that faces the sun';
  const rest = others > 0 ? ` The same holds for ${others} more of this table.` : '';
  const shift = shiftSentence(sweep, irradiance);
  const advice = shift || ' Check the clock, the time zone, tilt and azimuth of the plane, and the sensor.';
  return {
    id: irradianceAboveClearSky.id,
    severity: 'warning',
    file: block.file,
    range: written ? shiftRange(written, block.startLine) : timeRange(sweep),
    message:
      `${which}${irradiance.toFixed(0)} W/m2 is more than the ${bound.toFixed(0)} W/m2 that ${plane} can get with the sun ` +
      `${sun.elevation.toFixed(0)} deg above the horizon.${advice}${rest}`,
  };
}
