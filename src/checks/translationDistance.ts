import { propertyRange, sweepCheck } from './check.js';

/**
 * Irradiance: IEC 60891:2021 advises about 30 % for procedure 1, from memory, not confirmed. Temperature: tests/accuracy tables
 * the errors of the procedures up to 40 K above STC; below, it is the same distance.
 */
const irradianceRange = { least: 700, most: 1300 } as const;
const temperatureRange = { least: -15, most: 65 } as const;

/** A sweep that is not judged is not warned about: its reasons say what matters. */
export const translationDistance = sweepCheck(
  'sweep/translated-far',
  'A judged sweep was translated further than the procedures are good for: outside 700 to 1300 W/m2, or more than 40 K.',
  (sweep) => {
    const { conditions, translated, verdict } = sweep.analysis;
    if (!translated || verdict === 'not judged' || verdict === 'void') return undefined;
    const irradiance = conditions.irradiance!;
    const temperature = conditions.cellTemperature!;
    // Between two curves the irradiance is not translated, and what lies outside them is flagged or refused.
    const farLight =
      translated.procedure !== 'IEC60891-3' &&
      (irradiance < irradianceRange.least || irradiance > irradianceRange.most);
    const farHeat = temperature < temperatureRange.least || temperature > temperatureRange.most;
    if (!farLight && !farHeat) return undefined;
    const what = farLight ? `${irradiance.toFixed(0)} W/m2` : `${temperature.toFixed(1)} degC`;
    const range = farLight ? '700 to 1300 W/m2' : '-15 to 65 degC';
    return {
      range: propertyRange(sweep, farLight ? 'irradiance' : 'temperature'),
      message:
        `Translating from ${what} to STC reaches further than the procedures are good for (${range}); ` +
        'the uncertainty grows with what they leave over. Let the criteria limit the conditions.',
    };
  },
);
