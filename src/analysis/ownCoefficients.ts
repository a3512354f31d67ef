/**
 * Coefficients of a module type from a campaign's own sweeps at several irradiances and temperatures, for one module, each
 * with its standard error, what is left over for each sweep, and what the nameplate says; or why the sweeps do not tell.
 */
import type { ModuleRecord, SweepTarget } from '../campaign/model.js';
import {
  fitCurrentCoefficients,
  fitVoltageCoefficients,
  searchKappa,
  searchSeriesResistance,
  type CoefficientSearch,
  type FittedCoefficient,
  type KnownSweep,
  type SearchTask,
} from '../physics/coefficientsFromSweeps.js';
import { extractParameters } from '../physics/curveParameters.js';
import { deviceCoefficients, type DeviceCoefficients } from '../physics/deviceCoefficients.js';
import { atModuleTerminals } from './cableCorrection.js';
import { moduleScience } from './moduleScience.js';
import type { SweepAnalysis } from './sweepAnalysis.js';

export interface CoefficientSubject {
  /** `1.03 at 2026-05-14 11:42` */
  readonly title: string;
  readonly target: SweepTarget;
  readonly analysis: SweepAnalysis;
}

export type OwnSymbol = 'alpha' | 'beta' | 'B1' | 'Rs' | 'kappa';

/** What one sweep leaves over, over the condition that matters most for the coefficient. */
export interface CoefficientResidual {
  readonly sweep: string;
  readonly irradiance: number;
  readonly cellTemperature: number;
  /** Measured over expected Isc, Voc or Pmax, less 1. */
  readonly residual: number;
}

export interface OwnCoefficient {
  readonly symbol: OwnSymbol;
  readonly unit: string;
  /** For one module; absent where the sweeps do not tell, and `refusal` says why. */
  readonly value?: number | undefined;
  /** k = 1, from the scatter of the sweeps. */
  readonly standardError?: number | undefined;
  readonly refusal?: string;
  /** How many sweeps it rests on. */
  readonly sweeps: number;
  readonly nameplate?: { readonly value: number; readonly declared: boolean } | undefined;
  /** `Isc`, `Voc` or `Pmax`: of what `residuals` are. */
  readonly of: 'Isc' | 'Voc' | 'Pmax';
  readonly residuals: readonly CoefficientResidual[];
}

export interface Span {
  readonly least: number;
  readonly most: number;
}

export interface OwnCoefficients {
  readonly sweeps: readonly string[];
  readonly leftOut: readonly { readonly sweep: string; readonly reason: string }[];
  /** W/m2 and degC; absent without a sweep. */
  readonly irradiance?: Span;
  readonly cellTemperature?: Span;
  readonly coefficients: readonly OwnCoefficient[];
}

/**
 * Below these the scatter of the sweeps drowns the coefficient, or one condition stands for the other: own choices. IEC 60891
 * asks for 30 K for temperature coefficients in the laboratory (from memory, not confirmed); the standard error says what less costs.
 */
export const coefficientLimits = {
  sweeps: 3,
  /** alpha, beta, kappa: temperatures this far apart, K. */
  temperatureStep: 10,
  /** B1, Rs: the largest irradiance over the least. */
  irradianceRatio: 1.2,
  /** beta with B1: unknowns and one more. */
  voltageSweeps: 4,
  /** Rs: temperatures no farther apart, K; kappa: irradiances within this ratio. What lies between is the nameplate's to correct. */
  mostTemperatureStep: 20,
  mostIrradianceRatio: 1.5,
  /** The standard error as a fraction of the value, at most. */
  standardError: 0.5,
  /** Searches translate every sweep some thousand times: they take so many, spread over the conditions. */
  searched: 12,
} as const;

interface Known extends KnownSweep {
  readonly title: string;
}

/** @param module the type of all these sweeps; curves of strings are divided among their modules */
export function ownCoefficients(
  subjects: readonly CoefficientSubject[],
  module: ModuleRecord,
): OwnCoefficients {
  const leftOut: { sweep: string; reason: string }[] = [];
  const known = subjects.flatMap((subject) => {
    const found = knownSweep(subject);
    if (typeof found !== 'string') return [found];
    leftOut.push({ sweep: subject.title, reason: found });
    return [];
  });
  const irradiance = spanOf(known.map(({ conditions }) => conditions.irradiance));
  const cellTemperature = spanOf(known.map(({ conditions }) => conditions.cellTemperature));
  return {
    sweeps: known.map(({ title }) => title),
    leftOut,
    irradiance,
    cellTemperature,
    coefficients: determine(known, module, { irradiance, cellTemperature }),
  };
}

