/**
 * What the physics needs of a module type, worked out once for each nameplate: its five-parameter model, and the
 * coefficients of translation with an estimate wherever the nameplate is silent.
 */
import type { ModuleRecord } from '../campaign/model.js';
import {
  estimateB1,
  estimateB2,
  estimateKappa,
  estimateKappaOfProcedure2,
  estimateRs,
  estimateRsOfProcedure2,
  type ModuleCoefficients,
} from '../physics/deviceCoefficients.js';
import type { CurveParameters, IvCurve } from '../physics/ivCurve.js';
import { atConditions, fiveParametersFromNameplate, type DiodeReference } from '../physics/nameplateModel.js';
import { characteristicPoints, inSeriesParallel, sampleCurve } from '../physics/singleDiode.js';

/** An estimate for one module; `scaling` says how it grows to modules in series and parallel. */
export interface ModuleEstimate {
  readonly symbol: 'Rs' | 'kappa' | 'gamma' | 'B1' | 'B2';
  readonly value: number;
  readonly unit: string;
  readonly method: string;
  readonly scaling: 'resistance' | 'power' | 'none';
}

/** The coefficients of one module for one procedure, and which of them are estimates. */
export interface ProcedureCoefficients {
  readonly coefficients: ModuleCoefficients;
  readonly estimates: readonly ModuleEstimate[];
}

export interface ModuleScience {
  readonly nameplate: CurveParameters;
  /** Absent where the nameplate has no solution. */
  readonly diode?: DiodeReference;
  /** Absent where a value is missing that no estimate can stand for; `missing` then names what would mend it. */
  readonly procedures?: { readonly 1: ProcedureCoefficients; readonly 2: ProcedureCoefficients };
  readonly missing: readonly string[];
}

const known = new WeakMap<ModuleRecord, ModuleScience>();

/** Remembered by record: the record of a block that did not change is the same object. */
export function moduleScience(module: ModuleRecord): ModuleScience {
  let science = known.get(module);
  if (!science) {
    science = workOut(module);
    known.set(module, science);
  }
  return science;
}

/** The nameplate values that nothing can be translated without. */
interface Given {
  readonly isc: number;
  readonly voc: number;
  readonly imp: number;
  readonly vmp: number;
  readonly alpha: number;
  readonly beta: number;
}

function workOut(module: ModuleRecord): ModuleScience {
  const nameplate = nameplateOf(module);
  const { isc, voc, imp, vmp } = nameplate;
  const { alpha, beta } = module;
  if (
    isc === undefined ||
    voc === undefined ||
    imp === undefined ||
    vmp === undefined ||
    alpha === undefined ||
    beta === undefined
  ) {
    const values = { Isc: isc, Voc: voc, Imp: imp, Vmp: vmp, alpha, beta };
    const missing = Object.entries(values).flatMap(([name, value]) => (value === undefined ? [name] : []));
    return { nameplate, missing };
  }
  const given: Given = { isc, voc, imp, vmp, alpha, beta };
  const diode = fiveParametersFromNameplate({
    ...given,
    cells: module.cells,
    technology: module.technology,
  }).reference;
  // Without a model there is nothing to estimate from: then the nameplate itself must say.
  const needed = {
    Rs: module.rs,
    'gamma or kappa': module.kappa ?? module.gamma,
  };
  const missing = diode
    ? []
    : Object.entries(needed).flatMap(([name, value]) => (value === undefined ? [name] : []));
  if (missing.length > 0) return { nameplate, missing };
  return {
    nameplate,
    diode,
    procedures: { 1: coefficientsFor(1, module, given, diode), 2: coefficientsFor(2, module, given, diode) },
    missing: [],
  };
}

