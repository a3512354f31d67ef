/** From the points of one sweep to its verdict: measured parameters, translation to STC, deviation, uncertainty. */
import type { ParameterName, SweepTarget } from '../campaign/model.js';
import {
  continueToOpenCircuit,
  extractParameters,
  type ExtractedParameters,
} from '../physics/curveParameters.js';
import { deviceCoefficients, type DeviceCoefficients } from '../physics/deviceCoefficients.js';
import {
  standardTestConditions,
  type Conditions,
  type CurveParameters,
  type IvCurve,
} from '../physics/ivCurve.js';
import {
  translateByProcedure1,
  translateByProcedure2,
  translatePointByProcedure1,
  translatePointByProcedure2,
} from '../physics/translation.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import { conditionsOf, meanOf, type SweepSettings } from './conditions.js';
import { atModuleTerminals, type CableCorrection } from './cableCorrection.js';
import { curveFlags } from './curveFlags.js';
import { expectedCurve, moduleScience, scaleNameplate, type ModuleScience } from './moduleScience.js';
import type {
  Estimate,
  MeasuredCurve,
  Reason,
  Repeatability,
  RelativeUncertainties,
  SweepAnalysis,
  SweepConditions,
  TranslatedCurve,
} from './sweepAnalysis.js';
import { uncertaintyOf } from './sweepUncertainty.js';
import { judge } from './verdict.js';

export interface SweepInput {
  readonly settings: SweepSettings;
  readonly target: SweepTarget;
  /** Absent when no usable points could be had; `readingFailure` then says why. */
  readonly reading?: SweepReading;
  readonly readingFailure?: string;
  /** Relative standard deviations (k = 1) among repeated sweeps of the same device, where there are any. */
  readonly repeatability?: Repeatability;
}

const names: readonly ParameterName[] = ['isc', 'voc', 'imp', 'vmp', 'pmax', 'ff'];
const perParameter = <T>(value: (name: ParameterName) => T): Record<ParameterName, T> =>
  Object.fromEntries(names.map((name) => [name, value(name)])) as Record<ParameterName, T>;
const nothingKnown: RelativeUncertainties = perParameter(() => undefined);

/** Pure: the same input gives the same analysis. Never throws for what a user wrote or measured. */
export function analyseSweep(input: SweepInput): SweepAnalysis {
  const { target, reading, settings } = input;
  const device = deviceOf(target);
  const extracted = reading && extractParameters(reading.curve);
  const procedure = procedureOf(target, device?.science);
  const coefficients = device?.coefficients(procedure.number);
  const conditions = conditionsOf(settings, target, reading, extracted?.parameters.voc, coefficients);
  const measured = reading && extracted && measuredCurve(reading.curve, extracted);
  const nameplate = device && scaleNameplate(device.science.nameplate, device.series, device.parallel);
  const base = { conditions, measured, nameplate, expected: device?.expected() };

  const obstacles = obstaclesTo(input, device, conditions, extracted);
  const translation =
    obstacles.length === 0 && reading && extracted && device && coefficients
      ? translate(reading, target, extracted, conditions, device, coefficients, procedure.number)
      : undefined;
  if (!translation) {
    return withVoid(settings, {
      ...base,
      deviation: perParameter(() => undefined),
      uncertainty: nothingKnown,
      budget: [],
      verdict: 'not judged',
      reasons: obstacles,
    });
  }
  const { translated, extraction, cable } = translation;
  const deviation = perParameter((name) => {
    const value = translated.parameters[name];
    const declared = nameplate?.[name];
    // A number that is not finite is no result: it must not reach a decision rule.
    return value === undefined || !declared || !Number.isFinite(value) ? undefined : value / declared - 1;
  });
  const { uncertainty, budget } = uncertaintyOf({
    target,
    conditions,
    translated,
    extraction,
    measuredIsc: extracted!.parameters.isc,
    measuredVoc: extracted!.parameters.voc,
    coefficients: coefficients!,
    procedure: procedure.number,
    cableUncertainty: cable.standardUncertainty,
    repeatability: input.repeatability,
  });
  const judgement = target.criteria
    ? judge({ criteria: target.criteria, conditions, deviation, uncertainty })
    : { verdict: 'not judged' as const, reasons: [noCriteria] };
  return withVoid(settings, {
    ...base,
    translated,
    deviation,
    uncertainty,
    budget,
    verdict: judgement.verdict,
    reasons: [...judgement.reasons, ...temperatureReasons(conditions), ...procedure.reasons],
  });
}

const noCriteria: Reason = {
  code: 'no-criteria',
  text: 'No criteria apply: add a criteria block, or name one of several with "criteria NAME".',
  decisive: true,
};

/** How far the equivalent cell temperature may stand from the one given before it is said, K. */
const temperatureDoubt = 5;

/** Voc is a thermometer too: where it disagrees, the temperature or the device is not what the campaign says. */
function temperatureReasons({
  cellTemperature,
  vocTemperature,
  temperatureSource,
}: SweepConditions): Reason[] {
  if (cellTemperature === undefined || vocTemperature === undefined || temperatureSource === 'voc') return [];
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
  readonly coefficients: (procedure: 1 | 2) => DeviceCoefficients | undefined;
  readonly expected: () => IvCurve | undefined;
}

/** The measured device: so many modules of one type in series and parallel. Undefined while the names do not resolve. */
function deviceOf({ module, seriesModules, parallelStrings }: SweepTarget): Device | undefined {
  if (!module || seriesModules === undefined) return undefined;
  const science = moduleScience(module);
  return {
    science,
    series: seriesModules,
    parallel: parallelStrings,
    coefficients: (procedure) =>
      science.procedures &&
      deviceCoefficients(science.procedures[procedure].coefficients, seriesModules, parallelStrings),
    expected: () => science.diode && expectedCurve(science.diode, seriesModules, parallelStrings),
  };
}