/** The sweep as one module, or why it tells nothing. */
function knownSweep({ title, target, analysis }: CoefficientSubject): Known | string {
  const { conditions, measured, verdict, reasons } = analysis;
  if (verdict === 'void') return 'declared void';
  if (reasons.some(({ code }) => code === 'substrings-out'))
    return 'its curve shows substrings out of the current path';
  if (reasons.some(({ code }) => code === 'implausible'))
    return 'it delivers more than its nameplate can give';
  const { isc, voc } = measured?.parameters ?? {};
  if (isc === undefined || voc === undefined) return 'its points do not reach from Isc to Voc';
  if (measured!.flags.some(({ code }) => code === 'several-maxima')) return 'its curve has steps';
  const { irradiance, cellTemperature, temperatureSource } = conditions;
  if (irradiance === undefined || cellTemperature === undefined)
    return 'irradiance or temperature is not known';
  if (temperatureSource === 'voc') return 'its temperature was had from Voc, which takes beta for granted';
  if (target.seriesModules === undefined) return 'the string does not have the modules it names';
  const [series, parallel] = [target.seriesModules, target.parallelStrings];
  const { curve } = atModuleTerminals(measured!.curve, target);
  return {
    title,
    curve: {
      voltage: curve.voltage.map((v) => v / series),
      current: curve.current.map((i) => i / parallel),
    },
    conditions: { irradiance, cellTemperature },
    isc: isc / parallel,
    voc: voc / series,
  };
}

function spanOf(values: readonly number[]): Span | undefined {
  return values.length === 0 ? undefined : { least: Math.min(...values), most: Math.max(...values) };
}

interface Spans {
  readonly irradiance?: Span | undefined;
  readonly cellTemperature?: Span | undefined;
}

const stepOf = (span: Span | undefined): number => (span ? span.most - span.least : 0);
const ratioOf = (span: Span | undefined): number => (span ? span.most / span.least : 1);

function determine(known: readonly Known[], module: ModuleRecord, spans: Spans): OwnCoefficient[] {
  const limits = coefficientLimits;
  const science = moduleScience(module);
  const science1 = science.procedures?.[1] ?? science.procedures?.junction;
  const nameplate = (value: number | undefined, written: unknown) =>
    value === undefined ? undefined : { value, declared: written !== undefined };
  const c = science1?.coefficients;
  const few = tooFew(known.length, limits.sweeps);
  const cold = tooAlike(spans, 'temperature');
  const flat = tooAlike(spans, 'irradiance');

  const current = few ?? cold ?? fitCurrentCoefficients(known) ?? dependent;
  const alpha = linear('alpha', 'A/K', 'Isc', known, current, (fit) => [
    fit.alpha,
    fit.residuals,
    fit.isc.value,
  ]);
  const voltage =
    tooFew(known.length, limits.voltageSweeps) ?? cold ?? flat ?? fitVoltageCoefficients(known) ?? dependent;
  const beta = linear('beta', 'V/K', 'Voc', known, voltage, (fit) => [
    fit.beta,
    fit.residuals,
    fit.voc.value,
  ]);
  const b1 = linear('B1', '', 'Voc', known, voltage, (fit) => [fit.b1, fit.residuals, fit.voc.value]);

  const base =
    c && deviceCoefficients({ ...c, alpha: alpha.value ?? c.alpha, beta: beta.value ?? c.beta }, 1, 1);
  const noNameplate = 'The nameplate lacks what the translation needs: the other coefficients, Isc and Voc.';
  const hot = stepOf(spans.cellTemperature) > limits.mostTemperatureStep;
  const rs = searched(
    'Rs',
    'ohm',
    'irradiance',
    known,
    few ??
      flat ??
      (hot
        ? `The temperatures lie more than ${limits.mostTemperatureStep} K apart, so that kappa would stand for Rs.`
        : undefined) ??
      (base ? undefined : noNameplate),
    base,
  );
  const wide = ratioOf(spans.irradiance) > limits.mostIrradianceRatio;
  const kappa = searched(
    'kappa',
    'ohm/K',
    'cellTemperature',
    known,
    few ??
      cold ??
      (wide
        ? `The largest irradiance is more than ${limits.mostIrradianceRatio} times the least, so that Rs would stand for kappa.`
        : undefined) ??
      (base ? undefined : noNameplate),
    base && { ...base, rs: rs.value ?? base.rs },
  );
  const all: OwnCoefficient[] = [
    { ...alpha, nameplate: nameplate(module.alpha ?? c?.alpha, module.alpha) },
    { ...beta, nameplate: nameplate(module.beta ?? c?.beta, module.beta) },
    { ...b1, nameplate: nameplate(module.b1 ?? c?.b1, module.b1) },
    { ...rs, nameplate: nameplate(module.rs?.value ?? c?.rs, module.rs) },
    { ...kappa, nameplate: nameplate(module.kappa?.value ?? c?.kappa, module.kappa) },
  ];

  return all.map(withoutScatter);
}

