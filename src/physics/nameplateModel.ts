/**
 * The five-parameter model of a nameplate and its transfer to other conditions, after De Soto, Klein, Beckman, Solar
 * Energy 80 (2006) 78-88 (equations as documented in pvlib `pvsystem.calcparams_desoto`; the paper was not read).
 *
 * The five equations: the curve passes through short circuit, maximum power point and open circuit; dP/dV = 0 at the
 * maximum power point; Voc moves by beta. The first four leave one curve for each thermal voltage a (nameplatePoints.ts),
 * the fifth chooses it. Both are bracketed, so nothing can diverge.
 *
 * A nameplate is rounded and need not be consistent. Where beta asks for a larger a than the four equations allow with
 * resistances of zero or more, the largest allowed a is taken: points and maximum stay exact, beta is missed by
 * `betaResidual`. This is the least-squares compromise that gives all its freedom to beta, which a translation takes from
 * the nameplate itself anyway.
 */
import {
  boltzmannElectronvolt,
  junctionThermalVoltage,
  referenceTemperature,
  zeroCelsius,
} from './constants.js';
import type { Conditions } from './ivCurve.js';
import { curveThroughPoints, largestThermalVoltage, type NameplatePoints } from './nameplatePoints.js';
import { bandGapOf, medianCoefficients, type BandGap, type Semiconductor } from './semiconductors.js';
import { voltageAtCurrent, type SingleDiode } from './singleDiode.js';

/** Values at standard test conditions, of one module or of any larger device. */
export interface Nameplate extends NameplatePoints {
  /** Temperature coefficient of Isc, A/K. Absent: the median of the technology. */
  readonly alpha?: number;
  /** Temperature coefficient of Voc, V/K, below zero. Absent: the median of the technology. */
  readonly beta?: number;
  /** Cells in series; only the ideality factor needs them. */
  readonly cells?: number;
  readonly technology?: Semiconductor;
}

/** A model at STC with what carries it to other conditions. */
export interface DiodeReference {
  /** At 1000 W/m2 and 25 degC. */
  readonly model: SingleDiode;
  /** Temperature coefficient of the photocurrent, A/K. */
  readonly alpha: number;
  readonly bandGap: BandGap;
}

/** Why a nameplate has no model. */
export type NameplateFailure =
  | 'not-positive'
  | 'imp-not-below-isc'
  | 'vmp-not-below-voc'
  /** Imp at or below Isc/2, or Vmp at or below Voc/2: no diode curve has its maximum there. */
  | 'maximum-below-half'
  /** The corner is sharper than any junction makes it. */
  | 'fill-factor-too-high';

export interface NameplateModel {
  readonly reference?: DiodeReference;
  readonly failure?: NameplateFailure;
  /** Modelled minus wanted temperature coefficient of Voc, V/K. Zero to rounding unless `compromise`. */
  readonly betaResidual?: number;
  /** Beta could not be met with resistances of zero or more. */
  readonly compromise?: boolean;
  /** Diode ideality factor, where the number of cells is known. */
  readonly ideality?: number;
  /** Coefficients that the nameplate did not give (or gave with an impossible sign), replaced by a median. */
  readonly estimated?: readonly ('alpha' | 'beta')[];
}

