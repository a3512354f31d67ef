/** A measured sweep carried to standard test conditions, with its parameters there. */
import type { SweepTarget } from '../campaign/model.js';
import {
  continueToOpenCircuit,
  extractParameters,
  type ContinuedCurve,
  type ExtractedParameters,
} from '../physics/curveParameters.js';
import type { DeviceCoefficients } from '../physics/deviceCoefficients.js';
import type { CurveAt } from '../physics/interpolation.js';
import {
  standardTestConditions,
  type Conditions,
  type CurveParameters,
  type IvCurve,
} from '../physics/ivCurve.js';
import { translateByJunctionTemperature, type JunctionDevice } from '../physics/junctionTemperature.js';
import {
  translateByProcedure1,
  translateByProcedure2,
  translatePointByProcedure1,
  translatePointByProcedure2,
} from '../physics/translation.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import { atModuleTerminals, type CableCorrection } from './cableCorrection.js';
import { curveFlags } from './curveFlags.js';
import {
  interpolateSweep,
  type Interpolated,
  type MeasuredSweep,
  type Partner,
} from './interpolatedSweep.js';
import type { Correction, ProcedureCoefficients } from './moduleScience.js';
import { atOneIrradiance, usableIrradiance } from './pointIrradiance.js';
import type { ProcedureChoice } from './procedureChoice.js';
import type { Estimate, SweepConditions, TranslatedCurve } from './sweepAnalysis.js';

export interface TranslationInput {
  readonly reading: SweepReading;
  readonly target: SweepTarget;
  readonly measuredIsc: number;
  readonly conditions: SweepConditions;
  readonly choice: ProcedureChoice;
  /** Of one module, and of the device. */
  readonly science: ProcedureCoefficients;
  readonly coefficients: DeviceCoefficients;
  /** For procedure 3: the sweep itself and the one it is interpolated with. */
  readonly pair?: { readonly own: MeasuredSweep; readonly partner: Partner } | undefined;
}

export interface Translation {
  readonly translated: TranslatedCurve;
  readonly extraction: ExtractedParameters;
  /** Isc of the curve that was translated, at its irradiance, A. */
  readonly iscBefore: number;
  readonly cable: CableCorrection;
  readonly interpolated?: Interpolated;
}

export function translateSweep(input: TranslationInput): Translation {
  const { reading, target, conditions, choice, coefficients, pair } = input;
  const cable = atModuleTerminals(reading.curve, target);
  const interpolated = pair && interpolateSweep(pair.own, pair.partner, choice.correction, coefficients);
  const measured: CurveAt = {
    curve: cable.curve,
    isc: input.measuredIsc,
    conditions: { irradiance: conditions.irradiance!, cellTemperature: conditions.cellTemperature! },
  };
  const from =
    interpolated?.between ??
    atOneIrradiance(measured, usableIrradiance(reading), choice.correction, coefficients);
  const junction = input.science.junction && junctionOf(input.science.junction, coefficients);
  const moved = moveCurve(from, standardTestConditions, choice.correction, coefficients, junction);
  const continued = continueToOpenCircuit(moved.curve);
  const extraction = extractContinued(moved.curve, continued);
  // Isc at STC is a translated point: where the shifted curve begins does not matter.
  const flags = curveFlags(extraction.findings.filter(({ code }) => code !== 'isc-extrapolated'));
  return {
    extraction,
    iscBefore: from.isc,
    cable,
    interpolated,
    translated: {
      curve: continued.curve,
      parameters: withIsc(extraction.parameters, moved.isc),
      flags: [
        ...(interpolated && isExtrapolated(interpolated) ? [extrapolationFlag(interpolated)] : []),
        ...(continued.continuedFrom === undefined ? [] : [continuationFlag]),
        ...flags,
      ],
      to: standardTestConditions,
      procedure: choice.name,
      interpolation: interpolated && {
        partner: pair.partner.title,
        fraction: interpolated.fraction,
        cellTemperature: interpolated.between.conditions.cellTemperature,
      },
      estimates: [
        ...estimatesOf(input.science, coefficients, interpolated !== undefined),
        ...(cable.estimate ? [cable.estimate] : []),
      ],
      continuedFrom: continued.continuedFrom,
    },
  };
}

