/** From the points of one sweep to its verdict: measured parameters, translation to STC, deviation, uncertainty. */
import type { ModuleRecord, SweepTarget } from '../campaign/model.js';
import {
  extractParameters,
  type CurveFinding,
  type ExtractedParameters,
} from '../physics/curveParameters.js';
import { deviceCoefficients, type DeviceCoefficients } from '../physics/deviceCoefficients.js';
import { perParameter, unknownParameters, type IvCurve } from '../physics/ivCurve.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import { conditionsOf, type SweepSettings } from './conditions.js';
import { curveFlags } from './curveFlags.js';
import { interpolationObstacle, type Partner } from './interpolatedSweep.js';
import {
  expectedCurve,
  moduleScience,
  scaleNameplate,
  type Correction,
  type ModuleScience,
} from './moduleScience.js';
import { droppedReadings } from './pointIrradiance.js';
import { chooseProcedure, procedureObstacle, type ProcedureChoice } from './procedureChoice.js';
import type {
  MeasuredCurve,
  Reason,
  Repeatability,
  SweepAnalysis,
  SweepConditions,
} from './sweepAnalysis.js';
import { translateSweep, type Translation } from './translateSweep.js';
import { uncertaintyOf } from './sweepUncertainty.js';
import { judge, toleranceRangesOf } from './verdict.js';
import { substringReasons, workingModules } from './workingSubstrings.js';

export interface SweepInput {
  readonly settings: SweepSettings;
  readonly target: SweepTarget;
  /** Absent when no usable points could be had; `readingFailure` then says why. */
  readonly reading?: SweepReading;
  readonly readingFailure?: string;
  /** Relative standard deviations (k = 1) among repeated sweeps of the same device, where there are any. */
  readonly repeatability?: Repeatability;
  /** The sweep to interpolate with by procedure 3. */
  readonly partner?: Partner;
  /** Substrings out of the current path, as a diagnosis of the sweep found them (default 0). */
  readonly substringsOut?: number;
}

/** A sweep with its parameters at STC, before anything is judged: what its repetitions scatter does not bear on it. */
export interface CarriedSweep {
  readonly input: Omit<SweepInput, 'repeatability'>;
  /** Of the points as they were measured. */
  readonly extracted: ExtractedParameters | undefined;
  readonly base: Pick<SweepAnalysis, 'conditions' | 'measured' | 'nameplate' | 'expected'>;
  readonly device: Device | undefined;
  readonly choice: ProcedureChoice;
  readonly coefficients: DeviceCoefficients | undefined;
  readonly obstacles: readonly Reason[];
  /** Undefined where an obstacle stands in the way. */
  readonly translation: Translation | undefined;
}

/**
 * Pure: the same input gives the same answer, and so does `judgeSweep`. Neither throws for what a user wrote or measured.
 * @param extracted the parameters of the points, where they are known
 */
export function carrySweep(
  input: CarriedSweep['input'],
  extracted = input.reading && extractParameters(input.reading.curve),
): CarriedSweep {
  const { target, reading, settings } = input;
  const device = deviceOf(target, input.substringsOut ?? 0);
  const choice = chooseProcedure(target, device?.science);
  const coefficients = device?.coefficients(choice.correction);
  const conditions = conditionsOf(settings, target, reading, extracted?.parameters.voc, coefficients);
  const measured = reading && extracted && measuredCurve(reading.curve, extracted);
  const nameplate = device && scaleNameplate(device.science.nameplate, device.series, device.parallel);
  const obstacles = obstaclesTo(input, device, conditions, extracted, choice);
  const translation =
    obstacles.length === 0 && reading && extracted && device && coefficients
      ? translated(input, reading, extracted, measured!, conditions, device, coefficients, choice)
      : undefined;
  const base = { conditions, measured, nameplate, expected: device?.expected() };
  return { input, extracted, base, device, choice, coefficients, obstacles, translation };
}

/** @param repeatability relative standard deviations (k = 1) among repeated sweeps of the same device, where there are any */
export function judgeSweep(carried: CarriedSweep, repeatability?: Repeatability): SweepAnalysis {
  const { input, extracted, base, device, choice, coefficients, obstacles, translation } = carried;
  const { target, settings, reading, substringsOut = 0 } = input;
  const { conditions, nameplate } = base;
  if (!translation) {
    return withVoid(settings, {
      ...base,
      deviation: unknownParameters,
      uncertainty: unknownParameters,
      budget: [],
      verdict: 'not judged',
      reasons: obstacles,
    });
  }
  const { translated: atStandard, extraction, iscBefore, cable, interpolated } = translation;
  const deviation = perParameter((name) => {
    const value = atStandard.parameters[name];
    const declared = nameplate?.[name];
    // A number that is not finite is no result: it must not reach a decision rule.
    return value === undefined || !declared || !Number.isFinite(value) ? undefined : value / declared - 1;
  });
  const { uncertainty, budget, coverage } = uncertaintyOf({
    target,
    conditions,
    translated: atStandard,
    extraction,
    measuredIsc: iscBefore,
    measured: extracted!,
    coefficients: coefficients!,
    correction: choice.correction,
    junction: device?.science.procedures?.junction?.junction,
    interpolated: interpolated && { ...interpolated, partner: input.partner! },
    cableUncertainty: cable.standardUncertainty,
    repeatability,
  });
  const judgement = target.criteria
    ? judge({
        criteria: target.criteria,
        conditions,
        deviation,
        uncertainty,
        coverage,
        tolerance: target.module && toleranceRangesOf(target.module),
      })
    : { verdict: 'not judged' as const, reasons: [noCriteria] };
  return withVoid(settings, {
    ...base,
    translated: atStandard,
    deviation,
    uncertainty,
    budget,
    coverage,
    verdict: judgement.verdict,
    reasons: [
      ...judgement.reasons,
      ...substringReasons(target, substringsOut),
      ...temperatureReasons(conditions),
      ...droppedReasons(reading!),
      ...choice.reasons,
    ],
  });
}

