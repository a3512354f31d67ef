/** Direct-current cable between the module terminals and the place of measurement. */
import type { IvCurve } from './ivCurve.js';
import { sortedByVoltage } from './curvePoints.js';

export type Conductor = 'copper' | 'aluminium';

/** Of one cable run. */
export interface CableRun {
  /** Length of conductor out and back, m. */
  readonly length: number;
  /** Nominal cross-section, mm2. */
  readonly crossSection: number;
  readonly conductor: Conductor;
}

/**
 * Resistivity at 20 degC, ohm mm2/m. Copper: international standard of annealed copper, IEC 60028; aluminium: hard-drawn
 * wire, IEC 60889. Both from memory, not confirmed against the standards.
 */
const resistivityAt20 = { copper: 0.017241, aluminium: 0.028264 } as const;

/**
 * How far the maximum of IEC 60228 stands above resistivity over nominal cross-section. Copper: class 5 tinned, the largest
 * ratio of the sizes 1.5 to 35 mm2 of its table. Aluminium: class 2, from memory.
 */
const largestRatio = { copper: 1.2, aluminium: 1.09 } as const;

/**
 * Temperature factor from 20 degC to `temperature` (degC): (230 + T)/250 for either metal, the reciprocal of the correction
 * factors of IEC 60228; 0.4 % per kelvin.
 */
export function conductorTemperatureFactor(temperature: number): number {
  return (230 + temperature) / 250;
}

export interface CableResistance {
  /** Best guess, ohm: the middle between `least` and `most`. */
  readonly resistance: number;
  /** Standard uncertainty of a rectangular distribution between the two, ohm. */
  readonly standardUncertainty: number;
  /** Resistivity times length over nominal cross-section, ohm. */
  readonly least: number;
  /** What IEC 60228 allows at most, ohm. */
  readonly most: number;
}

/**
 * Resistance of a cable run at a conductor temperature in degC. A standard bounds a conductor by its greatest resistance, so
 * real ones lie between the plain geometry and that bound; connectors and clamps are not counted.
 */
export function cableResistance(cable: CableRun, temperature: number): CableResistance {
  const { length, crossSection, conductor } = cable;
  const least =
    ((resistivityAt20[conductor] * length) / crossSection) * conductorTemperatureFactor(temperature);
  const most = least * largestRatio[conductor];
  return {
    least,
    most,
    resistance: (least + most) / 2,
    standardUncertainty: (most - least) / 2 / Math.sqrt(3),
  };
}

/**
 * The curve at the module terminals from one measured behind a resistance in series (ohm): V + I R for every point. Isc and
 * Voc stay as they are, up to the slope; the maximum power rises by about Imp² R.
 */
export function removeSeriesResistance(curve: IvCurve, ohm: number): IvCurve {
  const { current } = curve;
  return sortedByVoltage({ voltage: curve.voltage.map((v, k) => v + current[k]! * ohm), current });
}
