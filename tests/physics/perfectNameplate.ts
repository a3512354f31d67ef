import {
  estimateB1,
  estimateB2,
  estimateKappa,
  estimateKappaOfProcedure2,
  estimateRsOfProcedure2,
  type ModuleCoefficients,
} from '../../src/physics/deviceCoefficients.js';
import type { DiodeReference } from '../../src/physics/nameplateModel.js';
import { resistanceOfProcedure1 } from '../../src/physics/procedure1Resistance.js';
import { bandGapOf } from '../../src/physics/semiconductors.js';
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

/** Coefficients for either procedure from nameplate values and a single-diode model of them, as the project estimates them. */
export function coefficientsOf(
  known: KnownModule,
  reference: DiodeReference,
): Record<1 | 2, ModuleCoefficients> {
  const diode = reference.model;
  const { photocurrent, seriesResistance: rs, shuntResistance: rsh, thermalVoltage: a } = diode;
  const model = { ...known, photocurrent, rs, rsh, a };
  const { alpha, beta, isc, voc } = known;
  const shared = { alpha, beta, isc, voc, b1: estimateB1(a, voc), b2: estimateB2(a, voc) };
  const rs1 = resistanceOfProcedure1(reference)!.rs;
  const rs2 = estimateRsOfProcedure2(model, estimateKappaOfProcedure2({ ...known, rs }));
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
  // Every entry of the table was made with the band gap of silicon.
  const reference: DiodeReference = {
    model: module.reference,
    alpha: module.alpha,
    bandGap: bandGapOf('multi-Si'),
  };
  return { module, stc, at, known, reference, coefficients: coefficientsOf(known, reference) };
}