function coefficientsFor(
  procedure: 1 | 2,
  module: ModuleRecord,
  given: Given,
  diode: DiodeReference | undefined,
): ProcedureCoefficients {
  const estimates: ModuleEstimate[] = [];
  const estimated = (estimate: ModuleEstimate): number => {
    estimates.push(estimate);
    return estimate.value;
  };
  const model = diode && {
    ...given,
    photocurrent: diode.model.photocurrent,
    rs: diode.model.seriesResistance,
    rsh: diode.model.shuntResistance,
    a: diode.model.thermalVoltage,
  };

  const rs =
    module.rs?.value ??
    estimated({
      symbol: 'Rs',
      value: procedure === 1 ? estimateRs(model!) : estimateRsOfProcedure2(model!),
      unit: 'ohm',
      method: 'from the five-parameter model of the nameplate (De Soto 2006)',
      scaling: 'resistance',
    });

  const kappaFromGamma = (gamma: number): number =>
    estimated({
      symbol: 'kappa',
      value:
        procedure === 1
          ? estimateKappa({ ...given, gamma, rs })
          : estimateKappaOfProcedure2({ ...given, gamma, rs }),
      unit: 'ohm/K',
      method: 'so that the translated nameplate maximum power point obeys gamma',
      scaling: 'resistance',
    });
  const gammaOfModel = (): number =>
    estimated({
      symbol: 'gamma',
      value: modelGamma(diode!),
      unit: 'W/K',
      method: 'from the five-parameter model of the nameplate between 25 and 50 degC (De Soto 2006)',
      scaling: 'power',
    });
  const kappa = module.kappa?.value ?? kappaFromGamma(module.gamma ?? gammaOfModel());

  // Procedure 1 knows no B1 and B2; there they only serve a cell temperature that is had from Voc.
  const irradianceFactor = (symbol: 'B1' | 'B2', value: number, method: string): number =>
    procedure === 2 ? estimated({ symbol, value, unit: '', method, scaling: 'none' }) : value;
  const b1 =
    module.b1 ??
    (model
      ? irradianceFactor(
          'B1',
          estimateB1(model.a, given.voc),
          'thermal voltage over Voc in the five-parameter model of the nameplate',
        )
      : 0);
  const b2 =
    module.b2 ??
    (model && module.b1 === undefined
      ? irradianceFactor(
          'B2',
          estimateB2(model.a, given.voc),
          'second order of the five-parameter model of the nameplate',
        )
      : 0);
  return { coefficients: { ...given, rs, kappa, b1, b2 }, estimates };
}

/** Temperature coefficient of Pmax of the model, W/K, between 25 and 50 degC at 1000 W/m2. */
function modelGamma(diode: DiodeReference): number {
  const powerAt = (cellTemperature: number): number =>
    characteristicPoints(atConditions(diode, { irradiance: 1000, cellTemperature })).pmax!;
  return (powerAt(50) - powerAt(25)) / 25;
}

function nameplateOf(module: ModuleRecord): CurveParameters {
  const isc = module.isc?.value;
  const voc = module.voc?.value;
  const imp = module.imp?.value;
  const vmp = module.vmp?.value;
  const pmax = module.pmax?.value ?? (imp !== undefined && vmp !== undefined ? imp * vmp : undefined);
  const ff = isc && voc && pmax !== undefined ? pmax / (isc * voc) : undefined;
  return { isc, voc, imp, vmp, pmax, ff };
}

const expectedCurves = new WeakMap<DiodeReference, Map<string, IvCurve>>();

/** The five-parameter curve of modules in series and parallel at STC; the same object for the same device. */
export function expectedCurve(diode: DiodeReference, series: number, parallel: number): IvCurve {
  let ofDiode = expectedCurves.get(diode);
  if (!ofDiode) expectedCurves.set(diode, (ofDiode = new Map()));
  const key = `${series} x ${parallel}`;
  let curve = ofDiode.get(key);
  if (!curve) ofDiode.set(key, (curve = sampleCurve(inSeriesParallel(diode.model, series, parallel), 120)));
  return curve;
}

/** The nameplate of modules in series and parallel. */
export function scaleNameplate(
  nameplate: CurveParameters,
  series: number,
  parallel: number,
): CurveParameters {
  const times = (value: number | undefined, factor: number): number | undefined =>
    value === undefined ? undefined : value * factor;
  return {
    isc: times(nameplate.isc, parallel),
    voc: times(nameplate.voc, series),
    imp: times(nameplate.imp, parallel),
    vmp: times(nameplate.vmp, series),
    pmax: times(nameplate.pmax, series * parallel),
    ff: nameplate.ff,
  };
}
