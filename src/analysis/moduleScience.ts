/**
 * What the physics needs of a module type, worked out once for each nameplate: its five-parameter model, and the
 * coefficients of translation with an estimate wherever the nameplate is silent.
 */
import type { ModuleRecord } from '../campaign/model.js';
import { isCrystallineWithCells } from '../campaign/nameplate.js';
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
import { junctionThermalVoltage, referenceTemperature } from '../physics/constants.js';
import { siliconJunctionVoltage, type JunctionDevice } from '../physics/junctionTemperature.js';
import { atConditions, fiveParametersFromNameplate, type DiodeReference } from '../physics/nameplateModel.js';
import { resistanceOfProcedure1, type Procedure1Resistance } from '../physics/procedure1Resistance.js';
import { medianCoefficients } from '../physics/semiconductors.js';
import { characteristicPoints, inSeriesParallel, sampleCurve } from '../physics/singleDiode.js';

/** An estimate for one module; `scaling` says how it grows to modules in series and parallel. */
export interface ModuleEstimate {
  readonly symbol: 'Rs' | 'kappa' | 'alpha' | 'beta' | 'gamma' | 'B1' | 'B2';
  readonly value: number;
  readonly unit: string;
  readonly method: string;
  readonly scaling: 'resistance' | 'voltage' | 'current' | 'power' | 'none';
}

/** What corrects a curve for irradiance and temperature: procedure 1 or 2, or the voltage-temperature relation of a junction. */
export type Correction = 1 | 2 | 'junction';

/** The coefficients of one module for one correction, and which of them are estimates. */
export interface ProcedureCoefficients {
  /** Of `junction`: beta and kappa have the slopes that the relation has at Voc and Pmax, for the budget alone. */
  readonly coefficients: ModuleCoefficients;
  readonly estimates: readonly ModuleEstimate[];
  /** What the voltage-temperature relation rests on; of `junction` alone. */
  readonly junction?: JunctionDevice & { readonly idealityFromBeta: boolean };
}

