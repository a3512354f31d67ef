/**
 * The five parameters of the single-diode model fitted to a measured sweep, beside what the nameplate's model expects at the
 * conditions of that sweep. Costs some milliseconds, so it is computed only for what is shown, and remembered.
 */
import { extractParameters } from '../physics/curveParameters.js';
import type { SweepTarget } from '../campaign/model.js';
import { junctionThermalVoltage } from '../physics/constants.js';
import type { Conditions, CurveParameters, IvCurve } from '../physics/ivCurve.js';
import { atConditions } from '../physics/nameplateModel.js';
import {
  characteristicPoints,
  currentAtVoltage,
  inSeriesParallel,
  type SingleDiode,
} from '../physics/singleDiode.js';
import { fitSingleDiode, type SingleDiodeFit } from '../physics/singleDiodeFit.js';
import { atModuleTerminals } from './cableCorrection.js';
import { moduleScience } from './moduleScience.js';
import type { SweepAnalysis } from './sweepAnalysis.js';

/** `IL`, `I0`, `Rs`, `Rsh` of the whole device, `n` of one cell. */
export type DiodeSymbol = 'IL' | 'I0' | 'Rs' | 'Rsh' | 'n';

export interface DiodeValue {
  readonly symbol: DiodeSymbol;
  readonly unit: string;
  readonly value: number;
  /** Standard uncertainty (k = 1) from the scatter of the points alone; undefined where the points do not tell. */
  readonly standardUncertainty: number | undefined;
  /** Of the nameplate's model at the conditions of the sweep. */
  readonly expected: number | undefined;
}

export interface FittedModel {
  readonly values: readonly DiodeValue[];
  /** The numbers describe the points and no junction; a full sentence. */
  readonly doubt?: string | undefined;
  /** Robust standard deviation of the measured current around the curve, A. */
  readonly deviation: number;
  /** Curve parameters that the nameplate's model expects at the conditions of the sweep. */
  readonly expected: CurveParameters | undefined;
  /** At the module terminals, as what is expected: less the cable, where there is one. */
  readonly measured: CurveParameters;
}

export type DiodeFitResult =
  | { readonly kind: 'fitted'; readonly fitted: FittedModel }
  /** Why one diode does not describe the curve; a full sentence. */
  | { readonly kind: 'none'; readonly reason: string };

export interface FitSubject {
  readonly target: SweepTarget;
  readonly analysis: SweepAnalysis;
}

const known = new WeakMap<SweepAnalysis, DiodeFitResult>();

/** At the module terminals. Remembered with the analysis, which is another object as soon as anything changes. */
export function diodeFitOf(subject: FitSubject): DiodeFitResult {
  let result = known.get(subject.analysis);
  if (!result) known.set(subject.analysis, (result = fit(subject)));
  return result;
}

const none = (reason: string): DiodeFitResult => ({ kind: 'none', reason });

function fit({ target, analysis }: FitSubject): DiodeFitResult {
  const { measured, conditions } = analysis;
  if (measured?.parameters.isc === undefined || measured.parameters.voc === undefined)
    return none('The points do not reach from Isc to Voc, so no model is fitted.');
  const stepped = 'The curve has steps (bypass diodes conduct), and one diode does not describe it.';
  if (measured.flags.some(({ code }) => code === 'several-maxima')) return none(stepped);
  const { curve } = atModuleTerminals(measured.curve, target);
  const found = fitSingleDiode(curve);
  if (!found) return none('The points carry no single-diode curve.');
  const { isc } = measured.parameters;
  // Whether the fit converged says little: weights that set points aside may alternate at the last digits. What it misses tells.
  if (missedBy(found.model, curve) > allowedNoise * (measured.noise ?? found.deviation) + allowedShape * isc)
    return none(stepped);
  const expected = expectedModel(target, conditions);
  const values = valuesOf(found, target, expected, conditions.cellTemperature);
  return {
    kind: 'fitted',
    fitted: {
      values,
      doubt: doubtOf(values),
      deviation: found.deviation,
      expected: expected && characteristicPoints(expected),
      measured: curve === measured.curve ? measured.parameters : extractParameters(curve).parameters,
    },
  };
}

