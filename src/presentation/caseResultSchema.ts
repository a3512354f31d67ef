/** The cases of strings in the JSON result; see checkResultSchema.ts. */
import { z } from 'zod';

const sweepRef = z
  .strictObject({ address: z.string(), time: z.string().nullable() })
  .describe('Address and time of a sweep in `sweeps`.');

const event = z.strictObject({
  kind: z.enum(['sweep', 'replaced', 'note', 'accepted']),
  address: z.string(),
  time: z.string().nullable(),
  text: z.string(),
  file: z.string(),
  line: z.int().positive().describe('From 1.'),
});

const module = z.strictObject({
  position: z.int().positive().describe('From 1, at the positive end.'),
  status: z.enum(['untested', 'cleared', 'suspect', 'faulty', 'replaced', 'contradictory']),
  because: z.string(),
  serial: z.string().nullable().describe('Of the module that is there now, where a replacement tells.'),
});

const proposal = z
  .strictObject({
    kind: z.enum(['repeat', 'halves', 'one by one', 'replace', 'counter-check', 'settle', 'doubt']),
    addresses: z.array(z.string()).describe('What to measure or replace, in this order.'),
    text: z.string(),
    why: z.string(),
    disconnects: z
      .boolean()
      .describe('Something is disconnected or opened for it: the `cautions` hold before anyone does.'),
  })
  .meta({ id: 'proposal', description: 'What to do next about a string.' });

export const caseSchema = z
  .strictObject({
    string: z.string(),
    state: z
      .enum(['sound', 'open', 'located', 'replaced', 'verified', 'waived', 'not known'])
      .describe(
        'Closed: sound, verified, waived. A failed string is verified once a later sweep of it passes.',
      ),
    opened: sweepRef.nullable(),
    closed: sweepRef.nullable(),
    modules: z.array(module).describe('One for each position; empty where their number is not known.'),
    events: z.array(event).describe('In order of time.'),
    next: proposal.nullable(),
  })
  .meta({ id: 'case', description: 'The life of a fault of one string.' });

export type CaseResult = z.infer<typeof caseSchema>;
