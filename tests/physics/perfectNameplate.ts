import {
  estimateB1,
  estimateB2,
  estimateKappa,
  estimateKappaOfProcedure2,
  estimateRs,
  estimateRsOfProcedure2,
  type ModuleCoefficients,
} from '../../src/physics/deviceCoefficients.js';
import type { SingleDiode } from '../../src/physics/singleDiode.js';
import { atConditions, characteristicPoints, deSotoModule } from './deSotoModule.js';

/** Isc, Voc, Imp, Vmp in A and V; alpha, beta, gamma per K in absolute units. */
export interface KnownModule {
  readonly isc: number;
  readonly voc: number;
  readonly imp: number;
  readonly vmp: number;
  readonly alpha: number;
  readonly beta: number;
  readonly gamma: number;
}

/** Coefficients for either procedure from nameplate values and a single-diode model of them. */
export function coefficientsOf(known: KnownModule, diode: SingleDiode): Record<1 | 2, ModuleCoefficients> {
  const { photocurrent, seriesResistance: rs, shuntResistance: rsh, thermalVoltage: a } = diode;
  const model = { ...known, photocurrent, rs, rsh, a };
  const { alpha, beta, isc, voc } = known;
  const shared = { alpha, beta, isc, voc, b1: estimateB1(a, voc), b2: estimateB2(a, voc) };
  const rs1 = estimateRs(model);
  const rs2 = estimateRsOfProcedure2(model);
  return {
    1: { ...shared, rs: rs1, kappa: estimateKappa({ ...known, rs: rs1 }) },
    2: { ...shared, rs: rs2, kappa: estimateKappaOfProcedure2({ ...known, rs: rs2 }) },
  };
}

/** A module's exact values at STC and their derivatives, as a perfect nameplate would state them. */
export function perfectNameplate(name: string) {
  const module = deSotoModule(name);
  const stc = characteristicPoints(module.reference);
  const at = (irradiance: number, cellTemperature: number) =>
    characteristicPoints(atConditions(module, { irradiance, cellTemperature }));
  const perKelvin = (key: 'isc' | 'voc' | 'pmax'): number => at(1000, 25.5)[key] - at(1000, 24.5)[key];
  const [alpha, beta, gamma] = [perKelvin('isc'), perKelvin('voc'), perKelvin('pmax')];
  const known: KnownModule = { ...stc, alpha, beta, gamma };
  return { module, stc, at, known, coefficients: coefficientsOf(known, module.reference) };
}