/** Own choices: what is missed may be so many times the noise between neighbours, and this fraction of Isc beside it. */
const allowedNoise = 2;
const allowedShape = 0.001;

/** Root mean square of measured less fitted current in the generating quadrant, A, without the 2 % farthest points. */
function missedBy(model: SingleDiode, { voltage, current }: IvCurve): number {
  const squares = Array.from(voltage, (v, k) => ({ v, i: current[k]! }))
    .filter(({ v, i }) => v >= 0 && i >= 0)
    .map(({ v, i }) => (i - currentAtVoltage(model, v)) ** 2)
    .sort((a, b) => a - b);
  const kept = squares.slice(0, Math.ceil(0.98 * squares.length));
  return Math.sqrt(kept.reduce((sum, square) => sum + square, 0) / kept.length);
}

/** The device of the nameplate at the conditions of a sweep; undefined without a model or without conditions. */
export function expectedModel(target: SweepTarget, conditions: Partial<Conditions>): SingleDiode | undefined {
  const { module, seriesModules, parallelStrings } = target;
  const { irradiance, cellTemperature } = conditions;
  const diode = module && moduleScience(module).diode;
  if (!diode || seriesModules === undefined || irradiance === undefined || cellTemperature === undefined)
    return undefined;
  return inSeriesParallel(
    atConditions(diode, { irradiance, cellTemperature }),
    seriesModules,
    parallelStrings,
  );
}

/** A junction has 1 to 2; nameplate models of the CEC table go down to 0.96. The limits are the project's own. */
const plausibleIdeality = { least: 0.85, most: 2.5 } as const;

function doubtOf(values: readonly DiodeValue[]): string | undefined {
  const ideality = values.find(({ symbol }) => symbol === 'n')?.value;
  if (ideality === undefined) return undefined;
  const { least, most } = plausibleIdeality;
  if (ideality >= least && ideality <= most) return undefined;
  const which = ideality < least ? 'less' : 'more';
  return `An ideality factor of ${ideality.toFixed(2)} is ${which} than a junction has: cells are out of the current path, their number is not as declared, or something else bends the curve.`;
}

function valuesOf(
  { model, standardErrors: errors }: SingleDiodeFit,
  target: SweepTarget,
  expected: SingleDiode | undefined,
  cellTemperature: number | undefined,
): DiodeValue[] {
  const values: DiodeValue[] = [
    {
      symbol: 'IL',
      unit: 'A',
      value: model.photocurrent,
      standardUncertainty: errors.photocurrent,
      expected: expected?.photocurrent,
    },
    {
      symbol: 'I0',
      unit: 'A',
      value: model.saturationCurrent,
      standardUncertainty: errors.saturationCurrent,
      expected: expected?.saturationCurrent,
    },
    {
      symbol: 'Rs',
      unit: 'ohm',
      value: model.seriesResistance,
      standardUncertainty: errors.seriesResistance,
      expected: expected?.seriesResistance,
    },
    {
      symbol: 'Rsh',
      unit: 'ohm',
      value: model.shuntResistance,
      standardUncertainty: errors.shuntConductance * model.shuntResistance ** 2,
      expected: expected?.shuntResistance,
    },
  ];
  const cells = target.module?.cells;
  const series = target.seriesModules;
  if (cells !== undefined && series !== undefined && cellTemperature !== undefined) {
    const scale = 1 / (cells * series * junctionThermalVoltage(cellTemperature));
    values.push({
      symbol: 'n',
      unit: '',
      value: model.thermalVoltage * scale,
      standardUncertainty: errors.thermalVoltage * scale,
      expected: expected && expected.thermalVoltage * scale,
    });
  }
  return values.map((each) => ({
    ...each,
    standardUncertainty: Number.isFinite(each.standardUncertainty) ? each.standardUncertainty : undefined,
  }));
}
