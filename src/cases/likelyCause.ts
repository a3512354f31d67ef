/**
 * What a failed string should be suspected of before anybody opens it. Its own curve says most of it (diagnosis); what
 * one curve cannot tell, the other strings of the day do. A temperature sensor that came off, a wrong count
 * of modules and a wrong irradiance reading make a good string fail; each leaves a mark on Isc or Voc, and the strings
 * measured beside it tell it from a fault. The thresholds are the project's own.
 */
import { farFewerModules } from '../checks/modulesByVoltage.js';
import type { CheckedSweep } from '../checks/check.js';
import type { Cause } from '../diagnosis/diagnosis.js';
import { companyKey, leastPeers, likeLight } from '../diagnosis/peers.js';
import { median } from '../physics/robustStatistics.js';
import { GroupedList, type Groups } from '../text/groupedList.js';
import { partsByKey } from '../text/groups.js';
import { knownNumbers, MappedNumbers } from '../text/mappedNumbers.js';
import { leadingCause } from './outcome.js';
import { percentText } from './words.js';

export interface LikelyCause {
  /** Sentences: what speaks for it, and what would settle it. */
  readonly text: string;
  /** Whether a search among the modules still comes first. */
  readonly searchFirst: boolean;
  /** What was entered is doubted: a second sweep does not settle it. */
  readonly isEntry?: boolean;
  /** Where the shape of the curve says it. */
  readonly cause?: Cause;
}

/** How far Voc may stand from the temperature given before it means something, K; as in the reasons of a sweep. */
const doubtfulKelvin = 5;
/** Strings whose Pmax deviates as that of the others to this much are off alike. */
const alikeWithin = 0.02;
/** A part of the loss of power that a loss of current explains on its own. */
const mostOfIt = 0.7;

/** Kelvin by which the temperature that fits Voc (IEC 60904-5) stands above the one given; undefined where not known. */
export function vocShift({ analysis: { conditions } }: CheckedSweep): number | undefined {
  const { cellTemperature, vocTemperature, temperatureSource } = conditions;
  if (cellTemperature === undefined || vocTemperature === undefined || temperatureSource === 'voc')
    return undefined;
  return vocTemperature - cellTemperature;
}

export interface CommonCause {
  readonly sweeps: ReadonlySet<CheckedSweep>;
  readonly text: string;
}

/** Whole strings of one module type on one day, void sweeps left out. */
export type Company = Pick<Groups<CheckedSweep, string>, 'get'>;

/** The companies of one campaign, again and again as few of its sweeps change. */
export class Companies {
  readonly #groups = new GroupedList((sweep: CheckedSweep) =>
    sweep.address.includes('/') || sweep.analysis.verdict === 'void' ? undefined : companyKey(sweep),
  );
  #common = new Map<string, InCommon>();

  of(sweeps: readonly CheckedSweep[]): { company: Company; common: readonly CommonCause[] } {
    const company = this.#groups.of(sweeps);
    this.#common = partsByKey(company.keys, this.#common, () => new InCommon());
    const common = company.keys.flatMap((key) => this.#common.get(key)!.of(company.get(key)) ?? []);
    return { company, common };
  }
}

/** What most strings of a module type and day have in common, for each type and day. */
export const commonCauses = (sweeps: readonly CheckedSweep[]): readonly CommonCause[] =>
  new Companies().of(sweeps).common;

