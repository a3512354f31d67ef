/** Constants of the 2019 SI, exact by definition (BIPM, The International System of Units, 9th edition, 2019). */

/** Elementary charge, C. */
export const elementaryCharge = 1.602176634e-19;

/** Boltzmann constant, J/K. */
export const boltzmannConstant = 1.380649e-23;

/** Boltzmann constant, eV/K. */
export const boltzmannElectronvolt = boltzmannConstant / elementaryCharge;

/** 0 degC in K. */
export const zeroCelsius = 273.15;

/** Reference temperature of the standard test conditions, 25 degC, in K. */
export const referenceTemperature = zeroCelsius + 25;

/** k T / q in V for a temperature in degC: the thermal voltage of one ideal junction. */
export function junctionThermalVoltage(celsius: number): number {
  return boltzmannElectronvolt * (celsius + zeroCelsius);
}
