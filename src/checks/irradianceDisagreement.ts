import { meanOf, usableIrradiance } from '../analysis/pointIrradiance.js';
import { propertyRange, sweepCheck } from './check.js';

/** Fraction; the limit is the project's own. */
const most = 0.05;

export const irradianceDisagreement = sweepCheck(
  'sweep/irradiances-disagree',
  'The irradiance written for a sweep and the mean of its column differ by more than 5 %.',
  (sweep) => {
    const { record, reading } = sweep;
    const written = record.kind === 'sweep' ? record.irradiance?.value : undefined;
    const column = meanOf(usableIrradiance(reading));
    if (written === undefined || column === undefined || Math.abs(column / written - 1) <= most)
      return undefined;
    return {
      range: propertyRange(sweep, 'irradiance'),
      message: `The text says ${written.toFixed(0)} W/m2, the column of the table has a mean of ${column.toFixed(0)} W/m2, which counts. Is it the right table?`,
    };
  },
);
