/**
 * The verdict of one sweep: each limited parameter is held against its limits by the decision rule of the criteria, and
 * the worst outcome is the sweep's. Conditions come first: a sweep taken outside them is not judged.
 */
import type { CriteriaRecord, ModuleRecord, ParameterName } from '../campaign/model.js';
import type { Limits, Quantity, Tolerance } from '../campaign/quantity.js';
import { decide, type Outcome } from '../physics/conformity.js';
import type { Coverage, Reason, RelativeUncertainties, SweepConditions, Verdict } from './sweepAnalysis.js';
import { decimalsBeside, percentDecimals, signedPercent } from './percentWords.js';

/** In the order a reader looks for them. */
export const judgedParameters: readonly ParameterName[] = ['pmax', 'isc', 'voc', 'imp', 'vmp', 'ff'];

export const parameterSymbols: Readonly<Record<ParameterName, string>> = {
  isc: 'Isc',
  voc: 'Voc',
  imp: 'Imp',
  vmp: 'Vmp',
  pmax: 'Pmax',
  ff: 'FF',
};

export interface VerdictInput {
  readonly criteria: CriteriaRecord;
  readonly conditions: SweepConditions;
  readonly deviation: Readonly<Record<ParameterName, number | undefined>>;
  readonly uncertainty: RelativeUncertainties;
  /** How the uncertainties were expanded; absent: with k = 2. */
  readonly coverage?: Readonly<Record<ParameterName, Coverage | undefined>> | undefined;
  /** Tolerances of the nameplate, as fractions; see `toleranceRangesOf`. */
  readonly tolerance?: Tolerances | undefined;
}

export type Tolerances = Readonly<Partial<Record<ParameterName, Tolerance>>>;

/**
 * What the nameplate declares behind `±` or as a range, as fractions of its values: a tolerance of production, taken as it is
 * written.
 */
export function toleranceRangesOf({ pmax, isc, voc, imp, vmp }: ModuleRecord): Tolerances {
  const tolerances: Partial<Record<ParameterName, Tolerance>> = {};
  for (const [name, quantity] of Object.entries({ pmax, isc, voc, imp, vmp })) {
    const written = quantity?.uncertainty;
    const half = written && (written.relative ? written.value : written.value / quantity.value);
    const tolerance = half === undefined ? quantity?.tolerance : { least: -half, most: half };
    if (tolerance) tolerances[name as ParameterName] = tolerance;
  }
  return tolerances;
}

/** The larger side of each. */
export function tolerancesOf(module: ModuleRecord): Readonly<Partial<Record<ParameterName, number>>> {
  const ranges = Object.entries(toleranceRangesOf(module));
  return Object.fromEntries(ranges.map(([name, { least, most }]) => [name, Math.max(-least, most)]));
}

export interface Judgement {
  readonly verdict: Verdict;
  readonly reasons: readonly Reason[];
}

/** From best to worst. */
const severityOrder: readonly Verdict[] = ['pass', 'conditional pass', 'conditional fail', 'fail'];

type Bounds = Pick<Limits, 'least' | 'most'>;

const ends = ({ least, most }: Bounds): (number | undefined)[] => [least?.value, most?.value];

/** To the same place as the deviation it belongs to (JCGM 100:2008, 7.2.6), unless nothing would be left of it. */
function uncertaintyPercent(expanded: number, deviation: number, limits: Bounds): string {
  const text = (expanded * 100).toFixed(percentDecimals(deviation, ends(limits)));
  return Number(text) === 0 ? percent(expanded) : `${text} %`;
}

const percent = (fraction: number): string => `${Number((fraction * 100).toPrecision(2))} %`;

const limitText = (quantity: Quantity): string =>
  quantity.dimension === 'fraction'
    ? `${Number((quantity.value * 100).toPrecision(6))} %`
    : `${quantity.writtenValue} ${quantity.unit}`;

