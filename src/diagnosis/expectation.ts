/** What a sound string may read at these conditions: the model of the nameplate, and how far each of its inputs is known. */
import { assumedTolerances } from '../analysis/assumedTolerances.js';
import { atModuleTerminals } from '../analysis/cableCorrection.js';
import { expectedModel } from '../analysis/diodeFit.js';
import { moduleScience } from '../analysis/moduleScience.js';
import { meanOf, usableIrradiance } from '../analysis/pointIrradiance.js';
import type { SweepAnalysis } from '../analysis/sweepAnalysis.js';
import { tolerancesOf } from '../analysis/verdict.js';
import { assumedSubstrings } from '../analysis/workingSubstrings.js';
import type { ModuleRecord, SweepTarget } from '../campaign/model.js';
import type { Uncertainty } from '../campaign/quantity.js';
import { FaultyString, type StringAsEntered } from '../physics/faultyString.js';
import type { IvCurve } from '../physics/ivCurve.js';
import { characteristicPoints, type CharacteristicPoints } from '../physics/singleDiode.js';
import { thinSweep, type ThinnedSweep } from '../physics/thinnedSweep.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import type { Peers } from './peerLevels.js';

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

export interface Expectation {
  readonly input: DiagnosisInput;
  readonly entered: StringAsEntered;
  readonly string: FaultyString;
  readonly sweep: ThinnedSweep;
  /** Of the expected curve, all parallel strings, at the conditions as given. */
  readonly expected: CharacteristicPoints;
  readonly priors: Readonly<Record<CommonUnknown, Prior>>;
  /** The same without the peers. */
  readonly alone: Readonly<Record<CommonUnknown, Prior>>;
  /** The nameplate does not say how many substrings its modules have. */
  readonly substringsAssumed: boolean;
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
  /** Change of irradiance during a sweep that nobody saw. */
  drift: 0.002,
} as const;

/** Undefined where the sweep carries no diagnosis: no points, conditions, nameplate, Isc or Voc. */
export function expectationOf(input: DiagnosisInput): Expectation | undefined {
  const { target, analysis, reading } = input;
  const { irradiance, cellTemperature } = analysis.conditions;
  const { module, seriesModules, parallelStrings } = target;
  const reference = module && moduleScience(module).diode;
  const model = expectedModel(target, analysis.conditions);
  const { isc, voc } = analysis.measured?.parameters ?? {};
  if (!reading || !reference || !model || isc === undefined || voc === undefined) return undefined;
  const sweep = thinSweep(steady(atModuleTerminals(reading.curve, target).curve, reading), ranksOf(reading));
  const expected = characteristicPoints(model);
  if (!sweep || sweep.voltage.length < 12 || !(expected.pmax > 0)) return undefined;
  const entered: StringAsEntered = {
    reference,
    modules: seriesModules!,
    substrings: module.substrings ?? assumedSubstrings,
    parallel: parallelStrings,
    conditions: { irradiance: irradiance!, cellTemperature: cellTemperature! },
  };
  return {
    input,
    entered,
    string: new FaultyString(entered),
    sweep,
    expected,
    ...priorsOf(input, expected, model.seriesResistance * parallelStrings),
    substringsAssumed: module.substrings === undefined,
  };
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

const standard = (declared: Uncertainty | undefined, fallback: number): number =>
  declared?.relative ? declared.value / declared.coverageFactor : fallback;

function priorsOf(
  { target, analysis, peers }: DiagnosisInput,
  { isc, voc, imp, vmp }: CharacteristicPoints,
  seriesResistance: number,
): Pick<Expectation, 'priors' | 'alone'> {
  const { conditions } = analysis;
  const strings = target.parallelStrings;
  const tolerance = tolerancesOf(target.module!);
  const ofIsc = tolerance.isc === undefined ? assumed.isc : tolerance.isc / Math.sqrt(3);
  const ofVoc = tolerance.voc === undefined ? assumed.voc : tolerance.voc / Math.sqrt(3);
  const irradiance = (conditions.irradianceUncertainty ?? 2 * assumed.irradiance) / 2;
  const temperature = (conditions.temperatureUncertainty ?? 2 * assumed.temperature) / 2;
  const fromVoc = conditions.temperatureSource === 'voc';
  const tracer = {
    voltage: standard(target.tracer?.voltage, assumed.tracer),
    current: standard(target.tracer?.current, assumed.tracer),
  };
  const ofTerminals = atModuleTerminals(emptyCurve, target).standardUncertainty ?? 0;
  const ofFill = (0.006 * vmp) / (imp / strings);
  const resistance = Math.hypot(assumedTolerances.rsEstimated * seriesResistance, ofTerminals, ofFill);
  const perOhm = isc / strings / voc;
  const alone: Record<CommonUnknown, Prior> = {
    current: prior(0, Math.hypot(irradiance, ofIsc, tracer.current)),
    temperature: prior(0, fromVoc ? 8 : Math.hypot(temperature, assumed.uniformity)),
    voltage: prior(0, Math.hypot(ofVoc, tracer.voltage)),
    resistance: prior(0, resistance),
    conductance: prior(0, (0.012 * isc) / strings / vmp),
    rounding: prior(0, assumed.rounding),
    drift: prior(0, assumed.drift),
  };
  if (!peers) return { priors: alone, alone };
  const { current, kelvin, fill, temperature: given } = peers;
  const priors = {
    ...alone,
    current: prior(current.value, Math.hypot(current.scatter, 0.003)),
    temperature:
      fromVoc && given
        ? prior(given.value - conditions.cellTemperature!, given.scatter)
        : fromVoc
          ? alone.temperature
          : prior(kelvin.value, Math.hypot(kelvin.scatter, 0.4)),
    voltage: prior(0, 0.001),
    // FF falls by the normalised series resistance, to first order (Green, Solar Cells 7 (1982) 337-340, from memory).
    resistance: prior(-fill.value / perOhm, Math.hypot(fill.scatter / perOhm, 0.5 * resistance)),
  };
  return { priors, alone };
}

const prior = (mean: number, deviation: number): Prior => ({ mean, deviation });

const emptyCurve: IvCurve = { voltage: new Float64Array(), current: new Float64Array() };
