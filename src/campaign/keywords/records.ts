/** What was done, found and decided beside the sweeps. */
import type { BlockKeyword, PropertyKeyword } from './types.js';

const withInstruments: PropertyKeyword = {
  name: 'with',
  meaning: 'The instrument used.',
  form: { kind: 'references', to: ['tracer', 'reference'] },
  source: 'this notation',
  example: 'with T1',
};

export const recordBlocks: readonly BlockKeyword[] = [
  {
    name: 'replace',
    meaning: 'A module was replaced. It ends the fault it answers once a later sweep passes.',
    header: 'addressAtTime',
    source: 'common practice, no source',
    example: 'replace 1.03/11 at 2026-05-14 13:10',
    takesNotes: true,
    properties: [
      {
        name: 'serial',
        meaning: 'Serial number of the old and of the new module.',
        form: { kind: 'textChange' },
        source: 'common practice, no source',
        example: 'serial "KF-22817" -> "KF-31904"',
      },
      {
        name: 'type',
        meaning: 'Type of the old and of the new module, where they differ.',
        form: { kind: 'typeChange' },
        source: 'common practice, no source',
        example: 'type KF108M -> KF110M',
      },
      {
        name: 'reason',
        meaning: 'Why it was replaced.',
        form: { kind: 'text' },
        source: 'common practice, no source',
        example: 'reason "substring bypassed, glass intact"',
      },
    ],
  },
  {
    name: 'insulation',
    meaning:
      'Insulation resistance of a string to earth. The test voltage reaches 1500 V: work as the local code and a licensed person require.',
    header: 'addressAtTime',
    source: 'IEC 62446-1',
    example: 'insulation 1.03 at 2026-05-14 10:05',
    takesNotes: true,
    properties: [
      {
        name: 'resistance',
        meaning: 'The reading.',
        form: { kind: 'quantity', dimensions: ['resistance'], least: 0 },
        source: 'IEC 62446-1',
        example: 'resistance 42 Mohm',
      },
      {
        name: 'voltage',
        meaning: 'The test voltage.',
        form: { kind: 'quantity', dimensions: ['voltage'], least: 0, most: 10_000 },
        source: 'IEC 62446-1',
        example: 'voltage 1000 V',
      },
      {
        name: 'pole',
        meaning: 'What was held against earth.',
        form: {
          kind: 'choice',
          choices: [
            { word: 'shorted', meaning: 'positive and negative pole together; need not be written' },
            { word: 'positive', meaning: 'the positive pole alone; the negative one is a test of its own' },
            { word: 'negative', meaning: 'the negative pole alone; the positive one is a test of its own' },
          ],
        },
        source: 'IEC 62446-1 (its two test methods; from memory, not confirmed)',
        example: 'pole negative',
      },
      withInstruments,
    ],
  },
  {
    name: 'continuity',
    meaning: 'Continuity of protective earthing or bonding conductors.',
    header: 'addressAtTime',
    source: 'IEC 62446-1',
    example: 'continuity 1.03 at 2026-05-14 09:50',
    takesNotes: true,
    properties: [
      {
        name: 'resistance',
        meaning: 'The reading.',
        form: { kind: 'quantity', dimensions: ['resistance'], least: 0 },
        source: 'IEC 62446-1',
        example: 'resistance 0.08 ohm',
      },
      {
        name: 'result',
        meaning: 'What was found.',
        form: {
          kind: 'choice',
          choices: [
            { word: 'continuous', meaning: 'the conductor is continuous' },
            { word: 'open', meaning: 'the conductor is interrupted' },
          ],
        },
        source: 'IEC 62446-1',
        example: 'result continuous',
      },
      withInstruments,
    ],
  },
  {
    name: 'polarity',
    meaning: 'Polarity of the string cables.',
    header: 'addressAtTime',
    source: 'IEC 62446-1',
    example: 'polarity 1.03 at 2026-05-14 09:55',
    takesNotes: true,
    properties: [
      {
        name: 'result',
        meaning: 'What was found. A reversed string must not be connected.',
        form: {
          kind: 'choice',
          choices: [
            { word: 'correct', meaning: 'plus is plus' },
            { word: 'reversed', meaning: 'plus and minus are exchanged' },
          ],
        },
        source: 'IEC 62446-1',
        example: 'result correct',
      },
      withInstruments,
    ],
  },
  {
    name: 'meter',
    meaning:
      'Open-circuit voltage and short-circuit current of a string, read with a meter instead of a sweep. Held against the nameplate at the same irradiance and temperature, and against like strings. Make and break a short circuit only with a switch rated for it: an arc of direct current does not go out by itself.',
    header: 'addressAtTime',
    source: 'IEC 62446-1 (measurement of Voc and Isc)',
    example: 'meter 1.03 at 2026-05-14 10:15',
    takesNotes: true,
    properties: [
      {
        name: 'Voc',
        meaning: 'Open-circuit voltage as read; negative where plus and minus are exchanged.',
        form: { kind: 'quantity', dimensions: ['voltage'], least: -3000, most: 3000 },
        source: 'IEC TS 61836',
        example: 'Voc 641 V',
      },
      {
        name: 'Isc',
        meaning: 'Short-circuit current as read.',
        form: { kind: 'quantity', dimensions: ['current'], least: 0, most: 1000 },
        source: 'IEC TS 61836',
        example: 'Isc 11.2 A',
      },
      {
        name: 'irradiance',
        meaning: 'Irradiance in the plane of array at the reading.',
        form: { kind: 'quantity', dimensions: ['irradiance'], least: 0, most: 2000 },
        source: 'IEC TS 61836',
        example: 'irradiance 805 W/m2',
      },
      {
        name: 'temperature',
        meaning: 'Temperature of the cell, or of the back of the module, at the reading.',
        form: { kind: 'temperature' },
        source: 'IEC 60891; offset: King et al., SAND2004-3535 (2004)',
        example: 'temperature 43.0 degC cell',
      },
      {
        name: 'with',
        meaning: 'The meter, written as a tracer, and the reference device used.',
        form: { kind: 'references', to: ['tracer', 'reference'] },
        source: 'this notation',
        example: 'with M1, RC1',
      },
    ],
  },
  {
    name: 'note',
    meaning: "The analyst's words, on a device or on the whole campaign.",
    header: 'note',
    source: 'this notation',
    example: 'note 1.03 at 2026-05-14 11:40 "Soiling at the lower edge."',
    takesNotes: false,
    properties: [],
  },
  {
    name: 'accept',
    meaning:
      'A failed verdict is accepted all the same, visibly: the reason, who took the decision, and when. It counts for the campaign as a whole; without a time it stands last in the history of the string.',
    header: 'accept',
    source: 'common practice, no source',
    example: 'accept 1.07 at 2026-05-20 09:00 "shaded by the chimney until removed" by "site manager"',
    takesNotes: true,
    properties: [],
  },
  {
    name: 'include',
    meaning:
      'Reads another file in this place. The path is relative to this file and may not leave the workspace folder.',
    header: 'path',
    source: 'this notation',
    example: 'include "../library/modules.sweepbook"',
    takesNotes: false,
    properties: [],
  },
];