const noCriteria: Reason = {
  code: 'no-criteria',
  text: 'No criteria apply: add a criteria block, or name one of several with "criteria NAME".',
  decisive: true,
};

/** How far the equivalent cell temperature may stand from the one given before it is said, K. */
const temperatureDoubt = 5;

const vocAsThermometer =
  'The cell temperature was taken from Voc and the nameplate (IEC 60904-5). Cells or substrings that are lost make it read hot, and ' +
  'Pmax is then corrected upwards: a loss of voltage does not show. A temperature sensor would tell.';

/** Voc is a thermometer too: where it disagrees, the temperature or the device is not what the campaign says. */
function temperatureReasons({
  cellTemperature,
  vocTemperature,
  temperatureSource,
}: SweepConditions): Reason[] {
  if (temperatureSource === 'voc')
    return [{ code: 'temperature-from-voc', text: vocAsThermometer, decisive: false }];
  if (cellTemperature === undefined || vocTemperature === undefined) return [];
  const difference = vocTemperature - cellTemperature;
  if (Math.abs(difference) <= temperatureDoubt) return [];
  const causes =
    difference > 0
      ? 'a temperature sensor that came off, more modules declared than measured, or substrings out of the current path'
      : 'a temperature sensor hotter than the cells, or fewer modules declared than measured';
  return [
    {
      code: 'voc-temperature',
      text:
        `Voc would fit a cell temperature of ${vocTemperature.toFixed(1)} degC (IEC 60904-5), ` +
        `${Math.abs(difference).toFixed(0)} K ${difference > 0 ? 'above' : 'below'} the ${cellTemperature.toFixed(1)} degC given: ${causes}.`,
      decisive: false,
    },
  ];
}

/** A logger writes 0 for a reading that it missed; such readings count as not taken, and that is said. */
function droppedReasons(reading: SweepReading): Reason[] {
  const dropped = droppedReadings(reading);
  if (dropped === 0) return [];
  const text =
    `${dropped} of ${reading.irradiance!.length} readings of irradiance lie under a tenth of their median and count as not ` +
    'taken; their points keep the mean irradiance of the others.';
  return [{ code: 'irradiance-dropped', text, decisive: false }];
}

/** A void sweep keeps its numbers and loses its verdict. */
function withVoid(settings: SweepSettings, analysis: SweepAnalysis): SweepAnalysis {
  if (settings.void === undefined) return analysis;
  const reason: Reason = { code: 'void', text: `Declared void: ${settings.void}`, decisive: true };
  const others = analysis.reasons.map((other) => ({ ...other, decisive: false }));
  return { ...analysis, verdict: 'void', reasons: [reason, ...others] };
}

interface Device {
  readonly science: ModuleScience;
  readonly series: number;
  readonly parallel: number;
  readonly coefficients: (correction: Correction) => DeviceCoefficients | undefined;
  readonly expected: () => IvCurve | undefined;
}

/** The measured device: so many modules of one type in series and parallel. Undefined while the names do not resolve. */
function deviceOf(target: SweepTarget, substringsOut: number): Device | undefined {
  const { module, seriesModules, parallelStrings } = target;
  if (!module || seriesModules === undefined) return undefined;
  const science = moduleScience(module);
  return {
    science,
    series: seriesModules,
    parallel: parallelStrings,
    coefficients: (correction) => {
      const known = science.procedures?.[correction];
      return (
        known &&
        deviceCoefficients(known.coefficients, workingModules(target, substringsOut), parallelStrings)
      );
    },
    expected: () => science.diode && expectedCurve(science.diode, seriesModules, parallelStrings),
  };
}

/** Values that are written but could not be read or taken. An estimate in their place would be a guess. */
function unreadableNameplate(module: ModuleRecord): string[] {
  const { pmax, isc, voc, imp, vmp, alpha, beta, gamma, rs, kappa, b1, b2, cells } = module;
  const values = {
    Pmax: pmax,
    Isc: isc,
    Voc: voc,
    Imp: imp,
    Vmp: vmp,
    alpha,
    beta,
    gamma,
    Rs: rs,
    kappa,
    B1: b1,
    B2: b2,
    cells,
  };
  return Object.entries(values).flatMap(([name, value]) =>
    value === undefined && module.propertyRanges.has(name) ? [name] : [],
  );
}

