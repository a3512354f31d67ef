/**
 * The result of a check as JSON: one schema, from which the published JSON Schema is made and by which the tests validate
 * what the program writes. Numbers are rounded to seven significant digits, so that two results differ only where
 * something changed; what is not known is `null`, never absent.
 */
import { z } from 'zod';
import { caseSchema } from './caseResultSchema.js';
import { compositionSchema, historySchema, peerGroupSchema } from './comparisonResultSchema.js';
import { electricalCountsSchema, electricalTestSchema } from './electricalResult.js';
import { diagnosisSchema } from './diagnosisResult.js';
import { resultDigits } from './resultDigits.js';

const number = (words: string) => z.number().nullable().describe(words);
const line = z.int().positive().describe('From 1.');

const location = z
  .strictObject({ file: z.string().describe('Relative to the workspace folder, with /.'), line })
  .meta({ id: 'location', description: 'A place in a file.' });

const parameters = z
  .strictObject({
    isc: number('Short-circuit current, A.'),
    voc: number('Open-circuit voltage, V.'),
    imp: number('Current at maximum power, A.'),
    vmp: number('Voltage at maximum power, V.'),
    pmax: number('Maximum power, W.'),
    ff: number('Fill factor, a fraction.'),
  })
  .meta({ id: 'parameters', description: 'Curve parameters (IEC TS 61836) of the whole measured device.' });

const fractions = z
  .strictObject({
    isc: number('Fraction.'),
    voc: number('Fraction.'),
    imp: number('Fraction.'),
    vmp: number('Fraction.'),
    pmax: number('Fraction.'),
    ff: number('Fraction.'),
  })
  .meta({ id: 'fractions', description: 'One fraction for each curve parameter; 0.05 is 5 %.' });

const factors = z
  .strictObject({
    isc: number('Number.'),
    voc: number('Number.'),
    imp: number('Number.'),
    vmp: number('Number.'),
    pmax: number('Number.'),
    ff: number('Number.'),
  })
  .meta({ id: 'factors', description: 'One number for each curve parameter.' });

const conditions = z
  .strictObject({
    irradiance: number('In the plane of the device, W/m2.'),
    irradianceUncertainty: number('Relative expanded uncertainty, k = 2, a fraction.'),
    cellTemperature: number('degC.'),
    temperatureUncertainty: number('Expanded uncertainty, k = 2, K.'),
    temperatureSource: z
      .enum(['cell', 'module', 'voc'])
      .nullable()
      .describe('Measured at the cell, at the back of the module, or from Voc (IEC 60904-5).'),
    drift: number('Range over mean of the irradiance during the sweep, a fraction.'),
    incidence: number('Angle of incidence of the sun on the plane, degrees.'),
    pinIncidence: number(
      'The same from the shadow of a pin; it is `incidence` where the sun cannot be computed.',
    ),
    sunElevation: number('Degrees above the horizon.'),
    points: z.int().nonnegative().nullable().describe('Usable points of the sweep.'),
  })
  .meta({ id: 'conditions', description: 'Under which the sweep was taken.' });

const diagnostic = z
  .strictObject({
    id: z.string().describe('Stable; the message may change.'),
    severity: z.enum(['error', 'warning', 'information']),
    message: z.string(),
    file: z.string(),
    line,
    column: z.int().positive().describe('From 1, in UTF-16 code units.'),
    related: z
      .array(z.strictObject({ message: z.string(), file: z.string(), line }))
      .describe('Places elsewhere that explain it, such as the row of a CSV file.'),
  })
  .meta({ id: 'diagnostic', description: 'One mistake, at the place that causes it.' });

const reason = z.strictObject({
  code: z.string().describe('Stable; the text may change.'),
  text: z.string(),
  parameter: z.enum(['isc', 'voc', 'imp', 'vmp', 'pmax', 'ff']).nullable(),
  decisive: z.boolean().describe('Does it decide the verdict?'),
});

const flag = z.strictObject({
  curve: z.enum(['measured', 'translated']),
  code: z.string(),
  text: z.string(),
});

const estimate = z.strictObject({
  symbol: z.string(),
  value: number('In `unit`, for the measured device.'),
  unit: z.string(),
  method: z.string(),
});

const diodeValue = z.strictObject({
  symbol: z.enum(['IL', 'I0', 'Rs', 'Rsh', 'n']).describe('Of the whole device; n of one cell.'),
  unit: z.string(),
  value: number('Null for a shunt resistance where no shunt was found.'),
  standardUncertainty: number('k = 1, from the scatter of the points alone.'),
  expected: number("Of the nameplate's model at the conditions of the sweep."),
});

const fit = z
  .strictObject({
    reason: z.string().nullable().describe('Why there is no model; null where there is one.'),
    doubt: z.string().nullable().describe('Why the numbers may describe the points and no junction.'),
    values: z.array(diodeValue),
    deviation: number('Robust standard deviation of the measured current around the fitted curve, A.'),
    expected: parameters.describe("Of the nameplate's model at the conditions of the sweep."),
  })
  .meta({ id: 'fit', description: 'Single-diode model fitted to the measured points.' });

