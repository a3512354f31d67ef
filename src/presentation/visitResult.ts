/** What `compare --format json` writes: its schema, and how a comparison becomes one. */
import { z } from 'zod';
import type { StringHistory } from '../cases/history.js';
import type { VisitComparison } from '../difference/compareVisits.js';
import { historyResult } from './comparisonResult.js';
import { historySchema } from './comparisonResultSchema.js';
import { testTitle } from './differenceTexts.js';
import { resultDigits } from './resultDigits.js';

const turned = z
  .strictObject({
    string: z.string(),
    formerly: z.string().describe('Its name in the earlier campaign.'),
    before: z.string().describe('Verdict.'),
    now: z.string().describe('Verdict.'),
  })
  .meta({ id: 'turnedString', description: 'A string whose verdict is another one.' });

export const visitResultSchema = z
  .strictObject({
    program: z.strictObject({ name: z.literal('sweepbook'), version: z.string() }),
    schemaVersion: z.literal(1),
    earlier: z.string().describe('File of the earlier campaign.'),
    later: z.string(),
    history: historySchema,
    newFailures: z.array(turned).describe('Passed then and fail now.'),
    mended: z.array(turned).describe('Failed then and pass now.'),
    newTestFailures: z.array(z.string()).describe('Electrical tests that fail now and did not then.'),
    onlyEarlier: z.array(z.string()),
    onlyLater: z.array(z.string()),
    notJudged: z.array(
      z.strictObject({
        string: z.string(),
        where: z.enum(['earlier', 'later', 'both']).describe('Where no sweep of it is judged.'),
      }),
    ),
  })
  .meta({
    title: 'Result of sweepbook compare',
    description: `Two campaigns of one plant at different times. Numbers have at most ${resultDigits} significant digits. What is not known is null.`,
  });

export type VisitResult = z.infer<typeof visitResultSchema>;

/** The published JSON Schema, as text: syntaxes/compare-result.schema.json. */
export function visitJsonSchema(): string {
  return JSON.stringify(z.toJSONSchema(visitResultSchema, { target: 'draft-2020-12' }), null, 2) + '\n';
}

export function visitResult(
  comparison: VisitComparison,
  version: string,
  names: { readonly earlier: (file: string) => string; readonly later: (file: string) => string },
): VisitResult {
  const of = ({ string, formerly, before, now }: StringHistory) => ({
    string,
    formerly,
    before: before.analysis.verdict,
    now: now.analysis.verdict,
  });
  return {
    program: { name: 'sweepbook', version },
    schemaVersion: 1,
    earlier: names.earlier(comparison.earlier.root),
    later: names.later(comparison.later.root),
    history: historyResult(comparison.history, names.earlier),
    newFailures: comparison.newFailures.map(of),
    mended: comparison.mended.map(of),
    newTestFailures: comparison.newTestFailures.map(({ now }) => testTitle(now)),
    onlyEarlier: [...comparison.onlyEarlier],
    onlyLater: [...comparison.onlyLater],
    notJudged: comparison.notJudged.map((each) => ({ ...each })),
  };
}