/** Judges a sweep whose translated parameters are known. Pure; the same input gives the same words. */
export function judge(input: VerdictInput): Judgement {
  const found = [
    ...implausibleReasons(input.deviation),
    ...conditionReasons(input.criteria, input.conditions),
  ];
  if (found.some((reason) => reason.decisive)) {
    return { verdict: 'not judged', reasons: found.sort(decisiveFirst) };
  }

  const outcomes = judgedParameters.flatMap((parameter) => {
    const limits = input.criteria.limits[parameter];
    return limits ? [judgeParameter(parameter, limits, input)] : [];
  });
  if (outcomes.length === 0) {
    return {
      verdict: 'not judged',
      reasons: [
        {
          code: 'no-limits',
          text: `Criteria ${input.criteria.name.text} sets no limit for any parameter, such as "Pmax -5 % ..".`,
          decisive: true,
        },
      ],
    };
  }
  const verdict = worst(outcomes.map((outcome) => outcome.verdict));
  const reasons = outcomes
    .map(({ reason, verdict: own }): Reason => ({
      ...reason,
      decisive: own === verdict && verdict !== 'pass',
    }))
    .sort(decisiveFirst);
  return { verdict, reasons: [...reasons, ...found, ...unstatedUncertainty(input)] };
}

/** No device delivers this much more than its nameplate, as a fraction; own choice. */
export const mostAboveNameplate = 0.2;

/** What the nameplate cannot give is no good string but a wrong entry: it must neither pass nor fail. */
function implausibleReasons(deviation: VerdictInput['deviation']): Reason[] {
  const name = (['voc', 'isc', 'pmax'] as const).find((each) => (deviation[each] ?? 0) > mostAboveNameplate);
  if (!name) return [];
  const value = deviation[name]!;
  const above = value < 2 ? `${percent(value)} above` : `${Number((1 + value).toPrecision(2))} times`;
  const text = `${parameterSymbols[name]} is ${above} the nameplate, more than any device delivers: a unit, the address, the count or the type of modules, a coefficient or the conditions are not as entered.`;
  return [{ code: 'implausible', text, decisive: true }];
}

/** Under simple acceptance a verdict needs no uncertainty; that none is known is said once. */
function unstatedUncertainty({ criteria, deviation, uncertainty }: VerdictInput): Reason[] {
  const unstated = judgedParameters.some(
    (name) => criteria.limits[name] && deviation[name] !== undefined && uncertainty[name] === undefined,
  );
  if (criteria.decision !== 'simple' || !unstated) return [];
  const text =
    'Uncertainty not stated: name the tracer and the reference with their accuracies in "with". The value alone decided.';
  return [{ code: 'uncertainty-not-stated', text, decisive: false }];
}

const decisiveFirst = (a: Reason, b: Reason): number => Number(b.decisive) - Number(a.decisive);

/** A failure outweighs a parameter that could not be judged; nothing else does. */
function worst(verdicts: readonly Verdict[]): Verdict {
  const ranked = verdicts.filter((verdict) => verdict !== 'not judged');
  const ofJudged = severityOrder[Math.max(-1, ...ranked.map((verdict) => severityOrder.indexOf(verdict)))];
  const somethingMissing = ranked.length < verdicts.length;
  if (ofJudged === 'fail' || ofJudged === 'conditional fail') return ofJudged;
  return somethingMissing || ofJudged === undefined ? 'not judged' : ofJudged;
}

/** Limits with the tolerance of the nameplate added on either side, where the criteria count it. */
function effectiveLimits(parameter: ParameterName, limits: Limits, input: VerdictInput): Limits {
  const tolerance = input.criteria.tolerance === 'counted' ? input.tolerance?.[parameter] : undefined;
  if (!tolerance) return limits;
  const moved = (limit: Quantity | undefined, by: number): Quantity | undefined =>
    limit && by !== 0 ? { ...limit, value: limit.value + by } : limit;
  const [least, most] = [moved(limits.least, tolerance.least), moved(limits.most, tolerance.most)];
  return least === limits.least && most === limits.most ? limits : { ...limits, least, most };
}