/** Solves the five equations. Takes about 0.2 ms; callers keep the result. */
export function fiveParametersFromNameplate(nameplate: Nameplate): NameplateModel {
  const failure = whyImpossible(nameplate);
  if (failure) return { failure };
  const { isc, voc, technology } = nameplate;
  const median = medianCoefficients(technology);
  const alphaGiven = Number.isFinite(nameplate.alpha);
  const betaGiven = Number.isFinite(nameplate.beta) && nameplate.beta! < 0;
  const alpha = alphaGiven ? nameplate.alpha! : median.alpha * isc;
  const beta = betaGiven ? nameplate.beta! : median.beta * voc;
  const bandGap = bandGapOf(technology);

  const start = thermalVoltageFromBeta(voc, beta, bandGap);
  const modelledBeta = (a: number): number => {
    const model = curveThroughPoints(nameplate, a);
    return model ? openCircuitCoefficient({ model, alpha, bandGap }) : Number.NEGATIVE_INFINITY;
  };
  const most = largestThermalVoltage(nameplate, 1.5 * start);
  if (most === undefined) return { failure: 'fill-factor-too-high' };
  // The modelled coefficient falls as a grows; at the limit it may still be above the wanted one.
  const compromise = modelledBeta(most) > beta;
  const a = compromise ? most : bisectFalling((at) => modelledBeta(at) - beta, start, most);
  const model = curveThroughPoints(nameplate, a)!;
  const reference = { model, alpha, bandGap };
  return {
    reference,
    compromise,
    betaResidual: openCircuitCoefficient(reference) - beta,
    ideality: nameplate.cells ? a / (nameplate.cells * junctionThermalVoltage(25)) : undefined,
    estimated: [...(alphaGiven ? [] : (['alpha'] as const)), ...(betaGiven ? [] : (['beta'] as const))],
  };
}

function whyImpossible({ isc, voc, imp, vmp }: NameplatePoints): NameplateFailure | undefined {
  if (![isc, voc, imp, vmp].every((value) => Number.isFinite(value) && value > 0)) return 'not-positive';
  if (imp >= isc) return 'imp-not-below-isc';
  if (vmp >= voc) return 'vmp-not-below-voc';
  if (imp <= isc / 2 || vmp <= voc / 2) return 'maximum-below-half';
  return undefined;
}

/** dVoc/dT of an ideal diode, solved for a: within a few percent of the solution. */
function thermalVoltageFromBeta(voc: number, beta: number, bandGap: BandGap): number {
  const reduced = bandGap.energy / (boltzmannElectronvolt * referenceTemperature);
  const shape = 3 + reduced * (1 - bandGap.temperatureCoefficient * referenceTemperature);
  return (voc - beta * referenceTemperature) / shape;
}

/** Root of a falling function below `high`, where it is zero or less; `near` is a guess. */
function bisectFalling(falling: (at: number) => number, near: number, high: number): number {
  let to = high;
  let from = Math.min(near, high) * 0.9;
  while (falling(from) < 0) {
    to = from;
    from /= 2;
  }
  for (let round = 0; round < 44; round++) {
    const middle = (from + to) / 2;
    if (falling(middle) > 0) from = middle;
    else to = middle;
  }
  return from;
}

/** Temperature coefficient of Voc of a model, V/K: central difference over 25 +- 5 degC at 1000 W/m2. */
export function openCircuitCoefficient(reference: DiodeReference): number {
  const voc = (cellTemperature: number): number =>
    voltageAtCurrent(atConditions(reference, { irradiance: 1000, cellTemperature }), 0);
  return (voc(30) - voc(20)) / 10;
}

/**
 * The model at other conditions, by the auxiliary equations of De Soto et al. (2006): a in proportion to T, I0 by the
 * band gap, IL by irradiance and alpha, Rsh in inverse proportion to irradiance, Rs constant. Irradiance above zero, W/m2
 * on the device as its reference cell sees it (no spectral correction); temperature in degC.
 */
export function atConditions(reference: DiodeReference, conditions: Conditions): SingleDiode {
  const { model, alpha, bandGap } = reference;
  const kelvin = conditions.cellTemperature + zeroCelsius;
  const ratio = kelvin / referenceTemperature;
  const difference = kelvin - referenceTemperature;
  const suns = conditions.irradiance / 1000;
  const gap = bandGap.energy * (1 + bandGap.temperatureCoefficient * difference);
  const exponent =
    bandGap.energy / (boltzmannElectronvolt * referenceTemperature) - gap / (boltzmannElectronvolt * kelvin);
  return {
    photocurrent: Math.max(0, suns * (model.photocurrent + alpha * difference)),
    saturationCurrent: model.saturationCurrent * ratio ** 3 * Math.exp(exponent),
    seriesResistance: model.seriesResistance,
    shuntResistance: model.shuntResistance / suns,
    thermalVoltage: model.thermalVoltage * ratio,
  };
}
