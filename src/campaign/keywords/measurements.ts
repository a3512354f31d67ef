/** The sweeps. */
import { curveColumns } from './instruments.js';
import type { BlockKeyword, PropertyKeyword } from './types.js';

const withInstruments: PropertyKeyword = {
  name: 'with',
  meaning: 'The tracer and the reference device used.',
  form: { kind: 'references', to: ['tracer', 'reference'] },
  source: 'this notation',
  example: 'with T1, RC1',
};

const layout: PropertyKeyword = {
  name: 'layout',
  meaning: 'How the table is laid out, where that is not recognised by itself.',
  form: { kind: 'reference', to: ['layout'] },
  source: 'this notation',
  example: 'layout logger',
};

const criteria: PropertyKeyword = {
  name: 'criteria',
  meaning:
    'What it is judged by; else the criteria of the string, of the campaign, or the only ones there are.',
  form: { kind: 'reference', to: ['criteria'] },
  source: 'this notation',
  example: 'criteria acceptance',
};

export const measurementBlocks: readonly BlockKeyword[] = [
  {
    name: 'sweep',
    meaning:
      'One I-V curve of a string (`1.03`), of one module (`1.03/11`) or of a section (`1.03/1-9`); positions count from the positive end. Strings are live in daylight: isolate and cover as the local code and a licensed person require.',
    header: 'addressAtTime',
    source: 'IEC 61829, IEC 60904-1 (I-V characteristic)',
    example: 'sweep 1.03 at 2026-05-14 11:42',
    takesNotes: true,
    properties: [
      {
        name: 'irradiance',
        meaning: 'Irradiance in the plane of array during the sweep.',
        form: { kind: 'quantity', dimensions: ['irradiance'], least: 0, most: 2000 },
        source: 'IEC TS 61836',
        example: 'irradiance 812 W/m2 ± 2 %',
      },
      {
        name: 'irradiance-after',
        meaning:
          'A second reading, taken after the sweep: `irradiance` is then the one before it, the mean counts, and the difference is the drift.',
        form: { kind: 'quantity', dimensions: ['irradiance'], least: 0, most: 2000 },
        source: 'common practice, no source',
        example: 'irradiance-after 818 W/m2',
      },
      {
        name: 'rear',
        meaning: 'Irradiance on the rear side of a bifacial module.',
        form: { kind: 'quantity', dimensions: ['irradiance'], least: 0, most: 2000 },
        source: 'IEC TS 60904-1-2 (rear irradiance)',
        example: 'rear 90 W/m2',
      },
      {
        name: 'temperature',
        meaning:
          'Temperature of the cell; or of the back of the module, with the difference to the cell at 1000 W/m2 as `offset`; or the equivalent cell temperature `from Voc`.',
        form: { kind: 'temperature' },
        source: 'IEC 60891; from Voc: IEC 60904-5; offset: King et al., SAND2004-3535 (2004)',
        example: 'temperature 44.1 degC cell',
      },
      {
        name: 'temperature-check',
        meaning:
          'A second reading of the temperature, by another sensor; it is only compared, and a disagreement over 5 K is said.',
        form: { kind: 'temperature' },
        source: 'common practice, no source',
        example: 'temperature-check 42.0 degC module',
      },
      {
        name: 'data',
        meaning: 'Table of the points (CSV), as a path relative to this file.',
        form: { kind: 'path' },
        source: 'this notation',
        example: 'data "sweeps/1.03-first.csv"',
      },
      layout,
      {
        name: 'points',
        meaning: 'The points themselves: the units on this line, then one `voltage current` a line.',
        form: { kind: 'points' },
        source: 'this notation',
        example: 'points V, A',
      },
      withInstruments,
      criteria,
      {
        name: 'tilt',
        meaning: 'Tilt of the plane at this moment, where it moves.',
        form: { kind: 'quantity', dimensions: ['angle'], least: 0, most: 180 },
        source: 'IEC TS 61836',
        example: 'tilt 31 deg',
      },
      {
        name: 'azimuth',
        meaning: 'Azimuth of the plane at this moment, clockwise from north, where it moves.',
        form: { kind: 'quantity', dimensions: ['angle'], least: 0, most: 360 },
        source: 'IEC TS 61836',
        example: 'azimuth 90 deg',
      },
      {
        name: 'pin-shadow',
        meaning:
          'Check of the angle of incidence in the field: length of the shadow that a pin, held upright on the plane of the array, throws onto it, and length of the pin; or the angle itself. It is compared with the computed angle, and more than 5 deg between them is said; where the sun cannot be computed it is the angle of incidence.',
        form: { kind: 'pinShadow' },
        source: 'common practice, no source (incidence = arctan of shadow over pin: plane geometry)',
        example: 'pin-shadow 18 mm, pin 50 mm',
      },
      {
        name: 'remark',
        meaning: 'What was seen while measuring.',
        form: { kind: 'text' },
        source: 'common practice, no source',
        example: 'remark "thin cloud at the end"',
      },
      {
        name: 'void',
        meaning: 'The sweep does not count, and why. It stays in the record.',
        form: { kind: 'text' },
        source: 'this notation',
        example: 'void "clamp slipped"',
      },
    ],
  },
  {
    name: 'sweeps',
    meaning: 'Many sweeps from one table, which also says what each was taken on and when.',
    header: 'fromFile',
    source: 'this notation',
    example: 'sweeps from "sweeps/all.csv"',
    takesNotes: true,
    properties: [
      {
        name: 'address',
        meaning: 'Column of the address: string, string/position or string/first-last.',
        form: { kind: 'column' },
        source: 'this notation',
        example: 'address "String"',
        requiredFor: 'reading of the table',
      },
      {
        name: 'time',
        meaning: 'Column of the time.',
        form: { kind: 'column' },
        source: 'this notation',
        example: 'time "Time"',
      },
      ...curveColumns,
      {
        name: 'irradiance',
        meaning: 'Column of the irradiance, or one value for every sweep of the table.',
        form: { kind: 'columnOrQuantity', dimension: 'irradiance', least: 0, most: 2000 },
        source: 'IEC TS 61836',
        example: 'irradiance "G" W/m2',
      },
      {
        name: 'temperature',
        meaning:
          'Column of the temperature, of cell or back of module, or one value for every sweep of the table.',
        form: { kind: 'columnOrTemperature' },
        source: 'IEC 60891',
        example: 'temperature "Tmod" degC module offset 3 K',
      },
      layout,
      withInstruments,
      criteria,
    ],
  },
];
