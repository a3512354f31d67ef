import { signedPercent } from '../analysis/percentWords.js';
import type { CriteriaRecord } from '../campaign/model.js';
import {
  notJudged,
  type ElectricalFigure,
  type ElectricalReason,
  type Judged,
  type TakenTest,
} from './electricalTest.js';
import type { MeterContext, MeterValue } from './meterPeers.js';
import { plain } from './numberWords.js';
import { reversed } from './polarity.js';

/**
 * Largest deviation of Voc and Isc from what is expected, and from like strings, where the criteria set none: 5 %, IEC 62446-1, from
 * memory, not confirmed.
 */
const usualLimit = 0.05;

const symbols = { voc: 'Voc', isc: 'Isc' } as const;
const units = { voc: 'V', isc: 'A' } as const;

/**
 * Voc and Isc against the nameplate at the conditions of the reading, and against like strings. Either comparison can fail a string;
 * one that holds is enough to pass. The limits are those of the criteria for Voc, Isc and spread, else 5 %. The uncertainty of the
 * meter does not enter.
 */
export function judgeMeter(test: TakenTest, context: MeterContext): Judged {
  const { record, target } = test;
  if (record.voc && record.voc.value < 0)
    return reversed(
      record.address.text,
      `Voc reads ${plain(record.voc.value)} V: plus and minus are exchanged.`,
    );
  const read = (['voc', 'isc'] as const).filter((value) => record[value] !== undefined);
  if (read.length === 0)
    return notJudged('no-reading', 'There is no reading: write `Voc 641 V`, `Isc 11.2 A`, or both.');
  const outside = outsideConditions(test);
  const compared = read.map((value) => compareValue(value, test, context, outside, target.criteria));
  const reasons = compared.flatMap((each) => each.reasons);
  const figures = compared.map(({ figure }) => figure);
  const failing = reasons.some((reason) => reason.decisive);
  if (failing) return { verdict: 'fail', reasons: [...reasons].sort(decisiveFirst), figures };
  const unjudged = compared.filter(({ held }) => !held);
  if (unjudged.length === 0) return { verdict: 'pass', reasons, figures };
  const why = outside ?? `no expectation without ${context.expected.missing ?? 'the nameplate'}`;
  const text = `${unjudged.map(({ symbol }) => symbol).join(' and ')} not judged: ${why}, and too few like strings under like conditions to compare with.`;
  return {
    verdict: 'not judged',
    reasons: [{ code: 'nothing-to-compare', text, decisive: true }, ...reasons],
    figures,
  };
}

const decisiveFirst = (a: ElectricalReason, b: ElectricalReason): number =>
  Number(b.decisive) - Number(a.decisive);

/** The light of the criteria is asked for before a reading is held against the nameplate; like strings may be compared in less. */
function outsideConditions({ record, target }: TakenTest): string | undefined {
  const limits = target.criteria?.irradiance;
  const irradiance = record.irradiance?.value;
  if (!limits || irradiance === undefined) return undefined;
  const { least, most } = limits;
  if (least && irradiance < least.value)
    return `the irradiance is below the ${plain(least.value)} W/m2 of the criteria`;
  if (most && irradiance > most.value)
    return `the irradiance is above the ${plain(most.value)} W/m2 of the criteria`;
  return undefined;
}

interface ComparedValue {
  readonly symbol: string;
  readonly figure: ElectricalFigure;
  readonly reasons: readonly ElectricalReason[];
  /** Some comparison was made and none failed. */
  readonly held: boolean;
}

function compareValue(
  value: MeterValue,
  { record }: TakenTest,
  { expected, peers }: MeterContext,
  outside: string | undefined,
  criteria: CriteriaRecord | undefined,
): ComparedValue {
  const symbol = symbols[value];
  const reading = record[value]!.value;
  const own = expected[value];
  const limits = endsOf(criteria?.limits[value]);
  const spread = endsOf(criteria?.spread);
  const { fromMedian, fromOther, readings } = peers[value];
  const deviation = own === undefined ? undefined : reading / own - 1;
  const judged: ElectricalReason[] = [];
  if (deviation !== undefined && outside === undefined) {
    const text = `${symbol} ${signedPercent(deviation, limits)} from the ${plain(own!)} ${units[value]} that the nameplate gives at the conditions of the reading; ${limitsText(limits)}.`;
    judged.push(reason(`${value}-expected`, text, !within(deviation, limits)));
  }
  if (fromMedian !== undefined) {
    const text = `${symbol} ${signedPercent(fromMedian, spread)} from the median of ${readings} like strings; ${limitsText(spread)}.`;
    judged.push(reason(`${value}-peers`, text, !within(fromMedian, spread)));
  }
  const pair =
    fromOther === undefined || within(fromOther, spread)
      ? []
      : [
          reason(
            `${value}-two`,
            `${symbol} ${signedPercent(fromOther)} from the only like string; two do not tell which is off.`,
            false,
          ),
        ];
  return {
    symbol,
    figure: {
      name: symbol,
      value: reading,
      unit: units[value],
      expected: own,
      deviation,
      fromPeers: fromMedian,
      ...(own === undefined ? {} : { least: own * (1 + limits[0]), most: own * (1 + limits[1]) }),
    },
    reasons: [...judged, ...pair],
    held: judged.length > 0 && judged.every((each) => !each.decisive),
  };
}

type Ends = readonly [least: number, most: number];

function endsOf(limits: CriteriaRecord['spread']): Ends {
  return limits
    ? [limits.least?.value ?? -Infinity, limits.most?.value ?? Infinity]
    : [-usualLimit, usualLimit];
}

const within = (value: number, [least, most]: Ends): boolean => value >= least && value <= most;

const reason = (code: string, text: string, decisive: boolean): ElectricalReason => ({
  code,
  text,
  decisive,
});

function limitsText([least, most]: Ends): string {
  const percent = (fraction: number): string => `${Number((fraction * 100).toPrecision(6))} %`;
  if (least === -most) return `at most ${percent(most)} either way`;
  if (most === Infinity) return `at least ${percent(least)}`;
  return least === -Infinity ? `at most ${percent(most)}` : `${percent(least)} to ${percent(most)}`;
}
