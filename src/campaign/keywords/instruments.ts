/** What is measured with, and how its tables are laid out. */
import type { Dimension } from '../quantity.js';
import { technologies } from './plant.js';
import type { BlockKeyword, PropertyKeyword } from './types.js';

const calibration: readonly PropertyKeyword[] = [
  {
    name: 'serial',
    meaning: 'Serial number.',
    form: { kind: 'label' },
    source: 'common practice, no source',
    example: 'serial "T-0417"',
  },
  {
    name: 'calibrated',
    meaning: 'Date of the last calibration.',
    form: { kind: 'date' },
    source: 'ISO/IEC 17025 (calibration)',
    example: 'calibrated 2026-01-12',
  },
  {
    name: 'interval',
    meaning: 'How long the calibration holds.',
    form: { kind: 'months' },
    source: 'ISO/IEC 17025 (calibration interval)',
    example: 'interval 12 months',
  },
];

function accuracy(name: string, dimension: Dimension, meaning: string, example: string): PropertyKeyword {
  return {
    name,
    meaning: `${meaning} Expanded uncertainty, k = 2 unless \`k=1\` is written.`,
    form: { kind: 'uncertainty', dimension },
    source: 'JCGM 100',
    example,
  };
}

/** Columns of V, I, G, T, which `layout` and `sweeps` share. */
export const curveColumns: readonly PropertyKeyword[] = [
  {
    name: 'voltage',
    meaning:
      'Column of the voltage, by the text of its header or by its number from 1; the unit where the header has none.',
    form: { kind: 'column', dimension: 'voltage' },
    source: 'this notation',
    example: 'voltage "U (mV)" mV',
  },
  {
    name: 'current',
    meaning: 'Column of the current, by the text of its header or by its number from 1.',
    form: { kind: 'column', dimension: 'current' },
    source: 'this notation',
    example: 'current column 3 A',
  },
];

export const instrumentBlocks: readonly BlockKeyword[] = [
  {
    name: 'tracer',
    meaning: 'The instrument that measures the I-V curve.',
    header: 'name',
    source: 'common practice, no source (I-V curve tracer)',
    example: 'tracer T1',
    takesNotes: true,
    properties: [
      ...calibration,
      accuracy('voltage', 'voltage', 'How well it measures voltage.', 'voltage ± 0.5 %'),
      accuracy('current', 'current', 'How well it measures current.', 'current ± 0.5 %'),
    ],
  },
  {
    name: 'reference',
    meaning: 'The device that measures irradiance in the plane of array, and the temperature probe with it.',
    header: 'name',
    source: 'IEC 60904-2 (reference device)',
    example: 'reference RC1',
    takesNotes: true,
    properties: [
      ...calibration,
      {
        name: 'technology',
        meaning: 'Cell technology of the reference device; it matters for the spectral mismatch.',
        form: { kind: 'choice', choices: technologies },
        source: 'IEC 60904-7',
        example: 'technology mono-Si',
      },
      accuracy(
        'irradiance',
        'irradiance',
        'How well it measures irradiance: its calibration, with what its alignment and the spectrum add unless `alignment` and `spectral` say so.',
        'irradiance ± 2 %',
      ),
      accuracy(
        'alignment',
        'angle',
        'How far its plane may be turned against that of the array; its error grows with the angle of incidence.',
        'alignment ± 1 deg',
      ),
      accuracy(
        'spectral',
        'irradiance',
        'How far the spectrum of the moment may mislead it against the modules (IEC 60904-7).',
        'spectral ± 1 %',
      ),
      accuracy(
        'temperature',
        'temperature',
        'How well the temperature is known where it is read. How far the mean of all cells may lie from there has a line of its own in the budget.',
        'temperature ± 1 K',
      ),
    ],
  },
  {
    name: 'layout',
    meaning: 'How the tables of another program are laid out. What is left out is recognised from the table.',
    header: 'name',
    source: 'this notation',
    example: 'layout logger',
    takesNotes: true,
    properties: [
      {
        name: 'delimiter',
        meaning: 'What separates the columns.',
        form: { kind: 'delimiter' },
        source: 'RFC 4180 (comma-separated values)',
        example: 'delimiter semicolon',
      },
      {
        name: 'decimal',
        meaning: 'Decimal sign of its numbers.',
        form: {
          kind: 'choice',
          choices: [
            { word: 'point', meaning: '8.5' },
            { word: 'comma', meaning: '8,5' },
          ],
        },
        source: 'ISO 80000-1 (decimal sign)',
        example: 'decimal comma',
      },
      {
        name: 'skip',
        meaning: 'Lines before the header line.',
        form: { kind: 'count', least: 0, most: 100_000, noun: 'lines' },
        source: 'this notation',
        example: 'skip 14 lines',
      },
      {
        name: 'header',
        meaning: 'Is there a line of column names? Without one, columns are given by number.',
        form: {
          kind: 'choice',
          choices: [
            { word: 'yes', meaning: 'a line of column names stands first' },
            { word: 'no', meaning: 'the data start at once' },
          ],
        },
        source: 'RFC 4180',
        example: 'header no',
      },
      {
        name: 'sign',
        meaning: 'Sign of a generated current in the table.',
        form: {
          kind: 'choice',
          choices: [
            { word: 'positive', meaning: 'generated current is positive' },
            { word: 'negative', meaning: 'generated current is negative, as for a load' },
          ],
        },
        source: 'common practice, no source',
        example: 'sign negative',
      },
      ...curveColumns,
      {
        name: 'irradiance',
        meaning: 'Column of the irradiance, where it is recorded with each point.',
        form: { kind: 'column', dimension: 'irradiance' },
        source: 'this notation',
        example: 'irradiance "G" W/m2',
      },
      {
        name: 'temperature',
        meaning: 'Column of the temperature, where it is recorded with each point.',
        form: { kind: 'column', dimension: 'temperature' },
        source: 'this notation',
        example: 'temperature "Tc" degC',
      },
    ],
  },
];
