import { shiftRange } from '../text/place.js';
import type { Check } from './check.js';

/** Standard refraction lifts the sun by about half a degree; below this no sweep has sunlight. */
const least = -1;

export const sunBelowHorizon: Check = {
  id: 'sweep/sun-below-horizon',
  says: 'The sun was below the horizon at the time of a sweep: a wrong clock, time zone or position.',
  run: ({ sweeps }) =>
    sweeps.flatMap((sweep) => {
      const elevation = sweep.analysis.conditions.sunElevation;
      if (elevation === undefined || elevation >= least) return [];
      const { record, block } = sweep;
      const range =
        record.kind === 'sweep' && record.time
          ? shiftRange(record.time.range, block.startLine)
          : sweep.place.range;
      return [
        {
          id: sunBelowHorizon.id,
          severity: 'warning' as const,
          file: block.file,
          range,
          message:
            `At this time the sun stood ${(-elevation).toFixed(0)} deg below the horizon of the site; ` +
            'check the time, the timezone and the position (N and E positive).',
        },
      ];
    }),
};