/** The curve at other conditions, and Isc there as the equations move the short-circuit point. */
export function moveCurve(
  { curve, isc, conditions: from }: CurveAt,
  to: Conditions,
  correction: Correction,
  coefficients: DeviceCoefficients,
  junction: JunctionDevice | undefined,
): { curve: IvCurve; isc: number } {
  const shortCircuit = { voltage: 0, current: isc };
  const task = { isc, from, to, coefficients };
  switch (correction) {
    case 1:
      return {
        curve: translateByProcedure1(curve, isc, from, to, coefficients),
        isc: translatePointByProcedure1(shortCircuit, task).current,
      };
    case 2:
      return {
        curve: translateByProcedure2(curve, from, to, coefficients),
        isc: translatePointByProcedure2(shortCircuit, task).current,
      };
    case 'junction': {
      // Irradiance first, at the temperature of the measurement; then temperature.
      const bright = { irradiance: to.irradiance, cellTemperature: from.cellTemperature };
      return {
        curve: translateByJunctionTemperature(
          translateByProcedure1(curve, isc, from, bright, coefficients),
          from.cellTemperature,
          to.cellTemperature,
          junction!,
        ),
        isc: translatePointByProcedure1(shortCircuit, task).current,
      };
    }
  }
}

export const junctionOf = (
  module: JunctionDevice,
  { series, parallel }: DeviceCoefficients,
): JunctionDevice => ({
  ...module,
  cells: module.cells * series,
  rs: (module.rs * series) / parallel,
  alpha: module.alpha * parallel,
});

/**
 * Parameters from the points alone, and Voc from the fit that continued them: points added by a model have no noise, and would
 * speak for less of it than there is. Where the points stop before their maximum, the continued curve has to serve.
 */
function extractContinued(curve: IvCurve, continued: ContinuedCurve): ExtractedParameters {
  const { voc, vocStandardError, slopeAtVoc } = continued;
  const own = extractParameters(curve);
  if (voc === undefined) return own;
  const whole = own.parameters.pmax === undefined ? extractParameters(continued.curve) : own;
  return {
    ...whole,
    parameters: { ...whole.parameters, voc },
    standardErrors: { ...whole.standardErrors, voc: vocStandardError },
    slopeAtVoc,
    findings: whole.findings.filter(({ code }) => code !== 'voc-extrapolated' && code !== 'voc-refused'),
  };
}

/**
 * Isc at STC is the translated short-circuit current, as the equations say it, not what the shifted curve has at V = 0: the
 * point measured at V = 0 moves along the voltage too.
 */
function withIsc(parameters: CurveParameters, isc: number): CurveParameters {
  const { voc, pmax } = parameters;
  return { ...parameters, isc, ff: voc && pmax !== undefined ? pmax / (isc * voc) : undefined };
}

const continuationFlag = {
  code: 'continued-to-voc',
  text: 'The translated curve stopped short of zero current and was continued to Voc by the single-diode form.',
};

const isExtrapolated = ({ fraction }: Interpolated): boolean => fraction < 0 || fraction > 1;

const extrapolationFlag = ({ fraction }: Interpolated) => ({
  code: 'extrapolated-between-curves',
  text: `1000 W/m2 lies outside the two measured curves (a = ${fraction.toFixed(2)}), so procedure 3 extrapolated.`,
});

/** For the device. Between two curves the irradiance needs no coefficient, so Rs acts through alpha dT alone and is not named. */
function estimatesOf(
  { estimates }: ProcedureCoefficients,
  { series, parallel }: DeviceCoefficients,
  interpolated: boolean,
): Estimate[] {
  const factors = {
    resistance: series / parallel,
    voltage: series,
    current: parallel,
    power: series * parallel,
    none: 1,
  };
  return estimates
    .filter(({ symbol }) => !(interpolated && symbol === 'Rs'))
    .map(({ symbol, value, unit, method, scaling }) => ({
      symbol,
      value: value * factors[scaling],
      unit,
      method,
    }));
}