/** `; that is -5 % as agreed, widened by the ± 3 % that the nameplate declares` */
function toleranceText(written: Limits, effective: Limits, tolerance: Tolerance | undefined): string {
  if (written === effective || tolerance === undefined) return '';
  const ends = [written.least, written.most].flatMap((end) => (end ? [limitText(end)] : []));
  return `; that is ${ends.join(' and ')} as agreed, widened by the ${rangeText(tolerance)} that the nameplate declares`;
}

const rangeText = ({ least, most }: Tolerance): string =>
  least === -most ? `± ${percent(most)}` : `${percent(least)} .. ${percent(most)}`;

function judgeParameter(
  parameter: ParameterName,
  written: Limits,
  input: VerdictInput,
): { verdict: Verdict; reason: Reason } {
  const limits = effectiveLimits(parameter, written, input);
  const symbol = parameterSymbols[parameter];
  const deviation = input.deviation[parameter];
  if (deviation === undefined) {
    return {
      verdict: 'not judged',
      reason: {
        code: 'parameter-missing',
        parameter,
        text: `${symbol} could not be had from the points, so its limit (${limitsText(limits)}) could not be applied.`,
        decisive: false,
      },
    };
  }
  if (parameter === 'voc' && input.conditions.temperatureSource === 'voc') {
    return {
      verdict: 'not judged',
      reason: {
        code: 'voc-is-thermometer',
        parameter,
        text:
          `Voc cannot be held against its limit (${limitsText(limits)}): the cell temperature was taken from it, so it agrees with ` +
          'the nameplate whatever the device is. Measure the temperature, or judge by criteria that do not limit Voc.',
        decisive: false,
      },
    };
  }
  const relative = input.uncertainty[parameter];
  const guarded = input.criteria.decision === 'guarded';
  if (guarded && relative === undefined) {
    return {
      verdict: 'not judged',
      reason: {
        code: 'uncertainty-missing',
        parameter,
        text:
          `${symbol} deviates by ${signedPercent(deviation, ends(limits))}, but the guarded decision rule needs its uncertainty: ` +
          'name the tracer and the reference with their accuracies in "with".',
        decisive: false,
      },
    };
  }
  // The deviation is x/n - 1; its expanded uncertainty is that of x over n.
  const expanded = relative === undefined ? undefined : relative * (1 + deviation);
  const decision = decide({
    value: deviation,
    least: limits.least?.value,
    most: limits.most?.value,
    expandedUncertainty: expanded,
    coverage: input.coverage?.[parameter],
    rule: guarded ? 'guarded' : 'simple',
  });
  const stated = `${symbol} deviates by ${signedPercent(deviation, ends(limits))}${expanded === undefined ? '' : ` ± ${uncertaintyPercent(expanded, deviation, limits)}`}`;
  const probability =
    decision.conformityProbability === undefined
      ? ''
      : `; probability of conformity ${probabilityText(decision.conformityProbability)}`;
  return {
    verdict: decision.outcome,
    reason: {
      code: `limit-${decision.outcome.replace(' ', '-')}`,
      parameter,
      text: `${stated}, ${relationText(decision.outcome, limits, deviation)}${toleranceText(written, limits, input.tolerance?.[parameter])}${probability}.`,
      decisive: false,
    },
  };
}

function relationText(outcome: Outcome, limits: Limits, deviation: number): string {
  const span = limitsText(limits);
  const { least, most } = limits;
  const crossed =
    least && deviation < least.value
      ? `below the least ${limitText(least)}`
      : most && deviation > most.value
        ? `above the most ${limitText(most)}`
        : undefined;
  switch (outcome) {
    case 'pass':
      return `within the limit (${span})`;
    case 'conditional pass':
      return `within the limit (${span}), but nearer to it than its uncertainty`;
    case 'conditional fail':
      return `${crossed ?? `outside the limit (${span})`}, but by less than its uncertainty`;
    case 'fail':
      return crossed ?? `outside the limit (${span})`;
  }
}

