/** A diagnosis in the JSON result, and its part of the published schema. */
import * as z from 'zod';
import type { Diagnosis, Figure } from '../diagnosis/diagnosis.js';
import { roundSignificant } from './formatNumber.js';
import { resultDigits } from './resultDigits.js';

const figure = z
  .strictObject({
    name: z.string(),
    value: z.number().nullable(),
    unit: z.string(),
    uncertainty: z.number().nullable().describe('Expanded, k = 2, in the same unit.'),
  })
  .meta({ id: 'figure', description: 'A number of a finding or a cause.' });

export const diagnosisSchema = z
  .strictObject({
    healthy: z.boolean().describe('Nothing differs beyond what conditions and nameplate leave open.'),
    findings: z.array(z.strictObject({ kind: z.string(), text: z.string(), figures: z.array(figure) })),
    causes: z
      .array(
        z.strictObject({
          code: z.string().describe('Stable; the text may change.'),
          about: z.enum(['conditions', 'entry', 'device']),
          text: z.string(),
          tellApart: z.string().describe('What would tell it from the others.'),
          share: z.number().nullable().describe('Of the evidence among the causes tried, 0 to 1.'),
          figures: z.array(figure),
        }),
      )
      .describe('Likeliest first.'),
    substringsOut: z
      .int()
      .nonnegative()
      .describe('Substrings out of the current path; the translation takes the coefficients of the others.'),
  })
  .meta({ id: 'diagnosis', description: 'What the shape of the curve says beside the verdict.' });

export function diagnosisResult(diagnosis: Diagnosis): z.infer<typeof diagnosisSchema> {
  return {
    healthy: diagnosis.healthy,
    findings: diagnosis.findings.map(({ kind, text, figures }) => ({
      kind,
      text,
      figures: figures.map(figureResult),
    })),
    causes: diagnosis.causes.map(({ code, about, text, tellApart, share, figures }) => ({
      code,
      about,
      text,
      tellApart,
      share: roundSignificant(share, 3),
      figures: figures.map(figureResult),
    })),
    substringsOut: diagnosis.substringsOut,
  };
}

const figureResult = ({ name, value, unit, uncertainty }: Figure): z.infer<typeof figure> => ({
  name,
  value: roundSignificant(value, resultDigits),
  unit,
  uncertainty: roundSignificant(uncertainty, resultDigits),
});