const verdict = z
  .enum(['pass', 'conditional pass', 'conditional fail', 'fail', 'not judged', 'void'])
  .describe(
    'Conditional: nearer to the limit than the expanded uncertainty (guarded decision, ILAC-G8:09/2019).',
  );

const sweep = z
  .strictObject({
    address: z.string().describe('`string`, `string/position` or `string/first-last`.'),
    time: z.string().nullable().describe('ISO 8601, with offset where the time zone of the site is known.'),
    location,
    dataFile: z.string().nullable(),
    dataLine: line.nullable().describe('Row where a sweep of a table of sweeps begins.'),
    module: z.string().nullable().describe('Name of the module type.'),
    seriesModules: z.int().positive().nullable(),
    parallelStrings: z.int().positive(),
    criteria: z.string().nullable(),
    procedure: z
      .enum(['IEC60891-1', 'IEC60891-2', 'IEC60891-3', 'Hishikawa-2018'])
      .nullable()
      .describe(
        'Procedure of IEC 60891:2021, or the voltage-temperature relation of the single-junction cell (Hishikawa et al. 2018).',
      ),
    interpolation: z
      .strictObject({
        partner: z.string().describe('The other sweep: its address and time.'),
        fraction: number('a of procedure 3: 0 at the sweep itself, 1 at the other.'),
        cellTemperature: number('Of the interpolated curve, degC.'),
      })
      .nullable()
      .describe('Of procedure 3; else null.'),
    conditions,
    measured: parameters.describe('At the conditions of the sweep.'),
    translated: parameters.describe('At 1000 W/m2 and 25 degC.'),
    nameplate: parameters.describe('Nameplate at STC times the series and parallel counts.'),
    deviation: fractions.describe('(translated - nameplate) / nameplate.'),
    uncertainty: fractions.describe(
      'Relative expanded uncertainty of the translated values, coverage 95.45 %.',
    ),
    coverageFactor: factors.describe(
      'k of each uncertainty: 2, or more where few repeated sweeps tell a part.',
    ),
    effectiveDegreesOfFreedom: factors.describe(
      'Of each uncertainty, by Welch-Satterthwaite (JCGM 100:2008, G.4.1); null where infinite or not known.',
    ),
    estimates: z.array(estimate).describe('Values the nameplate did not give and that were estimated.'),
    flags: z.array(flag).describe('What was found while the parameters were extracted.'),
    verdict,
    reasons: z.array(reason),
    diagnosis: diagnosisSchema.nullable().describe('Null where the sweep carries none.'),
    diagnostics: z.array(diagnostic),
    fit: fit.optional().describe('With --fit only.'),
  })
  .meta({ id: 'sweep', description: 'One sweep with all that was computed from it.' });

/** Schema of what `check --format json` writes for one campaign. */
export const checkResultSchema = z
  .strictObject({
    program: z.strictObject({ name: z.literal('sweepbook'), version: z.string() }),
    schemaVersion: z.literal(1),
    campaign: z.strictObject({
      name: z.string().nullable(),
      title: z.string().nullable(),
      client: z.string().nullable(),
      operator: z.string().nullable(),
      purpose: z.enum(['commissioning', 'periodic', 'fault-search']).nullable(),
      root: z.string(),
      files: z.array(z.string()),
    }),
    counts: z.strictObject({
      pass: z.int().nonnegative(),
      conditionalPass: z.int().nonnegative(),
      conditionalFail: z.int().nonnegative(),
      fail: z.int().nonnegative(),
      notJudged: z.int().nonnegative(),
      void: z.int().nonnegative(),
    }),
    sweeps: z.array(sweep),
    cases: z
      .array(caseSchema)
      .describe('One for each string to which something happened, in the order of the campaign.'),
    cautions: z
      .array(z.string())
      .describe('Before anyone opens or disconnects anything; empty where no case proposes that.'),
    compositions: z
      .array(compositionSchema)
      .describe('Of the strings that failed and of which parts were swept.'),
    peerGroups: z.array(peerGroupSchema).describe('Three like strings and more.'),
    history: historySchema.nullable().describe('Null where no earlier campaign is named or can be had.'),
    electricalCounts: electricalCountsSchema,
    electricalTests: z.array(electricalTestSchema),
    diagnostics: z.array(diagnostic).describe('Of all files, those of the sweeps included.'),
  })
  .meta({
    title: 'Result of sweepbook check',
    description: `Units stand in the descriptions. Numbers have at most ${resultDigits} significant digits. What is not known is null.`,
  });

export type CheckResult = z.infer<typeof checkResultSchema>;

/** The published JSON Schema, as text: syntaxes/check-result.schema.json. */
export function resultJsonSchema(): string {
  return JSON.stringify(z.toJSONSchema(checkResultSchema, { target: 'draft-2020-12' }), null, 2) + '\n';
}