function limitsText({ least, most }: Limits): string {
  if (least && most) return `${limitText(least)} to ${limitText(most)}`;
  return least ? `at least ${limitText(least)}` : most ? `at most ${limitText(most)}` : 'nothing';
}

/** Two digits, never rounded to a certainty that a normal distribution does not give. */
function probabilityText(probability: number): string {
  if (probability > 0.9995) return 'over 99.9 %';
  if (probability < 0.0005) return 'under 0.1 %';
  return `${(probability * 100).toFixed(1)} %`;
}

interface ConditionCheck {
  readonly code: string;
  readonly name: string;
  readonly limits: Limits | undefined;
  readonly value: number | undefined;
  /** Canonical value to what is shown, and its decimals. */
  readonly factor: number;
  readonly decimals: number;
  readonly unit: string;
  readonly unknown: string;
}

/** Each condition of the criteria that the sweep does not meet (decisive), or that cannot be told. */
function conditionReasons(criteria: CriteriaRecord, conditions: SweepConditions): Reason[] {
  const checks: ConditionCheck[] = [
    {
      code: 'irradiance',
      name: 'Irradiance',
      limits: criteria.irradiance,
      value: conditions.irradiance,
      factor: 1,
      decimals: 0,
      unit: 'W/m2',
      unknown: 'the sweep gives none',
    },
    {
      code: 'temperature',
      name: 'Cell temperature',
      limits: criteria.temperature,
      value: conditions.cellTemperature,
      factor: 1,
      decimals: 1,
      unit: 'degC',
      unknown: 'the sweep gives none',
    },
    {
      code: 'drift',
      name: 'Irradiance drift during the sweep',
      limits: criteria.drift,
      value: conditions.drift,
      factor: 100,
      decimals: 1,
      unit: '%',
      unknown: 'the data carry no irradiance for each point',
    },
    {
      code: 'incidence',
      name: 'Angle of incidence',
      limits: criteria.incidence,
      value: conditions.incidence,
      factor: 1,
      decimals: 1,
      unit: 'deg',
      unknown:
        'it needs position and timezone of the site, tilt and azimuth of the plane, and the time; or a `pin-shadow`',
    },
  ];
  const reasons = checks.flatMap((check) => conditionReason(check, criteria.name.text));
  if (
    criteria.points !== undefined &&
    conditions.points !== undefined &&
    conditions.points < criteria.points
  ) {
    reasons.push({
      code: 'condition-points',
      text: `The sweep has ${conditions.points} usable points; criteria ${criteria.name.text} asks for at least ${criteria.points}.`,
      decisive: true,
    });
  }
  return reasons;
}

function conditionReason(check: ConditionCheck, criteria: string): Reason[] {
  const { limits, value } = check;
  if (!limits) return [];
  if (value === undefined) {
    return [
      {
        code: `condition-${check.code}-unknown`,
        text: `${check.name} is not known (${check.unknown}), and criteria ${criteria} limits it to ${limitsText(limits)}.`,
        // Most instruments record one irradiance a sweep: a drift that cannot be told is said, but stops no verdict.
        decisive: check.code !== 'drift',
      },
    ];
  }
  const { least, most } = limits;
  const outside =
    least && value < least.value
      ? `below the ${limitText(least)}`
      : most && value > most.value
        ? `above the ${limitText(most)}`
        : undefined;
  if (!outside) return [];
  const { factor, decimals, unit } = check;
  const crossed = [least, most].map((limit) => limit && limit.value * factor);
  const shown = (value * factor).toFixed(decimalsBeside(value * factor, crossed, decimals));
  return [
    {
      code: `condition-${check.code}`,
      text: `${check.name} ${shown} ${unit} is ${outside} that criteria ${criteria} asks for.`,
      decisive: true,
    },
  ];
}
