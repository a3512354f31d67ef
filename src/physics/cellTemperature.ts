/** Cell temperature from what can be measured: a sensor behind the module, or the open-circuit voltage itself. */
import { irradianceFactor, type DeviceCoefficients } from './deviceCoefficients.js';

/** How a module is mounted and what it is made of, as far as the back-of-module offset depends on it. */
export type BackOfModuleSituation =
  | 'open rack, glass/glass'
  | 'close roof mount, glass/glass'
  | 'open rack, glass/polymer'
  | 'insulated back, glass/polymer';

/**
 * Difference between cell and back of module at 1000 W/m2, in K. King, Boyson, Kratochvil, Photovoltaic Array Performance
 * Model, SAND2004-3535 (2004), table of empirically determined coefficients.
 */
export const backOfModuleOffsets: Readonly<Record<BackOfModuleSituation, number>> = {
  'open rack, glass/glass': 3,
  'close roof mount, glass/glass': 1,
  'open rack, glass/polymer': 3,
  'insulated back, glass/polymer': 0,
};

/** Used where nothing is known of the mounting: an open rack, the usual field array. K. */
export const defaultBackOfModuleOffset = backOfModuleOffsets['open rack, glass/polymer'];

/**
 * Cell temperature in degC from a sensor on the back of the module (degC) at an in-plane irradiance (W/m2):
 * Tc = Tm + (G/1000) offset, SAND2004-3535 equation 12.
 */
export function cellFromModuleTemperature(
  moduleTemperature: number,
  irradiance: number,
  offset: number = defaultBackOfModuleOffset,
): number {
  return moduleTemperature + (irradiance / 1000) * offset;
}

export interface OpenCircuitState {
  /** V. */
  readonly voc: number;
  /** W/m2, above 0. */
  readonly irradiance: number;
}

/**
 * Equivalent cell temperature in degC, IEC 60904-5:2011, from memory, not confirmed against the standard; it follows
 * exactly from procedure 2 of IEC 60891:2009 at I = 0:
 *
 *     ECT = T1 + [Voc2/Voc1 - 1 - a ln(G2/G1)] / beta_rel
 *
 * `betaRel` in 1/K of Voc1; `a` is the irradiance factor of Voc, dimensionless.
 */
export function equivalentCellTemperature(
  measured: OpenCircuitState,
  reference: OpenCircuitState & { readonly cellTemperature: number },
  betaRel: number,
  a: number,
): number {
  const ratio = measured.voc / reference.voc - 1;
  return (
    reference.cellTemperature + (ratio - a * Math.log(measured.irradiance / reference.irradiance)) / betaRel
  );
}

/** Temperatures that a cell in the field can have, degC. */
const plausible = { least: -40, most: 110 };

/**
 * Equivalent cell temperature (degC) of a device from its measured Voc (V) and irradiance (W/m2), with the Voc of
 * procedure 2 (2021) solved for temperature, Voc = Voc,STC [1/f(G) + beta_rel f(G) (T - 25)]. At 1000 W/m2 it equals
 * `equivalentCellTemperature`; below, it follows the steeper temperature coefficient that f(G) stands for. A device with
 * shaded, short-circuited or missing cells reads far too hot, so the answer is no better than the count of modules.
 *
 * Undefined where it means nothing: outside -40 to 110 degC, beta not negative, or an input not positive and finite.
 */
export function cellTemperatureFromVoc(
  measuredVoc: number,
  irradiance: number,
  coefficients: DeviceCoefficients,
): number | undefined {
  const { beta, voc } = coefficients;
  if (!(measuredVoc > 0 && irradiance > 0 && voc > 0 && beta < 0)) return undefined;
  const f = irradianceFactor(coefficients, irradiance);
  const temperature = 25 + (measuredVoc - voc / f) / (beta * f);
  return temperature >= plausible.least && temperature <= plausible.most ? temperature : undefined;
}
