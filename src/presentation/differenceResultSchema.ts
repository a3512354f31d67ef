/** Schema of what `diff --format json` writes. */
import { z } from 'zod';
import { resultDigits } from './resultDigits.js';

const number = (words: string) => z.number().nullable().describe(words);

const written = z
  .strictObject({
    text: z.string().describe('In one line, without comments.'),
    file: z.string(),
    line: z.int().positive().describe('From 1.'),
  })
  .meta({ id: 'written', description: 'Something as one of the campaigns has it.' });

const change = z
  .strictObject({
    id: z.int().nonnegative().describe('Of the change in this campaign.'),
    kind: z.enum(['added', 'removed', 'changed', 'renamed']),
    subject: z.strictObject({
      kind: z.string().describe('Keyword of the block, or `table`.'),
      name: z.string(),
    }),
    property: z
      .string()
      .nullable()
      .describe('`header` for name, address, time or title; null for a whole block or table.'),
    before: written.nullable(),
    after: written.nullable(),
    wordsOnly: z.boolean().describe('Nothing is computed from it.'),
    detail: z.string().nullable(),
  })
  .meta({ id: 'change', description: 'One change of the inputs.' });

const readings = z
  .strictObject({
    value: number('At STC: W, A, V; FF as a fraction.'),
    deviation: number('From nameplate, a fraction.'),
    uncertainty: number('Expanded, a fraction of the value.'),
  })
  .meta({ id: 'readings', description: 'One parameter of one sweep.' });

const parameter = z.enum(['pmax', 'isc', 'voc', 'ff']);

const movement = z
  .strictObject({
    parameter,
    before: readings,
    after: readings,
    change: number('Value after over value before, less 1.'),
    deviationChange: number('Deviation after less before, a fraction.'),
    uncertaintyChange: number('Uncertainty after less before, a fraction.'),
    beyondUncertainty: z.boolean(),
  })
  .meta({ id: 'movement', description: 'How far one parameter of one sweep moved.' });

const sweep = z
  .strictObject({
    address: z.string(),
    time: z.string().nullable(),
    file: z.string(),
    line: z.int().positive(),
    verdict: z.string(),
  })
  .meta({ id: 'sweep', description: 'A sweep of one of the campaigns.' });

const turn = z
  .strictObject({
    what: z.enum(['verdict', 'diagnosis', 'case', 'electrical test']),
    subject: z.string().describe('Title of the sweep or test, or the string.'),
    before: z.string(),
    after: z.string(),
    traced: z
      .enum(['alone', 'together', 'not traced'])
      .describe('`alone`: each of the changes does it; `together`: it takes all of them.'),
    changes: z.array(z.int()).describe('Ids.'),
  })
  .meta({ id: 'turn', description: 'A result in words that is another one now.' });

const spread = z
  .strictObject({ median: z.number(), least: z.number(), most: z.number() })
  .nullable()
  .meta({ id: 'spread', description: 'Of several sweeps, fractions; null where nothing moved.' });

const cause = z
  .strictObject({
    change: z.int().describe('Id.'),
    movements: z.array(
      z.strictObject({
        parameter,
        sweeps: z.int().positive(),
        change: spread,
        deviationChange: spread,
        uncertaintyChange: spread,
      }),
    ),
    verdicts: z.int().nonnegative().describe('How many it turned, alone or with others.'),
    cancelled: z.int().nonnegative().describe('Sweeps that it moves alone and that stay in all.'),
    text: z.string(),
  })
  .meta({ id: 'cause', description: 'A change that moved or turned something; the strongest first.' });

const problem = z
  .strictObject({
    id: z.string(),
    severity: z.enum(['error', 'warning', 'information']),
    message: z.string(),
    file: z.string(),
    line: z.int().positive(),
  })
  .meta({ id: 'problem', description: 'A problem that only one of the campaigns has.' });

const campaign = z
  .strictObject({
    file: z.string(),
    state: z.enum(['changed', 'unchanged', 'added', 'removed']).describe('Of the results.'),
    changes: z.array(change),
    untraced: z
      .int()
      .nonnegative()
      .describe('Number of changes where they are too many to be traced; else 0.'),
    causes: z.array(cause),
    turns: z.array(turn),
    moved: z.array(
      z.strictObject({
        before: sweep,
        after: sweep,
        movements: z.array(movement),
        shares: z
          .array(z.strictObject({ change: z.int(), pmax: number('Relative change of Pmax by it alone.') }))
          .describe('By each change that reaches the sweep.'),
        remainder: number('Relative change of Pmax that changes make only together.'),
      }),
    ),
    movedLess: z.int().nonnegative().describe('Sweeps that moved by less than the threshold.'),
    sweepsAdded: z.array(sweep),
    sweepsRemoved: z.array(sweep),
    testsAdded: z.array(z.string()),
    testsRemoved: z.array(z.string()),
    problemsAdded: z.array(problem),
    problemsRemoved: z.array(problem),
  })
  .meta({ id: 'campaign', description: 'One campaign, matched by the name of its file.' });

export const differenceResultSchema = z
  .strictObject({
    program: z.strictObject({ name: z.literal('sweepbook'), version: z.string() }),
    schemaVersion: z.literal(1),
    before: z.string().describe('File, folder or revision.'),
    after: z.string(),
    threshold: z.number().describe('Least movement that is told, a fraction.'),
    campaigns: z.array(campaign),
  })
  .meta({
    title: 'Result of sweepbook diff',
    description: `What differs between two states of campaigns. Numbers have at most ${resultDigits} significant digits. What is not known is null.`,
  });

export type DifferenceResult = z.infer<typeof differenceResultSchema>;

/** The published JSON Schema, as text: syntaxes/diff-result.schema.json. */
export function differenceJsonSchema(): string {
  return JSON.stringify(z.toJSONSchema(differenceResultSchema, { target: 'draft-2020-12' }), null, 2) + '\n';
}
