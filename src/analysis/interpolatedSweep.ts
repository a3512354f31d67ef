/** Procedure 3: which other sweep of the same device one is interpolated with, and what comes of it. */
import type { SweepTarget } from '../campaign/model.js';
import type { DeviceCoefficients } from '../physics/deviceCoefficients.js';
import { interpolateByProcedure3, interpolationFraction, type CurveAt } from '../physics/interpolation.js';
import { standardTestConditions } from '../physics/ivCurve.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import { atModuleTerminals } from './cableCorrection.js';
import type { Correction } from './moduleScience.js';
import { atOneIrradiance, usableIrradiance } from './pointIrradiance.js';
import type { SweepAnalysis, SweepConditions } from './sweepAnalysis.js';

/** One measured curve of a device. */
export interface MeasuredSweep {
  readonly reading?: SweepReading;
  readonly target: SweepTarget;
  readonly analysis: Pick<SweepAnalysis, 'conditions' | 'measured'>;
}

/** Another sweep of the same device, with no module replaced in between. */
export interface Partner extends MeasuredSweep {
  /** `1.03 at 2026-05-14 11:42` */
  readonly title: string;
  readonly isVoid: boolean;
}

/**
 * Own choices, from tests/analysis/procedure3.test.ts. Two curves that differ less than this tell little more than their
 * noise, W/m2; and so far beyond the two curves, as a fraction of their difference, the result may still lie.
 */
export const leastIrradianceStep = 100;
export const fractionRange = { least: -0.5, most: 1.5 } as const;

const irradianceOf = ({ analysis }: MeasuredSweep): number => analysis.conditions.irradiance!;

function isUsable({ reading, analysis, isVoid }: Partner): boolean {
  const { conditions, measured } = analysis;
  const known = conditions.irradiance !== undefined && conditions.cellTemperature !== undefined;
  return reading !== undefined && !isVoid && known && measured?.parameters.isc !== undefined;
}

const fractionTo = (own: number, other: number): number =>
  interpolationFraction(
    { irradiance: own, cellTemperature: 0 },
    { irradiance: other, cellTemperature: 0 },
    standardTestConditions,
  )!;

const isBetween = (fraction: number): boolean => fraction >= 0 && fraction <= 1;

/**
 * The partner whose irradiance has 1000 W/m2 between it and the sweep's own, and of those the one that differs most; where
 * none has, the one that differs most. The first of equals. Undefined where none is usable and differs enough.
 */
export function bestPartner(irradiance: number | undefined, others: readonly Partner[]): Partner | undefined {
  if (irradiance === undefined) return undefined;
  const step = (partner: Partner): number => Math.abs(irradianceOf(partner) - irradiance);
  const rank = (partner: Partner): number =>
    step(partner) + (isBetween(fractionTo(irradiance, irradianceOf(partner))) ? 1e6 : 0);
  const fit = others.filter((partner) => isUsable(partner) && step(partner) >= leastIrradianceStep);
  return fit.reduce<Partner | undefined>(
    (best, partner) => (best && rank(best) >= rank(partner) ? best : partner),
    undefined,
  );
}

/** Why nothing can be interpolated, with what to measure; undefined when it can. */
export function interpolationObstacle(
  address: string,
  { irradiance }: SweepConditions,
  partner: Partner | undefined,
): string | undefined {
  const own = irradiance!.toFixed(0);
  if (!partner) {
    return (
      `Procedure 3 interpolates between two measured curves: measure ${address} again at least ${leastIrradianceStep} W/m2 from ` +
      `${own} W/m2, best ${irradiance! < 1000 ? 'above' : 'below'} 1000 W/m2, with no module replaced in between.`
    );
  }
  const other = irradianceOf(partner);
  const fraction = fractionTo(irradiance!, other);
  if (fraction >= fractionRange.least && fraction <= fractionRange.most) return undefined;
  return (
    `From ${own} W/m2 and ${other.toFixed(0)} W/m2 (${partner.title}), 1000 W/m2 is too far to reach by procedure 3 (a = ` +
    `${fraction.toFixed(2)}; ${fractionRange.least} to ${fractionRange.most} is allowed): measure ${address} again ` +
    `${irradiance! < 1000 ? 'nearer to or above' : 'nearer to or below'} 1000 W/m2.`
  );
}

export interface Interpolated {
  readonly between: CurveAt;
  readonly fraction: number;
  /**
   * How much more than its own an error of irradiance or temperature counts that both curves have in full: 1 between the
   * curves, up to 2 at the ends of the allowed range. An independent error of each counts less.
   */
  readonly errorFactor: { readonly irradiance: number; readonly temperature: number };
}

/** The curve at 1000 W/m2. Where a sweep has an irradiance for each point, its points are first carried to that of the sweep. */
export function interpolateSweep(
  own: MeasuredSweep,
  partner: MeasuredSweep,
  correction: Correction,
  coefficients: DeviceCoefficients,
): Interpolated {
  const steady = (sweep: MeasuredSweep): CurveAt =>
    atOneIrradiance(curveOf(sweep), usableIrradiance(sweep.reading), correction, coefficients);
  const [first, second] = [steady(own), steady(partner)];
  const fraction = fractionTo(first.conditions.irradiance, second.conditions.irradiance);
  const [mine, other] = [Math.abs(1 - fraction), Math.abs(fraction)];
  return {
    between: interpolateByProcedure3(first, second, fraction),
    fraction,
    errorFactor: {
      irradiance: (mine * first.conditions.irradiance + other * second.conditions.irradiance) / 1000,
      temperature: mine + other,
    },
  };
}

function curveOf({ reading, target, analysis }: MeasuredSweep): CurveAt {
  const { irradiance, cellTemperature } = analysis.conditions;
  return {
    curve: atModuleTerminals(reading!.curve, target).curve,
    isc: analysis.measured!.parameters.isc!,
    conditions: { irradiance: irradiance!, cellTemperature: cellTemperature! },
  };
}
