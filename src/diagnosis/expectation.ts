/** What a sound string may read at these conditions: the model of the nameplate, and how far each of its inputs is known. */
import { assumedTolerances } from '../analysis/assumedTolerances.js';
import { atModuleTerminals } from '../analysis/cableCorrection.js';
import { expectedModel } from '../analysis/diodeFit.js';
import { standardFraction } from '../analysis/instrumentUncertainties.js';
import { moduleScience } from '../analysis/moduleScience.js';
import { meanOf, usableIrradiance } from '../analysis/pointIrradiance.js';
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import { tolerancesOf } from '../analysis/verdict.js';
import { assumedSubstrings } from '../analysis/workingSubstrings.js';
import type { ModuleRecord, SweepTarget } from '../campaign/model.js';
import { FaultyString, type StringAsEntered } from '../physics/faultyString.js';
import type { IvCurve } from '../physics/ivCurve.js';
import { characteristicPoints, voltageAtCurrent, type CharacteristicPoints } from '../physics/singleDiode.js';
import { thinSweep, type ThinnedSweep } from '../physics/thinnedSweep.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import type { Peers } from './peers.js';

export interface DiagnosisInput {
  readonly target: SweepTarget;
  readonly reading?: SweepReading;
  readonly analysis: SweepAnalysis;
  readonly peers?: Peers;
  /** Module types of the campaign, the entered one among them or not. */
  readonly otherTypes?: readonly ModuleRecord[];
}

/** A normal prior of one unknown of the string. */
export interface Prior {
  readonly mean: number;
  readonly deviation: number;
}

/** The unknowns that every hypothesis has; as in `StringState`. */
export const commonUnknowns = [
  'current',
  'temperature',
  'voltage',
  'resistance',
  'conductance',
  'rounding',
  'drift',
] as const;
export type CommonUnknown = (typeof commonUnknowns)[number];

/** What one sweep gives on its own. */
export interface Basis {
  readonly entered: StringAsEntered;
  readonly string: FaultyString;
  readonly sweep: ThinnedSweep;
  /** Of the expected curve, all parallel strings, at the conditions as given. */
  readonly expected: CharacteristicPoints;
  /** Of a sound string, without knowing any other. */
  readonly alone: Readonly<Record<CommonUnknown, Prior>>;
  /** The nameplate does not say how many substrings its modules have. */
  readonly substringsAssumed: boolean;
  /** Vmp over Imp of one string, ohm: what resistances and conductances are measured by. */
  readonly ohm: number;
  /** Fall of Voc with temperature at these conditions, 1/K of Voc, above zero. */
  readonly perKelvin: number;
}

/** And beside its peers. */
export interface Expectation extends Basis {
  readonly input: DiagnosisInput;
  readonly priors: Readonly<Record<CommonUnknown, Prior>>;
}

/** k = 1, where nothing is declared; common practice, no source. */
const assumed = {
  irradiance: 0.02,
  temperature: 1.5,
  tracer: 0.005,
  /** Isc and Voc of the modules of a string against their nameplate, as fractions. */
  isc: 0.01,
  voc: 0.006,
  /** Cells of a string differ from the place of the sensor, K. */
  uniformity: 0.8,
  /** Thermal voltage with Voc kept, as a fraction: cells are no single diodes, modules are no equals. */
  rounding: 0.04,
  /** Series resistance beside that of the nameplate's model, in units of Vmp over Imp. */
  resistance: 0.006,
  /** Current that modules of unlike current lose at Vmp, as a fraction: unequal modules slope the leg. */
  conductance: { mean: 0.006, deviation: 0.008 },
  /** Change of irradiance during a sweep that nobody saw. */
  drift: 0.004,
  /** Of a temperature that was taken from Voc, K. */
  fromVoc: 8,
  /** Voltage of a string beside its peers, where the temperature takes up what is usual. */
  voltageBeside: 0.001,
  /** One module against the mean of many, as fractions. */
  module: { current: 0.005, voltage: 0.0025 },
} as const;

/** Undefined where the sweep carries no diagnosis: no points, conditions, nameplate, Isc or Voc. */
export function expectationOf(input: DiagnosisInput): Expectation | undefined {
  const basis = basisOf(input);
  return basis && { ...basis, input, priors: priorsBeside(basis, input) };
}

type Measured = Pick<DiagnosisInput, 'target' | 'reading' | 'analysis'>;

const known = new WeakMap<SweepAnalysis, Basis | { readonly none: true }>();

/** Remembered with the analysis, which is another object as soon as anything under it changes. */
export function basisOf(sweep: Measured): Basis | undefined {
  let basis = known.get(sweep.analysis);
  if (!basis) known.set(sweep.analysis, (basis = workOut(sweep) ?? { none: true }));
  return 'none' in basis ? undefined : basis;
}

