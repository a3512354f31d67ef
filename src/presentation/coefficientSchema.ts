/** Schema of what `coefficients --format json` writes. */
import { z } from 'zod';
import { resultDigits } from './resultDigits.js';

const number = (description: string) => z.number().nullable().describe(description);

const span = (description: string) =>
  z.strictObject({ least: z.number(), most: z.number() }).nullable().describe(description);

const residual = z
  .strictObject({
    sweep: z.string().describe('Its address and time.'),
    irradiance: number('W/m2.'),
    cellTemperature: number('degC.'),
    residual: number('Measured over expected value of what `residualsOf` names, less 1; a fraction.'),
  })
  .meta({ id: 'residual', description: 'What one sweep leaves over.' });

const coefficient = z
  .strictObject({
    symbol: z
      .enum(['alpha', 'beta', 'B1', 'Rs', 'kappa'])
      .describe('IEC 60891; Rs and kappa of procedure 1.'),
    unit: z.string().describe('SI, of one module; empty for B1.'),
    value: number('Null where the sweeps do not tell it; `refusal` then says why.'),
    standardError: number('k = 1, from the scatter of the sweeps alone.'),
    nameplate: z
      .strictObject({
        value: number('In the same unit.'),
        declared: z.boolean().describe('False: estimated from the other values of the nameplate.'),
      })
      .nullable(),
    sweeps: z.int().nonnegative().describe('How many sweeps it rests on.'),
    refusal: z.string().nullable(),
    residualsOf: z.enum(['Isc', 'Voc', 'Pmax']),
    residuals: z.array(residual),
  })
  .meta({ id: 'coefficient', description: 'One coefficient of one module.' });

export const coefficientResultSchema = z
  .strictObject({
    program: z.strictObject({ name: z.literal('sweepbook'), version: z.string() }),
    schemaVersion: z.literal(1),
    module: z.string().describe('Name of the module type.'),
    address: z.string().nullable().describe('Of the device; null for all sweeps of the type.'),
    sweeps: z.array(z.string()).describe('Address and time of the sweeps that count.'),
    leftOut: z.array(z.strictObject({ sweep: z.string(), reason: z.string() })),
    irradiance: span('Of the sweeps that count, W/m2.'),
    cellTemperature: span('Of the sweeps that count, degC.'),
    coefficients: z.array(coefficient),
  })
  .meta({
    title: 'Result of sweepbook coefficients',
    description: `Units stand in the descriptions. Numbers have at most ${resultDigits} significant digits. What is not known is null.`,
  });

export type CoefficientResult = z.infer<typeof coefficientResultSchema>;

/** The published JSON Schema, as text: syntaxes/coefficients-result.schema.json. */
export function coefficientJsonSchema(): string {
  return JSON.stringify(z.toJSONSchema(coefficientResultSchema, { target: 'draft-2020-12' }), null, 2) + '\n';
}