export interface ModuleScience {
  readonly nameplate: CurveParameters;
  /** Absent where the nameplate has no solution. */
  readonly diode?: DiodeReference;
  /** Absent where a value is missing that no estimate can stand for; `missing` then names what would mend it. */
  readonly procedures?: Readonly<Partial<Record<Correction, ProcedureCoefficients>>>;
  /** The Rs that serves both Pmax and Voc of this module best by procedure 1, and how well; absent without beta or model. */
  readonly resistance1?: Procedure1Resistance;
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

/** Points and currents of the nameplate, without beta. */
type GivenPoints = Omit<Given, 'beta'>;

function workOut(module: ModuleRecord): ModuleScience {
  const nameplate = nameplateOf(module);
  const { isc, voc, imp, vmp } = nameplate;
  const crystalline = isCrystallineWithCells(module);
  const alphaEstimate = module.alpha === undefined && crystalline ? estimatedAlpha(module, isc) : undefined;
  const alpha = module.alpha ?? alphaEstimate?.value;
  const { beta } = module;
  if (
    isc === undefined ||
    voc === undefined ||
    imp === undefined ||
    vmp === undefined ||
    alpha === undefined ||
    (beta === undefined && !crystalline)
  ) {
    const values = {
      Isc: isc,
      Voc: voc,
      Imp: imp,
      Vmp: vmp,
      alpha: crystalline ? 0 : alpha,
      beta: crystalline ? 0 : beta,
    };
    const missing = Object.entries(values).flatMap(([name, value]) => (value === undefined ? [name] : []));
    return { nameplate, missing };
  }
  // One has an error of its own, at its place.
  if (imp >= isc || vmp >= voc) return { nameplate, missing: [] };
  const points: GivenPoints = { isc, voc, imp, vmp, alpha };
  const diode = fiveParametersFromNameplate({
    ...points,
    beta,
    cells: module.cells,
    technology: module.technology,
  }).reference;
  // Without a model there is nothing to estimate from: then the nameplate itself must say.
  const needed = {
    Rs: module.rs,
    'gamma or kappa': beta === undefined ? 0 : (module.kappa ?? module.gamma),
  };
  const missing = diode
    ? []
    : Object.entries(needed).flatMap(([name, value]) => (value === undefined ? [name] : []));
  if (missing.length > 0) return { nameplate, missing };
  const estimates = alphaEstimate ? [alphaEstimate] : [];
  const resistance1 = diode && beta !== undefined ? resistanceOfProcedure1(diode) : undefined;
  const byCoefficients =
    beta === undefined
      ? {}
      : {
          1: coefficientsFor(1, module, { ...points, beta }, diode, estimates, resistance1),
          2: coefficientsFor(2, module, { ...points, beta }, diode, estimates),
        };
  const byJunction = crystalline ? { junction: junctionFor(module, points, diode, estimates) } : {};
  return { nameplate, diode, resistance1, procedures: { ...byCoefficients, ...byJunction }, missing: [] };
}

function estimatedAlpha({ technology }: ModuleRecord, isc: number | undefined): ModuleEstimate | undefined {
  if (isc === undefined) return undefined;
  return {
    symbol: 'alpha',
    value: medianCoefficients(technology).alpha * isc,
    unit: 'A/K',
    method: `median of ${technology} in the CEC module table of 2017`,
    scaling: 'current',
  };
}

/**
 * The voltage-temperature relation of the single-junction cell (Hishikawa et al. 2018). Where the nameplate gives beta, its
 * model knows the ideality factor; else the factor is taken as 1: a model without beta only gives back the beta it assumed.
 */
function junctionFor(
  module: ModuleRecord,
  given: GivenPoints,
  diode: DiodeReference | undefined,
  common: readonly ModuleEstimate[],
): ProcedureCoefficients {
  const { voc, imp, vmp, alpha } = given;
  const cells = module.cells!;
  const rs = module.rs?.value ?? diode!.model.seriesResistance;
  const idealityFromBeta = module.beta !== undefined && diode !== undefined;
  const ideality = idealityFromBeta
    ? diode.model.thermalVoltage / (cells * junctionThermalVoltage(referenceCelsius))
    : 1;
  const limit = ideality * cells * siliconJunctionVoltage;
  const beta = (voc - limit) / referenceTemperature;
  const slopeAtMaximum = (vmp + imp * rs - limit) / referenceTemperature;
  const rsOfIrradiance: ModuleEstimate | undefined = module.rs
    ? undefined
    : rsEstimate(estimateRs(modelInputs(given, diode!)));
  const estimates: ModuleEstimate[] = [
    ...common,
    ...(rsOfIrradiance ? [rsOfIrradiance] : []),
    {
      symbol: 'beta',
      value: beta,
      unit: 'V/K',
      method:
        'voltage-temperature relation of the single-junction cell (Hishikawa et al. 2018) at Voc, ideality factor ' +
        (idealityFromBeta ? `${ideality.toFixed(2)} from the model of the nameplate` : 'taken as 1'),
      scaling: 'voltage',
    },
  ];
  return {
    coefficients: {
      ...given,
      beta,
      rs: rsOfIrradiance?.value ?? rs,
      kappa: (beta - slopeAtMaximum) / imp,
      b1: module.b1 ?? (diode ? estimateB1(diode.model.thermalVoltage, voc) : 0),
      b2: module.b2 ?? (diode && module.b1 === undefined ? estimateB2(diode.model.thermalVoltage, voc) : 0),
    },
    estimates,
    junction: { cells, rs, alpha, ideality, idealityFromBeta },
  };
}

const referenceCelsius = 25;

const rsEstimate = (
  value: number,
  method = 'from the five-parameter model of the nameplate (De Soto 2006)',
): ModuleEstimate => ({
  symbol: 'Rs',
  value,
  unit: 'ohm',
  method,
  scaling: 'resistance',
});

/** The procedures carry more by it than what the diode has in series. */
const rsOfProcedure =
  'of the correction procedure, so that it follows the five-parameter model of the nameplate (De Soto 2006), whose diode has another';

const modelInputs = (given: GivenPoints, { model }: DiodeReference) => ({
  ...given,
  photocurrent: model.photocurrent,
  rs: model.seriesResistance,
  rsh: model.shuntResistance,
  a: model.thermalVoltage,
});

function coefficientsFor(
  procedure: 1 | 2,
  module: ModuleRecord,
  given: Given,
  diode: DiodeReference | undefined,
  common: readonly ModuleEstimate[],
  resistance1?: Procedure1Resistance,
): ProcedureCoefficients {
  const estimates: ModuleEstimate[] = [...common];
  const estimated = (estimate: ModuleEstimate): number => {
    estimates.push(estimate);
    return estimate.value;
  };
  const model = diode && modelInputs(given, diode);
  const gamma = module.gamma ?? (diode && modelGamma(diode));
  const kappaFor = (rs: number): number =>
    procedure === 1
      ? estimateKappa({ ...given, gamma: gamma!, rs })
      : estimateKappaOfProcedure2({ ...given, gamma: gamma!, rs });
  const rsOfModel = (): number =>
    procedure === 1
      ? (resistance1?.rs ?? estimateRs(model!))
      : estimateRsOfProcedure2(model!, module.kappa?.value ?? kappaFor(model!.rs));
  const rs = module.rs?.value ?? estimated(rsEstimate(rsOfModel(), rsOfProcedure));
  if (module.kappa === undefined && module.gamma === undefined) {
    estimated({
      symbol: 'gamma',
      value: gamma!,
      unit: 'W/K',
      method: 'from the five-parameter model of the nameplate between 25 and 50 degC (De Soto 2006)',
      scaling: 'power',
    });
  }
  const kappa =
    module.kappa?.value ??
    estimated({
      symbol: 'kappa',
      value: kappaFor(rs),
      unit: 'ohm/K',
      method: 'so that the translated nameplate maximum power point obeys gamma',
      scaling: 'resistance',
    });

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