function workOut({ target, analysis, reading }: Measured): Basis | undefined {
  const { irradiance, cellTemperature } = analysis.conditions;
  const { module, seriesModules, parallelStrings } = target;
  const reference = module && moduleScience(module).diode;
  const model = expectedModel(target, analysis.conditions);
  const { isc, voc } = analysis.measured?.parameters ?? {};
  if (!reading || !reference || !model || isc === undefined || voc === undefined) return undefined;
  const atModules = atModuleTerminals(reading.curve, target);
  const sweep = thinSweep(steady(atModules.curve, reading), ranksOf(reading));
  const expected = characteristicPoints(model);
  if (!sweep || sweep.voltage.length < 12 || !(expected.pmax > 0)) return undefined;
  const entered: StringAsEntered = {
    reference,
    modules: seriesModules!,
    substrings: module.substrings ?? assumedSubstrings,
    parallel: parallelStrings,
    conditions: { irradiance: irradiance!, cellTemperature: cellTemperature! },
  };
  const ohm = expected.vmp / (expected.imp / parallelStrings);
  return {
    entered,
    string: new FaultyString(entered),
    sweep,
    expected,
    ohm,
    perKelvin: fallOfVoc(target, analysis.conditions, expected.voc),
    alone: priorsAlone(
      { target, analysis },
      {
        ohm,
        seriesResistance: model.seriesResistance * parallelStrings,
        ofCable: atModules.standardUncertainty ?? 0,
      },
    ),
    substringsAssumed: module.substrings === undefined,
  };
}

function fallOfVoc(target: SweepTarget, conditions: SweepAnalysis['conditions'], voc: number): number {
  const warmer = { ...conditions, cellTemperature: conditions.cellTemperature! + 1 };
  return Math.max(5e-4, 1 - voltageAtCurrent(expectedModel(target, warmer)!, 0) / voc);
}

/** The curve as it would be at the mean irradiance, where each point has its own: to first order, which is enough for the shape. */
function steady(curve: IvCurve, reading: SweepReading): IvCurve {
  const readings = usableIrradiance(reading);
  const mean = meanOf(readings);
  if (!readings || !mean || readings.length !== curve.current.length) return curve;
  const current = curve.current.map((value, k) => (readings[k]! > 0 ? (value * mean) / readings[k]! : value));
  return { voltage: curve.voltage, current };
}

/** When each point was taken: tables are written in the order of time. */
function ranksOf({ lines }: SweepReading): Float64Array {
  const ranks = new Float64Array(lines.length);
  Array.from(lines.keys())
    .sort((a, b) => lines[a]! - lines[b]!)
    .forEach((k, rank) => (ranks[k] = rank));
  return ranks;
}

function priorsAlone(
  { target, analysis: { conditions, measured } }: Pick<Measured, 'target' | 'analysis'>,
  { ohm, seriesResistance, ofCable }: { ohm: number; seriesResistance: number; ofCable: number },
): Record<CommonUnknown, Prior> {
  const tolerance = tolerancesOf(target.module!);
  const ofIsc = tolerance.isc === undefined ? assumed.isc : tolerance.isc / Math.sqrt(3);
  const ofVoc = tolerance.voc === undefined ? assumed.voc : tolerance.voc / Math.sqrt(3);
  const irradiance = (conditions.irradianceUncertainty ?? 2 * assumed.irradiance) / 2;
  const temperature = (conditions.temperatureUncertainty ?? 2 * assumed.temperature) / 2;
  const tracer = {
    voltage: standardFraction(target.tracer?.voltage, measured?.parameters.vmp) ?? assumed.tracer,
    current: standardFraction(target.tracer?.current, measured?.parameters.imp) ?? assumed.tracer,
  };
  return {
    current: prior(0, Math.hypot(irradiance, ofIsc, tracer.current)),
    temperature: prior(
      0,
      conditions.temperatureSource === 'voc' ? assumed.fromVoc : Math.hypot(temperature, assumed.uniformity),
    ),
    voltage: prior(0, Math.hypot(ofVoc, tracer.voltage)),
    resistance: prior(
      0,
      Math.hypot(assumedTolerances.rsEstimated * seriesResistance, ofCable, assumed.resistance * ohm),
    ),
    conductance: prior(assumed.conductance.mean / ohm, assumed.conductance.deviation / ohm),
    rounding: prior(0, assumed.rounding),
    drift: prior(0, assumed.drift),
  };
}

/** What is usual for the peers is expected of this string too, as closely as they agree. */
function priorsBeside(
  { alone, ohm, entered }: Basis,
  { peers, analysis: { conditions } }: DiagnosisInput,
): Record<CommonUnknown, Prior> {
  if (!peers) return alone;
  const fromVoc = conditions.temperatureSource === 'voc';
  const { current, kelvin, resistance, conductance, rounding, temperature: given } = peers;
  const few = 1 / Math.sqrt(entered.modules);
  const byOthers = given && prior(given.value - conditions.cellTemperature!, given.scatter);
  return {
    ...alone,
    current: prior(current.value, Math.hypot(current.scatter, few * assumed.module.current)),
    temperature: fromVoc ? (byOthers ?? alone.temperature) : prior(kelvin.value, kelvin.scatter),
    voltage: prior(0, Math.hypot(assumed.voltageBeside, few * assumed.module.voltage)),
    resistance: prior(resistance.value * ohm, resistance.scatter * ohm),
    conductance: prior(conductance.value / ohm, conductance.scatter / ohm),
    rounding: prior(rounding.value, rounding.scatter),
  };
}

const prior = (mean: number, deviation: number): Prior => ({ mean, deviation });
