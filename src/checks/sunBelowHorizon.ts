import type { Check } from './check.js';
import { shiftSentence } from './shiftedTime.js';
import { frontIrradiance, timeRange } from './sweepSun.js';

/** Standard refraction lifts the sun by about half a degree; below this elevation, in degrees, no sweep has sunlight. */
export const lowestSun = -1;

export const sunBelowHorizon: Check = {
  id: 'sweep/sun-below-horizon',
  says: 'The sun was below the horizon at the time of a sweep: a wrong clock, time zone or position.',
  run: ({ sweeps }) =>
    sweeps.flatMap((sweep) => {
      const elevation = sweep.analysis.conditions.sunElevation;
      if (elevation === undefined || elevation >= lowestSun) return [];
      return [
        {
          id: sunBelowHorizon.id,
          severity: 'warning' as const,
          file: sweep.block.file,
          range: timeRange(sweep),
          message:
            `At this time the sun stood ${(-elevation).toFixed(0)} deg below the horizon of the site; ` +
            'check the time, the timezone and the position (N and E positive).' +
            shiftSentence(sweep, frontIrradiance(sweep)),
        },
      ];
    }),
};
