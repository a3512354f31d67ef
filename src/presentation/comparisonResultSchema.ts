/** Peers, compositions and degradation in the JSON result; see checkResultSchema.ts. */
import { z } from 'zod';

const number = (words: string) => z.number().nullable().describe(words);

const watts = z
  .strictObject({ value: number('W.'), uncertainty: number('Expanded, k = 2, W.') })
  .meta({ id: 'watts', description: 'A power with its expanded uncertainty.' });

const atBoth = z
  .strictObject({
    atSweep: watts.describe('At the conditions of the sweep and its place of measurement.'),
    atStandard: watts.describe('At STC, at the module terminals.'),
  })
  .meta({ id: 'wattsAtBoth', description: 'A power at the conditions of a sweep and at STC.' });

const composed = z.strictObject({
  sweep: z.strictObject({ address: z.string(), time: z.string().nullable() }),
  explains: z
    .enum(['yes', 'in part', 'too much', 'no'])
    .describe('Whether what was found explains what the string lacks, within the uncertainty.'),
  text: z.string(),
  deficit: atBoth.describe('What the string lacks against the same with sound modules.'),
  explained: atBoth.describe('What the modules found explain of it.'),
  unexplained: atBoth.describe('Composed less measured; positive where more is lacking.'),
  level: z.strictObject({
    source: z
      .enum(['cleared', 'peers', 'nameplate'])
      .describe('What tells of modules without a sweep of their own.'),
    from: z.array(z.string()),
  }),
  parts: z.array(z.string()).describe('Addresses whose own curves were taken.'),
  costs: z.array(
    z.strictObject({
      address: z.string(),
      substringsOut: z.int().nonnegative(),
      cost: atBoth.describe('What it costs now through mismatch.'),
    }),
  ),
  forecast: z.strictObject({
    pmax: watts.describe('At STC with sound modules in place of those found.'),
    deviation: number('From the nameplate, fraction.'),
    uncertainty: number('Expanded, k = 2, fraction.'),
    read: z
      .strictObject({
        time: z.string().nullable(),
        pmax: number('W, at STC.'),
        difference: watts.describe('Read less forecast.'),
        agrees: z.boolean(),
      })
      .nullable()
      .describe('The sweep of the whole string after replacement.'),
  }),
});

export const compositionSchema = z
  .strictObject({
    string: z.string(),
    composed: composed.nullable(),
    reason: z.string().nullable().describe('Why nothing was composed.'),
  })
  .meta({ id: 'composition', description: 'A failed string composed from the curves of its modules.' });

const spread = z
  .strictObject({
    count: z.int().positive(),
    median: number('Fraction, or fraction for each year.'),
    spread: number('Scaled median absolute deviation.'),
  })
  .meta({ id: 'spread', description: 'Median and robust spread of one parameter among strings.' })
  .nullable();

const spreads = z
  .strictObject({ pmax: spread, isc: spread, voc: spread, ff: spread })
  .meta({ id: 'spreads', description: 'For each compared parameter; null with fewer than three strings.' });

const distances = z
  .strictObject({
    pmax: number('Fraction.'),
    isc: number('Fraction.'),
    voc: number('Fraction.'),
    ff: number('Fraction.'),
  })
  .meta({ id: 'distances', description: 'Deviation from the nameplate less the median of the group.' });

export const peerGroupSchema = z
  .strictObject({
    module: z.string(),
    plane: z.string().nullable(),
    spread: spreads,
    shift: z.string().nullable().describe('What moves all strings alike.'),
    members: z.array(
      z.strictObject({
        string: z.string(),
        time: z.string().nullable().describe('Of its latest judged sweep.'),
        distance: distances,
        standsOut: z.array(
          z.strictObject({
            parameter: z.enum(['isc', 'voc', 'imp', 'vmp', 'pmax', 'ff']),
            distance: number('Fraction.'),
            rule: z
              .enum(['agreed', 'robust'])
              .describe(
                '`agreed`: the limit `spread` of its criteria; `robust`: 3.5 times the usual spread.',
              ),
            text: z.string(),
          }),
        ),
      }),
    ),
  })
  .meta({
    id: 'peerGroup',
    description: 'Strings of one module type in one plane, compared among themselves.',
  });

const rate = z
  .strictObject({
    perYear: number('Change for each year, fraction of the earlier value.'),
    uncertainty: number('Expanded, k = 2, fraction for each year.'),
    own: number('The same without what all strings of both campaigns share.'),
  })
  .meta({ id: 'rate', description: 'Change of a parameter at STC for each year.' })
  .nullable();

export const historySchema = z
  .strictObject({
    root: z.string(),
    name: z.string().nullable(),
    title: z.string().nullable(),
    spread: spreads,
    doubt: z.string().nullable().describe('What else than ageing may be behind it when all changed alike.'),
    strings: z.array(
      z.strictObject({
        string: z.string(),
        formerly: z.string().describe('Its name in the earlier campaign.'),
        before: z.string().nullable().describe('Time of the earlier sweep.'),
        now: z.string().nullable().describe('Time of the later sweep.'),
        years: number('Between the two.'),
        rates: z.strictObject({ pmax: rate, isc: rate, voc: rate, ff: rate }),
        refused: z.string().nullable().describe('Why no rate is told.'),
        replaced: z.array(z.string()).describe('Modules that are new since.'),
        standsOut: z.string().nullable(),
      }),
    ),
  })
  .meta({ id: 'history', description: 'Change of each string since the campaign that `compare` names.' });
