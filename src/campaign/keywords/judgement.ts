/** What a sweep is judged by. */
import type { BlockKeyword, PropertyKeyword } from './types.js';

function deviation(name: string, what: string, example: string): PropertyKeyword {
  return {
    name,
    meaning: `Limits of the deviation of ${what} from the nameplate, both at standard test conditions.`,
    form: { kind: 'limits', dimension: 'fraction' },
    source: 'IEC TS 61836 (the quantity); the limit is agreed between the parties',
    example,
  };
}

export const judgementBlocks: readonly BlockKeyword[] = [
  {
    name: 'criteria',
    meaning: 'Limits that decide pass or fail, and the conditions under which a sweep is judged at all.',
    header: 'name',
    source: 'ILAC-G8 (decision rule agreed beforehand)',
    example: 'criteria acceptance',
    takesNotes: true,
    properties: [
      {
        name: 'procedure',
        meaning: 'Procedure of the translation to standard test conditions.',
        form: {
          kind: 'choice',
          choices: [
            {
              word: 'auto',
              meaning: 'chosen from what the nameplate gives; the usual case, need not be written',
            },
            { word: 'IEC60891-1', meaning: 'correction procedure 1' },
            { word: 'IEC60891-2', meaning: 'correction procedure 2' },
            {
              word: 'IEC60891-3',
              meaning:
                'procedure 3: interpolation to 1000 W/m2 between two measured curves of the same address, then procedure 1 for the temperature',
            },
            {
              word: 'Hishikawa-2018',
              meaning:
                'voltage-temperature relation of the single-junction cell, for crystalline silicon without known beta and gamma; the irradiance by procedure 1',
            },
          ],
        },
        source:
          'IEC 60891; Hishikawa et al., IEEE J. Photovoltaics 8 (2018) 48-53 (from memory, not confirmed)',
        example: 'procedure IEC60891-1',
      },
      {
        name: 'decision',
        meaning: 'How uncertainty enters the verdict.',
        form: {
          kind: 'choice',
          choices: [
            { word: 'simple', meaning: 'the measured deviation against the limit; need not be written' },
            {
              word: 'guarded',
              meaning: 'pass and fail only outside a guard band as wide as the expanded uncertainty',
            },
          ],
        },
        source: 'ILAC-G8',
        example: 'decision guarded',
      },
      {
        name: 'tolerance',
        meaning:
          'Whether the tolerance that the nameplate declares (`Pmax 408.4 W ± 3 %`) widens the limit of that parameter. It is a tolerance of production, not an uncertainty.',
        form: {
          kind: 'choice',
          choices: [
            { word: 'ignored', meaning: 'shown, and not added to a limit; need not be written' },
            {
              word: 'counted',
              meaning:
                'added to the limit on either side: -5 % with ± 3 % on the nameplate becomes -8 %, with -0 % .. 3 % it stays',
            },
          ],
        },
        source: 'IEC 61215 (rated values with their tolerance); the rule is agreed between the parties',
        example: 'tolerance counted',
      },
      deviation('Pmax', 'maximum power', 'Pmax -5 % ..'),
      deviation('Isc', 'short-circuit current', 'Isc -5 % .. 5 %'),
      deviation('Voc', 'open-circuit voltage', 'Voc -3 % .. 3 %'),
      deviation('FF', 'fill factor', 'FF -4 % ..'),
      deviation('Imp', 'current at maximum power', 'Imp -5 % ..'),
      deviation('Vmp', 'voltage at maximum power', 'Vmp -4 % ..'),
      {
        name: 'irradiance',
        meaning: 'Irradiance in the plane of array for a sweep to be judged.',
        form: { kind: 'limits', dimension: 'irradiance' },
        source: 'IEC 61829 (700 W/m2 is quoted from memory, not confirmed)',
        example: 'irradiance 700 W/m2 ..',
      },
      {
        name: 'temperature',
        meaning: 'Cell temperature for a sweep to be judged.',
        form: { kind: 'limits', dimension: 'temperature' },
        source: 'common practice, no source',
        example: 'temperature 15 degC .. 75 degC',
      },
      {
        name: 'drift',
        meaning:
          'Change of irradiance during the sweep, as a fraction of its mean. Where it is not known, that is said and the sweep is judged all the same.',
        form: { kind: 'limits', dimension: 'fraction' },
        source: 'common practice, no source',
        example: 'drift .. 2 %',
      },
      {
        name: 'incidence',
        meaning:
          'Angle between the sun and the normal of the plane. Where it is not known, the sweep is not judged.',
        form: { kind: 'limits', dimension: 'angle' },
        source: 'IEC TS 61836 (angle of incidence)',
        example: 'incidence .. 45 deg',
      },
      {
        name: 'spread',
        meaning:
          'Deviation of a string from the like strings beside it. What lies beyond is told; it decides no verdict.',
        form: { kind: 'limits', dimension: 'fraction' },
        source: 'IEC 62446-1 (5 % between like strings is quoted from memory, not confirmed)',
        example: 'spread -5 % .. 5 %',
      },
      {
        name: 'insulation',
        meaning:
          'Insulation resistance of a string to earth, where the parties agreed on more than the standard asks.',
        form: { kind: 'limits', dimension: 'resistance' },
        source: 'IEC 62446-1 (the quantity); the limit is agreed between the parties',
        example: 'insulation 2 Mohm ..',
      },
      {
        name: 'continuity',
        meaning:
          'Resistance of a protective earthing or bonding conductor. Without it a reading in ohm is kept and not judged.',
        form: { kind: 'limits', dimension: 'resistance' },
        source: 'IEC 62446-1 (the quantity); the limit is agreed between the parties',
        example: 'continuity .. 1 ohm',
      },
      {
        name: 'points',
        meaning: 'Least number of usable points in the sweep.',
        form: { kind: 'count', least: 1, most: 100_000 },
        source: 'common practice, no source',
        example: 'points 10',
      },
    ],
  },
];
