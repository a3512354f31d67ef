import type { z } from 'zod';
import type { RobustSpread } from '../analysis/peerStatistics.js';
import type { ParameterName } from '../campaign/model.js';
import type { AtBoth, Composition, Watts } from '../cases/composition.js';
import type { History, Rate } from '../cases/history.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import type { compositionSchema, historySchema, peerGroupSchema } from './comparisonResultSchema.js';
import { roundSignificant } from './formatNumber.js';
import { resultDigits } from './resultDigits.js';

const rounded = (value: number | undefined): number | null => roundSignificant(value, resultDigits);
const watts = ({ value, uncertainty }: Watts) => ({
  value: rounded(value),
  uncertainty: rounded(uncertainty),
});
const both = ({ atSweep, atStandard }: AtBoth) => ({
  atSweep: watts(atSweep),
  atStandard: watts(atStandard),
});

type Result<S extends z.ZodType> = z.infer<S>;

/** Peers, compositions and history, in the forms of their schemas. */
export function comparisonResults(evaluation: Evaluation, display: (file: string) => string) {
  return {
    compositions: [...evaluation.compositions.values()].map((found): Result<typeof compositionSchema> => ({
      string: found.string,
      composed: found.kind === 'composed' ? composedResult(found) : null,
      reason: found.kind === 'composed' ? null : found.reason,
    })),
    peerGroups: evaluation.peerGroups.map(peerGroupResult),
    history: evaluation.history ? historyResult(evaluation.history, display) : null,
  };
}

function composedResult(c: Composition): NonNullable<Result<typeof compositionSchema>['composed']> {
  const { pmax, deviation, uncertainty, read } = c.forecast;
  return {
    sweep: { address: c.opening.address, time: c.opening.time ?? null },
    explains: c.explains,
    text: c.text,
    deficit: both(c.deficit),
    explained: both(c.explained),
    unexplained: both(c.unexplained),
    level: { source: c.level.source, from: [...c.level.from] },
    parts: c.parts.map(({ address }) => address),
    costs: c.costs.map(({ address, substringsOut, ...cost }) => ({
      address,
      substringsOut,
      cost: both(cost),
    })),
    forecast: {
      pmax: watts(pmax),
      deviation: rounded(deviation),
      uncertainty: rounded(uncertainty),
      read: read
        ? {
            time: read.sweep.time ?? null,
            pmax: rounded(read.pmax),
            difference: watts(read.difference),
            agrees: read.agrees,
          }
        : null,
    },
  };
}

const spreadResult = (found: RobustSpread | undefined) =>
  found ? { count: found.count, median: rounded(found.median), spread: rounded(found.spread) } : null;

const spreadResults = (spread: Readonly<Partial<Record<ParameterName, RobustSpread>>>) => ({
  pmax: spreadResult(spread.pmax),
  isc: spreadResult(spread.isc),
  voc: spreadResult(spread.voc),
  ff: spreadResult(spread.ff),
});

function peerGroupResult(group: Evaluation['peerGroups'][number]): Result<typeof peerGroupSchema> {
  return {
    module: group.module,
    plane: group.plane ?? null,
    spread: spreadResults(group.spread),
    shift: group.shift ?? null,
    members: group.members.map(({ string, sweep, distance, standsOut }) => ({
      string,
      time: sweep.time ?? null,
      distance: {
        pmax: rounded(distance.pmax),
        isc: rounded(distance.isc),
        voc: rounded(distance.voc),
        ff: rounded(distance.ff),
      },
      standsOut: standsOut.map((each) => ({ ...each, distance: rounded(each.distance) })),
    })),
  };
}

const rateResult = (rate: Rate | undefined) =>
  rate
    ? {
        perYear: rounded(rate.perYear),
        uncertainty: rounded(rate.uncertainty),
        own: rounded(rate.own),
      }
    : null;

export function historyResult(
  history: History,
  display: (file: string) => string,
): NonNullable<Result<typeof historySchema>> {
  return {
    root: display(history.root),
    name: history.name ?? null,
    title: history.title ?? null,
    spread: spreadResults(history.spread),
    doubt: history.doubt ?? null,
    strings: history.strings.map(({ rates, ...each }) => ({
      string: each.string,
      formerly: each.formerly,
      before: each.before.time ?? null,
      now: each.now.time ?? null,
      years: rounded(each.years),
      rates: {
        pmax: rateResult(rates.pmax),
        isc: rateResult(rates.isc),
        voc: rateResult(rates.voc),
        ff: rateResult(rates.ff),
      },
      refused: each.refused ?? null,
      replaced: [...each.replaced],
      standsOut: each.standsOut ?? null,
    })),
  };
}
