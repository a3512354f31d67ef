import { propertyRange, sweepCheck } from './check.js';

/** K; the limit is the project's own. */
const most = 5;

export const temperatureDisagreement = sweepCheck(
  'sweep/temperatures-disagree',
  'Two readings of the temperature of one sweep differ by more than 5 K.',
  (sweep) => {
    const { cellTemperature, checkTemperature } = sweep.analysis.conditions;
    if (cellTemperature === undefined || checkTemperature === undefined) return undefined;
    const difference = Math.abs(cellTemperature - checkTemperature);
    if (difference <= most) return undefined;
    return {
      range: propertyRange(sweep, 'temperature-check', 'temperature'),
      message:
        `The two temperatures of the cell, ${cellTemperature.toFixed(1)} degC and ${checkTemperature.toFixed(1)} degC, differ by ` +
        `${difference.toFixed(1)} K; the first one counts. Which sensor lost contact, or lacks its offset?`,
    };
  },
);
