/** The diode across a substring: forward when the cells would take up more voltage than they give. */
import { electronVolt } from './constants.js';

/**
 * A Schottky diode of an invented type. Thermionic emission, S. M. Sze, "Physics of Semiconductor Devices", chapter on
 * metal-semiconductor contacts: saturation current proportional to T^2 exp(-barrier/kT).
 */
export interface BypassDiode {
  /** Forward voltage in V at `current` in A and 25 degC. */
  readonly forward: { readonly voltage: number; readonly current: number };
  readonly ideality: number;
  /** Height of the barrier, eV. */
  readonly barrier: number;
}

/**
 * 0.45 V at 10 A and 25 degC: invented, below the 0.55 V that the data sheet of the bypass type 10SQ050 allows (rev. 1, April
 * 2013). The barrier is the one with which the leakage grows 35 times from 25 to 70 degC, as measured on bypass diodes of
 * modules by Shin et al., Energies 11 (2018) 2416.
 */
export const schottky: BypassDiode = {
  forward: { voltage: 0.45, current: 10 },
  ideality: 1.05,
  barrier: 0.65,
};

export interface DiodeAtTemperature {
  /** A. */
  readonly saturation: number;
  /** Ideality factor times kT/q, V. */
  readonly thermal: number;
}

/** At a temperature of its junction in degC. */
export function diodeAt(diode: BypassDiode, temperature: number): DiodeAtTemperature {
  const reference = electronVolt(25);
  const now = electronVolt(temperature);
  const { voltage, current } = diode.forward;
  const atReference = current / Math.expm1(voltage / (diode.ideality * reference));
  const warmer = (now / reference) ** 2 * Math.exp(diode.barrier / reference - diode.barrier / now);
  return { saturation: atReference * warmer, thermal: diode.ideality * now };
}

/** A through the diode, when the substring has this voltage in V. */
export function bypassCurrent(diode: DiodeAtTemperature, substringVoltage: number): number {
  return diode.saturation * Math.expm1(-substringVoltage / diode.thermal);
}
