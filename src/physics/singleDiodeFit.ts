/** The five parameters of the single-diode model from measured points, with standard errors. */
import { fitDiode } from './diodeFit.js';
import type { IvCurve } from './ivCurve.js';
import { findLandmarks } from './landmarks.js';
import type { SingleDiode } from './singleDiode.js';
import { sweepPoints } from './sweepPoints.js';

export interface SingleDiodeFit {
  readonly model: SingleDiode;
  /**
   * Standard errors (k = 1) from the scatter of the points: A, A, ohm, S (of 1/Rsh) and V. I0 and a are strongly
   * correlated; their errors hold each on its own.
   */
  readonly standardErrors: {
    readonly photocurrent: number;
    readonly saturationCurrent: number;
    readonly seriesResistance: number;
    readonly shuntConductance: number;
    readonly thermalVoltage: number;
  };
  /** Robust standard deviation of the current around the curve, A. */
  readonly deviation: number;
  /** False: the best found after 200 rounds. */
  readonly converged: boolean;
}

/**
 * Levenberg-Marquardt in scaled variables with Rs and 1/Rsh of zero or more; wild points are set aside. Undefined for fewer
 * than six different voltages or a curve without positive power. A curve with steps yields a model that describes only
 * most of its points: see `deviation`.
 */
export function fitSingleDiode(curve: IvCurve): SingleDiodeFit | undefined {
  const points = sweepPoints(curve);
  const landmarks = findLandmarks(points);
  if (!landmarks) return undefined;
  const chosen = points.voltage.map((_, k) => k).filter((k) => !points.wild[k]);
  const fit = fitDiode(
    chosen.map((k) => points.voltage[k]!),
    chosen.map((k) => points.current[k]!),
    landmarks,
    { negativeShunt: false, rounds: 200, tolerance: 1e-12 },
  );
  if (!fit) return undefined;
  const { model, standardErrors: errors } = fit;
  return {
    model,
    standardErrors: {
      photocurrent: errors.photocurrent,
      saturationCurrent: errors.relativeSaturationCurrent * model.saturationCurrent,
      seriesResistance: errors.seriesResistance,
      shuntConductance: errors.shuntConductance,
      thermalVoltage: errors.relativeThermalVoltage * model.thermalVoltage,
    },
    deviation: fit.deviation,
    converged: fit.converged,
  };
}
