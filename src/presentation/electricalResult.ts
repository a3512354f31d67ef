/** The electrical tests in the JSON result. */
import { z } from 'zod';
import type { ElectricalTest } from '../electricalTests/electricalTest.js';
import { roundSignificant } from './formatNumber.js';
import { resultDigits } from './resultDigits.js';

const number = (words: string) => z.number().nullable().describe(words);

const figure = z.strictObject({
  name: z.enum(['resistance', 'test voltage', 'Voc', 'Isc']),
  value: number('In `unit`.'),
  unit: z.enum(['ohm', 'V', 'A']),
  least: number('Lower end of what passes; null where nothing limits it or the limit is not known.'),
  most: number('Upper end of what passes.'),
  expected: number('Of the nameplate at the conditions of the reading.'),
  deviation: number('(value - expected) / expected, a fraction.'),
  fromPeers: number('value / median of like strings under like conditions - 1, a fraction.'),
});

export const electricalTestSchema = z
  .strictObject({
    kind: z.enum(['insulation', 'continuity', 'polarity', 'meter']),
    address: z.string(),
    time: z.string().nullable().describe('ISO 8601, with offset where the time zone of the site is known.'),
    location: z.strictObject({ file: z.string(), line: z.int().positive().describe('From 1.') }),
    pole: z.enum(['positive', 'negative', 'shorted']).nullable().describe('Of an insulation test.'),
    result: z
      .enum(['correct', 'reversed', 'continuous', 'open'])
      .nullable()
      .describe('As the author found it.'),
    latest: z.boolean().describe('No later test of the same kind and address stands for it.'),
    figures: z.array(figure),
    verdict: z.enum(['pass', 'fail', 'not judged']),
    reasons: z.array(
      z.strictObject({
        code: z.string().describe('Stable; the text may change.'),
        text: z.string(),
        decisive: z.boolean(),
      }),
    ),
    danger: z.string().nullable().describe('What may hurt someone, with the cautions.'),
  })
  .meta({ id: 'electricalTest', description: 'One string test of IEC 62446-1 beside the sweeps.' });

export const electricalCountsSchema = z
  .strictObject({
    pass: z.int().nonnegative(),
    fail: z.int().nonnegative(),
    notJudged: z.int().nonnegative(),
  })
  .describe('Of the electrical tests that are `latest`; apart from the sweeps.');

const rounded = (value: number | undefined): number | null => roundSignificant(value, resultDigits);

export function electricalResult(
  test: ElectricalTest,
  display: (file: string) => string,
): z.infer<typeof electricalTestSchema> {
  return {
    kind: test.kind,
    address: test.address,
    time: test.time ?? null,
    location: { file: display(test.place.file), line: test.place.range.start.line + 1 },
    pole: test.record.pole ?? null,
    result: test.record.result ?? null,
    latest: test.latest,
    figures: test.figures.map(({ name, unit, value, least, most, expected, deviation, fromPeers }) => ({
      name,
      value: rounded(value),
      unit,
      least: rounded(least),
      most: rounded(most),
      expected: rounded(expected),
      deviation: rounded(deviation),
      fromPeers: rounded(fromPeers),
    })),
    verdict: test.verdict,
    reasons: test.reasons.map(({ code, text, decisive }) => ({ code, text, decisive })),
    danger: test.danger ?? null,
  };
}