/** W/m2: what the notation takes as an irradiance at most, here also for what a table holds. */
const brightest = 2000;

/** Why nothing can be translated; empty when it can. The first reason is the one to mend first. */
function obstaclesTo(
  { settings, target, reading, readingFailure, partner }: SweepInput,
  device: Device | undefined,
  conditions: SweepConditions,
  extracted: ExtractedParameters | undefined,
  choice: ProcedureChoice,
): Reason[] {
  const obstacle = (code: string, text: string): Reason[] => [{ code, text, decisive: true }];
  if (!reading || !extracted)
    return obstacle('no-points', readingFailure ?? 'The sweep has no usable points.');
  if (!target.string) return obstacle('no-string', 'The address names no string of the campaign.');
  if (!device) {
    return target.module
      ? obstacle('beyond-string', 'The address names modules that the string does not have.')
      : obstacle('no-module', 'The string names no known module type.');
  }
  const unreadable = unreadableNameplate(target.module!);
  if (unreadable.length > 0) {
    return obstacle(
      'nameplate-error',
      `Module ${target.module!.name.text} has an error at ${unreadable.join(', ')}; mend it first.`,
    );
  }
  if (!device.science.procedures) {
    const list = device.science.missing.join(', ');
    return obstacle(
      'nameplate-incomplete',
      `Module ${target.module?.name.text ?? ''} lacks ${list || 'a consistent nameplate'}.`,
    );
  }
  const unfit = procedureObstacle(choice, device.science, target.module?.name.text ?? '');
  if (unfit !== undefined) return obstacle('procedure-unfit', unfit);
  if (conditions.irradiance === undefined) {
    if (reading.irradiance)
      return obstacle('no-irradiance', 'The mean of the irradiance column is not above zero.');
    return settings.irradiance
      ? obstacle('no-irradiance', 'The irradiance that is given is not above zero.')
      : obstacle('no-irradiance', 'The sweep gives no irradiance.');
  }
  if (conditions.irradiance > brightest) {
    const mean = conditions.irradiance.toPrecision(3);
    return obstacle(
      'no-irradiance',
      `An irradiance of ${mean} W/m2 is more than the sun gives; check its column.`,
    );
  }
  if (conditions.cellTemperature === undefined) {
    return conditions.temperatureSource === 'voc'
      ? obstacle('no-temperature', 'No plausible cell temperature follows from Voc.')
      : obstacle('no-temperature', 'The sweep gives no temperature.');
  }
  if (extracted.parameters.isc === undefined || extracted.parameters.pmax === undefined) {
    const lost = curveFlags(extracted.findings).filter(({ lost: isLost }) => isLost);
    return obstacle(
      'curve-incomplete',
      lost.map(({ text }) => text).join(' ') || 'The points do not carry Isc and Pmax.',
    );
  }
  if (choice.name !== 'IEC60891-3') return [];
  const lonely = interpolationObstacle(addressOf(target), conditions, partner);
  return lonely === undefined ? [] : obstacle(partner ? 'partner-too-near' : 'no-partner', lonely);
}

const addressOf = ({ string, wholeString }: SweepTarget): string =>
  wholeString && string?.names.length === 1 ? `string ${string.names[0]!}` : 'the same device';

/** Every tracer starts a little above V = 0; a step of 2 % of Voc on a flat line moves nothing (own choice). */
function isWorthSaying(finding: CurveFinding, voc: number | undefined): boolean {
  return finding.code !== 'isc-extrapolated' || voc === undefined || finding.by > 0.02 * voc;
}

function measuredCurve(curve: IvCurve, extracted: ExtractedParameters): MeasuredCurve {
  const { parameters, noise, slopeAtIsc, slopeAtVoc, findings } = extracted;
  return {
    curve,
    parameters,
    noise,
    slopeAtIsc,
    slopeAtVoc,
    flags: curveFlags(findings.filter((finding) => isWorthSaying(finding, parameters.voc))),
  };
}

function translated(
  { target, partner }: SweepInput,
  reading: SweepReading,
  extracted: ExtractedParameters,
  measured: MeasuredCurve,
  conditions: SweepConditions,
  { science }: Device,
  coefficients: DeviceCoefficients,
  choice: ProcedureChoice,
): Translation {
  // What procedure 3 needs of the sweep itself is what it needs of its partner.
  const own = { reading, target, analysis: { conditions, measured } };
  return translateSweep({
    reading,
    target,
    measuredIsc: extracted.parameters.isc!,
    conditions,
    choice,
    science: science.procedures![choice.correction]!,
    coefficients,
    pair: choice.name === 'IEC60891-3' ? { own, partner: partner! } : undefined,
  });
}