/** Where most strings of a module type are off alike on a day, one cause is likelier than a fault in each. */
class InCommon {
  readonly #shifts = new MappedNumbers(vocShift);
  readonly #losses = new MappedNumbers(({ analysis }: CheckedSweep) => analysis.deviation.pmax);
  readonly #failed = new MappedNumbers(({ analysis: { verdict, deviation } }: CheckedSweep) =>
    verdict === 'fail' ? deviation.pmax : undefined,
  );
  #group: readonly CheckedSweep[] = [];
  #found: CommonCause | undefined;

  of(group: readonly CheckedSweep[]): CommonCause | undefined {
    if (group !== this.#group) {
      this.#group = group;
      this.#found = this.#voltageOf(group) ?? this.#lossOf(group);
    }
    return this.#found;
  }

  #voltageOf(group: readonly CheckedSweep[]): CommonCause | undefined {
    const shifts = this.#shifts.of(group);
    const known = knownNumbers(shifts);
    const usual = median(known);
    if (!(Math.abs(usual) > doubtfulKelvin)) return undefined;
    const isAlike = (shift: number): boolean => Math.abs(shift) > doubtfulKelvin && shift * usual > 0;
    const alike = group.filter((_, at) => isAlike(shifts[at]!));
    if (!areMost(alike, known)) return undefined;
    const kelvin = `${Math.abs(usual).toFixed(0)} K ${usual > 0 ? 'warmer' : 'colder'}`;
    return {
      sweeps: new Set(alike),
      text: `Doubt what the strings have in common first: Voc of ${alike.length} of ${known.length} would fit cells about ${kelvin} than given. See whether the count of modules, the temperature sensor and Voc of the nameplate are right, before anything is opened.`,
    };
  }

  #lossOf(group: readonly CheckedSweep[]): CommonCause | undefined {
    const known = knownNumbers(this.#losses.of(group));
    const failed = this.#failed.of(group);
    if (!areMost(knownNumbers(failed), known)) return undefined;
    const usual = median(known);
    const alike = group.filter((_, at) => Math.abs(failed[at]! - usual) < alikeWithin);
    if (!areMost(alike, known)) return undefined;
    return {
      sweeps: new Set(alike),
      text: `Doubt what the strings have in common first: ${alike.length} of ${known.length} fail alike (Pmax about ${percentText(usual)}). See whether the nameplate, the limits and the reference device are right, and look for soiling, before anything is opened.`,
    };
  }
}

const areMost = (some: ArrayLike<unknown>, all: ArrayLike<unknown>): boolean =>
  some.length > leastPeers && some.length * 2 > all.length;

/** Undefined where nothing but a search among the modules suggests itself. */
export function likelyCause(sweep: CheckedSweep, company: Company): LikelyCause | undefined {
  const shift = vocShift(sweep);
  const fewer = farFewerModules(sweep);
  if (fewer !== undefined) {
    const text = `${fewer}: see whether file, address and count of modules are right, before anything is opened.`;
    return { searchFirst: false, isEntry: true, text };
  }
  const isOff = shift !== undefined && Math.abs(shift) > doubtfulKelvin;
  // Looked for only where they are asked: there may be thousands.
  const peers = isOff ? peersOf(company, sweep) : [];
  if (isOff && peers.length >= leastPeers) {
    const found = voltageCause(sweep, shift, peers);
    if (found) return found;
  }
  const shape = causeOfShape(sweep, isOff && peers.length >= leastPeers);
  if (shape || sweep.diagnosis) return shape;
  return isOff && peers.length < leastPeers ? voltageAlone(shift) : currentCause(sweep);
}

/** What the shape of the curve says; the temperature is not doubted where the other strings had the same. */
function causeOfShape(sweep: CheckedSweep, temperatureHolds: boolean): LikelyCause | undefined {
  const cause = leadingCause(sweep);
  if (!cause || (cause.code === 'temperature-wrong' && temperatureHolds)) return undefined;
  const searchFirst = cause.about === 'device' && !isOfWholeModules(sweep, cause);
  return {
    searchFirst,
    cause,
    isEntry: cause.about === 'entry',
    text: searchFirst ? cause.text : `${cause.text} ${cause.tellApart}`,
  };
}

/** To count the modules costs less than to open their connectors. */
function isOfWholeModules({ diagnosis, target }: CheckedSweep, { code }: Cause): boolean {
  const substrings = target.module?.substrings;
  return (
    code === 'substring-out' &&
    substrings !== undefined &&
    (target.seriesModules ?? 1) > 1 &&
    diagnosis!.substringsOut % substrings === 0
  );
}