interface ProcedureChoice {
  readonly number: 1 | 2;
  readonly reasons: readonly Reason[];
}

/** What the criteria name; `auto` takes procedure 2 only where the nameplate gives its own coefficients. */
function procedureOf({ criteria, module }: SweepTarget, science: ModuleScience | undefined): ProcedureChoice {
  const wanted = criteria?.procedure ?? 'auto';
  if (wanted === 'IEC60891-1') return { number: 1, reasons: [] };
  if (wanted === 'IEC60891-2') return { number: 2, reasons: [] };
  const declared = module?.b1 !== undefined && module.rs !== undefined && module.kappa !== undefined;
  const number = declared && science ? 2 : 1;
  const why =
    number === 2
      ? 'the nameplate gives Rs, kappa and B1'
      : 'it needs the fewest coefficients, and the nameplate gives no B1 with Rs and kappa';
  return {
    number,
    reasons: [
      {
        code: 'procedure-chosen',
        text: `Translated by IEC 60891 procedure ${number}, chosen since ${why}.`,
        decisive: false,
      },
    ],
  };
}

/** W/m2: what the notation takes as an irradiance at most, here also for what a table holds. */
const brightest = 2000;

/** Why nothing can be translated; empty when it can. The first reason is the one to mend first. */
function obstaclesTo(
  { target, reading, readingFailure }: SweepInput,
  device: Device | undefined,
  conditions: SweepConditions,
  extracted: ExtractedParameters | undefined,
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
  if (!device.science.procedures) {
    const list = device.science.missing.join(', ');
    return obstacle(
      'nameplate-incomplete',
      `Module ${target.module?.name.text ?? ''} lacks ${list || 'a consistent nameplate'}.`,
    );
  }
  if (conditions.irradiance === undefined) {
    return reading.irradiance
      ? obstacle('no-irradiance', 'The mean of the irradiance column is not above zero.')
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
  return [];
}

function measuredCurve(curve: IvCurve, extracted: ExtractedParameters): MeasuredCurve {
  const { parameters, noise, slopeAtIsc, slopeAtVoc, findings } = extracted;
  return { curve, parameters, noise, slopeAtIsc, slopeAtVoc, flags: curveFlags(findings) };
}

interface Translation {
  readonly translated: TranslatedCurve;
  readonly extraction: ExtractedParameters;
  readonly cable: CableCorrection;
}

function translate(
  reading: SweepReading,
  target: SweepTarget,
  extracted: ExtractedParameters,
  conditions: SweepConditions,
  device: Device,
  coefficients: DeviceCoefficients,
  procedure: 1 | 2,
): Translation {
  const from: Conditions = {
    irradiance: conditions.irradiance!,
    cellTemperature: conditions.cellTemperature!,
  };
  const to = standardTestConditions;
  const points = pointIrradiance(reading, from.irradiance);
  const cable = atModuleTerminals(reading.curve, target);
  const moved =
    procedure === 1
      ? translateByProcedure1(cable.curve, extracted.parameters.isc!, from, to, coefficients, points)
      : translateByProcedure2(cable.curve, from, to, coefficients, points);
  const continued = continueToOpenCircuit(moved);
  const curve = continued.curve;
  const extraction = extractParameters(curve);
  const task = { isc: extracted.parameters.isc!, from, to, coefficients };
  const shortCircuit = { voltage: 0, current: task.isc };
  const parameters = withEnds(
    extraction.parameters,
    (procedure === 1 ? translatePointByProcedure1 : translatePointByProcedure2)(shortCircuit, task).current,
    continued.voc,
  );
  const flags = curveFlags(extraction.findings);
  return {
    extraction,
    cable,
    translated: {
      curve,
      parameters,
      flags: continued.continuedFrom === undefined ? flags : [continuationFlag, ...flags],
      to,
      procedure: procedure === 1 ? 'IEC60891-1' : 'IEC60891-2',
      estimates: [...estimatesOf(device, procedure), ...(cable.estimate ? [cable.estimate] : [])],
      continuedFrom: continued.continuedFrom,
    },
  };
}

/**
 * Isc at STC is the translated short-circuit current, as the equations say it, not what the shifted curve has at V = 0: the
 * point measured at V = 0 moves along the voltage too. Where the curve was continued, its fit knows Voc better than the
 * points it added.
 */
function withEnds(
  parameters: CurveParameters,
  isc: number,
  continuedVoc: number | undefined,
): CurveParameters {
  const voc = continuedVoc ?? parameters.voc;
  const { pmax } = parameters;
  return { ...parameters, isc, voc, ff: voc && pmax !== undefined ? pmax / (isc * voc) : undefined };
}

const continuationFlag = {
  code: 'continued-to-voc',
  text: 'The translated curve stopped short of zero current and was continued to Voc by the single-diode form.',
};

/** Each point's own irradiance, scaled so that the mean is the irradiance the sweep is translated from. */
function pointIrradiance(reading: SweepReading, irradiance: number): Float64Array | undefined {
  const mean = meanOf(reading.irradiance);
  if (mean === undefined) return undefined;
  return reading.irradiance!.map((value) => (Number.isNaN(value) ? irradiance : (value * irradiance) / mean));
}

function estimatesOf({ science, series, parallel }: Device, procedure: 1 | 2): Estimate[] {
  return science.procedures![procedure].estimates.map(({ symbol, value, unit, method, scaling }) => {
    const factor = scaling === 'resistance' ? series / parallel : scaling === 'power' ? series * parallel : 1;
    return { symbol, value: value * factor, unit, method };
  });
}