/** A value that its own standard error swallows is none; what each sweep leaves over shows which one differs. */
function withoutScatter(coefficient: OwnCoefficient): OwnCoefficient {
  const { value, standardError } = coefficient;
  if (value === undefined || !(standardError! > coefficientLimits.standardError * Math.abs(value)))
    return coefficient;
  const refusal = `The sweeps scatter too much: its standard error is ${((100 * standardError!) / Math.abs(value)).toFixed(0)} % of it. They differ in more than their conditions: damaged devices, or an irradiance or temperature that is not theirs.`;
  return { ...coefficient, value: undefined, standardError: undefined, refusal };
}

const dependent =
  'Irradiance and temperature rose and fell together: sweeps at other pairs of the two are needed to tell them apart.';

const tooFew = (count: number, least: number): string | undefined =>
  count < least
    ? `It needs at least ${least} usable sweeps; there ${count === 1 ? 'is 1' : `are ${count}`}.`
    : undefined;

function tooAlike(spans: Spans, what: 'temperature' | 'irradiance'): string | undefined {
  const { temperatureStep, irradianceRatio } = coefficientLimits;
  if (what === 'temperature') {
    const step = stepOf(spans.cellTemperature);
    return step >= temperatureStep
      ? undefined
      : `The temperatures lie ${step.toFixed(1)} K apart; at least ${temperatureStep} K are needed.`;
  }
  const ratio = ratioOf(spans.irradiance);
  return ratio >= irradianceRatio
    ? undefined
    : `The largest irradiance is ${ratio.toFixed(2)} times the least; at least ${irradianceRatio} times are needed.`;
}

function linear<Fit extends object>(
  symbol: OwnSymbol,
  unit: string,
  of: OwnCoefficient['of'],
  known: readonly Known[],
  fit: Fit | string,
  read: (fit: Fit) => readonly [FittedCoefficient, readonly number[], number],
): OwnCoefficient {
  if (typeof fit === 'string') return { symbol, unit, of, sweeps: known.length, refusal: fit, residuals: [] };
  const [{ value, standardError }, residuals, scale] = read(fit);
  return {
    symbol,
    unit,
    of,
    value,
    standardError,
    sweeps: known.length,
    residuals: residualsOf(
      known,
      residuals.map((residual) => residual / scale),
    ),
  };
}

function residualsOf(known: readonly Known[], residuals: readonly number[]): CoefficientResidual[] {
  return known.map(({ title, conditions }, k) => ({ sweep: title, ...conditions, residual: residuals[k]! }));
}

function searched(
  symbol: 'Rs' | 'kappa',
  unit: string,
  varied: 'irradiance' | 'cellTemperature',
  known: readonly Known[],
  refusal: string | undefined,
  coefficients: DeviceCoefficients | undefined,
): OwnCoefficient {
  const sweeps = spreadOver(known, varied);
  const head = { symbol, unit, of: 'Pmax', sweeps: sweeps.length, residuals: [] } as const;
  if (refusal !== undefined || !coefficients) return { ...head, refusal };
  const powerOf: SearchTask['powerOf'] = (curve) => extractParameters(curve).parameters.pmax;
  const task: SearchTask = { procedure: 1, sweeps, coefficients, powerOf };
  const found = symbol === 'Rs' ? searchSeriesResistance(task) : searchKappa(task);
  if (!found.found) return { ...head, refusal: searchWords(found) };
  const { value, standardError, residuals } = found;
  return { ...head, value, standardError, residuals: residualsOf(sweeps, residuals) };
}

function searchWords({ refusal }: Extract<CoefficientSearch, { found: false }>): string {
  switch (refusal) {
    case 'conditions-alike':
      return 'The conditions of the sweeps are too much alike.';
    case 'no-power':
      return 'No maximum power can be read from the translated curves.';
    case 'edge':
      return 'The sweeps agree best at the end of the range that was searched: they do not determine it, or differ in more than their conditions.';
  }
}

/** At most so many as a search takes, evenly over the order of a condition, both ends kept. */
function spreadOver(known: readonly Known[], varied: 'irradiance' | 'cellTemperature'): readonly Known[] {
  const most = coefficientLimits.searched;
  if (known.length <= most) return known;
  const sorted = [...known].sort((a, b) => a.conditions[varied] - b.conditions[varied]);
  return Array.from({ length: most }, (_, k) => sorted[Math.round((k * (sorted.length - 1)) / (most - 1))]!);
}
