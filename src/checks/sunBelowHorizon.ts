import { groupBy } from '../text/groups.js';
import type { FileProblem } from '../text/problem.js';
import type { Check, CheckedSweep } from './check.js';
import { shiftSentence } from './shiftedTime.js';
import { frontIrradiance, timeRange } from './sweepSun.js';

/** Standard refraction lifts the sun by about half a degree; below this elevation, in degrees, no sweep has sunlight. */
export const lowestSun = -1;

/** Once for a site: a wrong zone or position puts all its sweeps into the night. */
export const sunBelowHorizon: Check = {
  id: 'sweep/sun-below-horizon',
  says: 'The sun was below the horizon at the time of a sweep: a wrong clock, time zone or position.',
  concerns: ({ analysis }) => (analysis.conditions.sunElevation ?? Infinity) < lowestSun,
  run: ({ sweeps }) => [...groupBy(sweeps, ({ target }) => target.site).values()].map(problemOf),
};

function problemOf([first, ...others]: readonly CheckedSweep[]): FileProblem {
  const sweep = first!;
  const below = -sweep.analysis.conditions.sunElevation!;
  const rest =
    others.length > 0
      ? ` The same holds for ${others.length} more ${others.length === 1 ? 'sweep' : 'sweeps'} of this site.`
      : '';
  return {
    id: sunBelowHorizon.id,
    severity: 'warning',
    file: sweep.block.file,
    range: timeRange(sweep),
    message:
      `At this time the sun stood ${below.toFixed(0)} deg below the horizon of the site; ` +
      'check the time, the timezone and the position (N and E positive).' +
      shiftSentence(sweep, frontIrradiance(sweep)) +
      rest,
    related: others.slice(0, 5).map((other) => ({
      place: { file: other.block.file, range: timeRange(other) },
      message: `Sweep ${other.address}.`,
    })),
  };
}