function currentCause({ analysis }: CheckedSweep): LikelyCause | undefined {
  const { pmax, isc } = analysis.deviation;
  if (pmax === undefined || isc === undefined || pmax >= 0 || isc > mostOfIt * pmax) return undefined;
  return {
    searchFirst: false,
    text: `Isc is down alike (${percentText(isc)}) and Voc is not: see whether the irradiance is that of this sweep and its sensor lay in this plane, look for soiling and shade, and repeat the sweep before modules are swept.`,
  };
}

/** Whole strings of a type of this name on the same day, the sweep among them. */
export function companyOf(company: Company, sweep: CheckedSweep): readonly CheckedSweep[] {
  const key = companyKey(sweep);
  return key === undefined ? [] : company.get(key);
}

/** Whole strings of the same modules on the same day. */
function peersOf(company: Company, sweep: CheckedSweep): CheckedSweep[] {
  return companyOf(company, sweep).filter(
    (other) =>
      other.address !== sweep.address &&
      other.target.module === sweep.target.module &&
      vocShift(other) !== undefined,
  );
}

const kelvinText = (shift: number): string =>
  `Voc would fit cells ${Math.abs(shift).toFixed(0)} K ${shift > 0 ? 'warmer' : 'colder'} than given`;

function voltageAlone(shift: number): LikelyCause {
  return {
    searchFirst: false,
    text: `${kelvinText(shift)}: see whether the temperature sensor came off and whether the count of modules is right, and repeat the sweep with a second sensor, before modules are swept.`,
  };
}

function voltageCause(
  sweep: CheckedSweep,
  shift: number,
  peers: readonly CheckedSweep[],
): LikelyCause | undefined {
  const kelvin = kelvinText(shift);
  const given = sweep.analysis.conditions.cellTemperature!;
  const others = usualTemperature(sweep, peers);
  if (others !== undefined && (others - given) * Math.sign(shift) > doubtfulKelvin)
    return {
      searchFirst: false,
      text: `Likeliest the temperature sensor: ${kelvin}, and the other strings had ${others.toFixed(1)} degC where this one has ${given.toFixed(1)} degC. Fasten it and repeat the sweep before modules are swept.`,
    };
  return shift > 0 ? lowVoltageCause(sweep, kelvin) : undefined;
}

/** The sensor is believed: the voltage that lacks is counted in substrings and in modules. */
function lowVoltageCause(sweep: CheckedSweep, kelvin: string): LikelyCause | undefined {
  const { seriesModules: series, module } = sweep.target;
  const { voc } = sweep.analysis.deviation;
  if (series === undefined || voc === undefined) return undefined;
  const modules = -voc * series;
  const substrings = module?.substrings === undefined ? undefined : modules * module.substrings;
  const whole = Math.round(modules);
  if (whole >= 1 && Math.abs(modules - whole) < 0.2)
    return {
      searchFirst: false,
      isEntry: true,
      text: `Voc lacks ${modules.toFixed(1)} modules: count the modules of the string first; it is declared with ${series}. If the count is right, ${whole === 1 ? 'one module is' : `${whole} modules are`} out of the current path.`,
    };
  if (substrings === undefined || substrings < 0.7) return undefined;
  return {
    searchFirst: true,
    text: `${kelvin}, and its sensor agrees with the other strings: about ${substrings.toFixed(1)} substrings are out of the current path.`,
  };
}

/** Median of the temperatures given for peers in like light; undefined where there are too few of them. */
function usualTemperature(sweep: CheckedSweep, peers: readonly CheckedSweep[]): number | undefined {
  const here = sweep.analysis.conditions.irradiance;
  if (here === undefined) return undefined;
  const temperatures = peers.flatMap(({ analysis: { conditions } }) =>
    Math.abs((conditions.irradiance ?? 0) / here - 1) < likeLight ? [conditions.cellTemperature!] : [],
  );
  return temperatures.length < leastPeers ? undefined : median(temperatures);
}
