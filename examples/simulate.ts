/**
 * Writes the CSV files of the examples: sweeps of an invented array, from the single-diode model with bypass diodes, cable,
 * small differences between modules, errors of the instruments within their accuracy, and noise. Seeded: the same program
 * writes the same bytes. Conditions and file names come from the campaign files themselves; what the campaign is to
 * find out (damage, soiling, a loose clamp) is kept in `truth` below.
 *
 *     npm run simulate
 */
import { mkdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import type { Cable, ModuleRecord } from '../src/campaign/model.js';
import { NodeFiles } from '../src/cli/nodeFiles.js';
import type { EvaluatedSweep, Evaluation } from '../src/evaluation/evaluation.js';
import { Workbook } from '../src/evaluation/workbook.js';
import {
  atConditions,
  fiveParametersFromNameplate,
  type DiodeReference,
} from '../src/physics/nameplateModel.js';
import type { Conditions } from '../src/physics/ivCurve.js';
import {
  moduleVoltage,
  moduleWithSubstrings,
  type ComposedModule,
} from '../src/physics/seriesComposition.js';
import type { SingleDiode } from '../src/physics/singleDiode.js';
import { cableResistance } from '../src/physics/cable.js';
import { Noise } from './noise.js';

/** What is wrong with a module; everything at its best otherwise. */
interface ModuleState {
  /** Photocurrent over that of the nameplate, for each substring. */
  readonly photocurrent: readonly number[];
  /** Substrings whose bypass diode is short-circuited. */
  readonly shorted: readonly number[];
  /** Extra series resistance, ohm. */
  readonly resistance: number;
}

interface Truth {
  /** Seed of the differences between modules. */
  readonly seed: number;
  /** Photocurrent over nameplate of whole strings: usual level with its spread, and soiled ones. */
  readonly usualLevel: { readonly mean: number; readonly spread: number };
  readonly level: Readonly<Record<string, number>>;
  /** Damage of one module until it is replaced. */
  readonly damage: {
    readonly string: string;
    readonly position: number;
    readonly until: string;
    readonly state: ModuleState;
  };
  /** Extra resistance of a sweep, ohm: a loose clamp. */
  readonly clampResistance: Readonly<Record<string, number>>;
  /** Relative errors of the instruments, well within what they declare. */
  readonly instruments: Readonly<Record<string, { readonly voltage: number; readonly current: number }>>;
  /** Real over indicated irradiance; real minus indicated temperature, K. */
  readonly irradiance: number;
  readonly temperature: number;
  /** Since the first visit: what is left of the photocurrent, usually and of single strings, and the modules that are new. */
  readonly since?: {
    readonly left: number;
    readonly leftOf: Readonly<Record<string, number>>;
    readonly fresh: readonly string[];
  };
  /** Temperature coefficients that the modules really have, over those of the nameplate. */
  readonly coefficients?: { readonly alpha: number; readonly beta: number };
  /** Standard deviations of the readings from sweep to sweep: of irradiance as a fraction, of temperature in K. */
  readonly reading?: { readonly irradiance: number; readonly temperature: number };
}

const damaged: ModuleState = { photocurrent: [1, 1, 0.85], shorted: [0, 1], resistance: 0.6 };

export const harrowFen: Truth = {
  seed: 20260514,
  usualLevel: { mean: 0.988, spread: 0.004 },
  level: { '2.07': 0.951 },
  damage: { string: '1.03', position: 11, until: '2026-05-14T13:10', state: damaged },
  clampResistance: { '1.05-clamp-loose.csv': 6.5 },
  instruments: {
    T1: { voltage: 0.0008, current: -0.0007 },
    T2: { voltage: -0.0011, current: 0.0009 },
  },
  irradiance: 1.003,
  temperature: 0.25,
};

/** The same roof a year later. String 2.05 has lost six times as much as the others. */
export const harrowFenLater = {
  ...harrowFen,
  // Washed before the visit.
  level: {},
  clampResistance: {},
  instruments: {
    T1: { voltage: -0.0006, current: 0.0009 },
    T2: { voltage: 0.0008, current: -0.0011 },
  },
  irradiance: 0.998,
  temperature: -0.2,
  since: { left: 0.995, leftOf: { '2.05': 0.97 }, fresh: ['1.05/4', '2.02/17'] },
} satisfies Truth;

/** One module and one string through a day. The data sheet is out by a tenth in alpha and a thirtieth in beta. */
export const throughTheDay = {
  ...harrowFen,
  seed: 20260618,
  usualLevel: { mean: 0.996, spread: 0.002 },
  level: {},
  clampResistance: {},
  coefficients: { alpha: 1.1, beta: 0.967 },
  reading: { irradiance: 0.001, temperature: 0.25 },
} satisfies Truth;

const sampled = 128;
const bypassVoltage = 0.45;
/** Of a short-circuited bypass diode, ohm. */
const shortResistance = 0.004;

class Simulation {
  readonly #modules = new Map<string, ModuleState>();

  constructor(
    readonly evaluation: Evaluation,
    readonly truth: Truth,
  ) {}

  /** The points that an instrument would record. */
  points(
    sweep: Pick<EvaluatedSweep, 'address' | 'time' | 'target'>,
    conditions: Conditions,
    file: string,
    noise: Noise,
  ) {
    const { string, module, tracer, seriesModules } = sweep.target;
    if (!string || !module || seriesModules === undefined)
      throw new Error(`${sweep.address} does not resolve`);
    const substrings = module.substrings!;
    const { reading = { irradiance: 0, temperature: 0 } } = this.truth;
    const scatter = new Noise(`${this.truth.seed} reading ${path.basename(file)}`);
    const whole = atConditions(trueModule(module, this.truth), {
      irradiance: conditions.irradiance * this.truth.irradiance * (1 + reading.irradiance * scatter.normal()),
      cellTemperature:
        conditions.cellTemperature + this.truth.temperature + reading.temperature * scatter.normal(),
    });
    const substring = moduleWithSubstrings(whole, substrings).substrings[0]!.model;
    const [written, positions] = sweep.address.split('/') as [string, string?];
    const name = string.formerly?.text ?? written;
    const [first, last] = positions ? positions.split('-').map(Number) : [1, seriesModules];
    const modules = Array.from({ length: (last ?? first)! - first! + 1 }, (_, index) =>
      composed(substring, this.#moduleState(name, first! + index, sweep.time ?? '', substrings)),
    );
    // Single modules and sections are measured at their own leads, strings at the end of the cable.
    const cable = positions || !string.cable ? 0 : resistanceOf(string.cable);
    const resistance = cable + (this.truth.clampResistance[path.basename(file)] ?? 0);
    const voltageOf = (current: number): number =>
      modules.reduce((sum, module) => sum + moduleVoltage(module, current), -current * resistance);
    return record(
      voltageOf,
      whole.photocurrent,
      noise,
      this.truth.instruments[tracer?.name.text ?? ''] ?? { voltage: 0, current: 0 },
    );
  }

  #usualLevel(string: string): number {
    const { mean, spread } = this.truth.usualLevel;
    return mean + spread * new Noise(`${this.truth.seed} string ${string}`).normal();
  }

  #left(string: string): number {
    const { since } = this.truth;
    return since ? (since.leftOf[string] ?? since.left) : 1;
  }

  #moduleState(string: string, position: number, time: string, substrings: number): ModuleState {
    const { damage, level, seed } = this.truth;
    if (string === damage.string && position === damage.position && time < damage.until) return damage.state;
    const fresh = this.truth.since?.fresh.includes(`${string}/${position}`) ?? false;
    const later = fresh ? ' new' : string === damage.string && time >= damage.until ? ' later' : '';
    const key = `${string}/${position}${later}`;
    let state = this.#modules.get(key);
    if (!state) {
      const noise = new Noise(`${seed} ${key}`);
      const usual = level[string] ?? this.#usualLevel(string);
      const own = usual * (fresh ? 1 : this.#left(string)) * (1 + 0.0025 * noise.normal());
      state = {
        photocurrent: Array.from({ length: substrings }, () => own * (1 + 0.0008 * noise.normal())),
        shorted: [],
        resistance: 0,
      };
      this.#modules.set(key, state);
    }
    return state;
  }
}

/** The single-diode model of the modules as they really are. */
export function trueModule(module: ModuleRecord, { coefficients }: Truth): DiodeReference {
  const { isc, voc, imp, vmp, alpha, beta, cells, technology } = module;
  const times = (value: number | undefined, factor = 1) => value && value * factor;
  const solved = fiveParametersFromNameplate({
    isc: isc!.value,
    voc: voc!.value,
    imp: imp!.value,
    vmp: vmp!.value,
    alpha: times(alpha, coefficients?.alpha),
    beta: times(beta, coefficients?.beta),
    cells,
    technology,
  });
  return solved.reference!;
}

/** Ohm, with the cable at 40 degC. */
function resistanceOf({ length, crossSection, conductor }: Cable): number {
  const run = { length: length.value, crossSection: crossSection.value * 1e6, conductor };
  return cableResistance(run, 40).resistance;
}

/** The module in this state, for the composition that the physics has. */
function composed(
  substring: SingleDiode,
  { photocurrent, shorted, resistance }: ModuleState,
): ComposedModule {
  return {
    substrings: photocurrent.map((share, index) => ({
      model: { ...substring, photocurrent: substring.photocurrent * share },
      lost: shorted.includes(index),
    })),
    bypassVoltage,
    addedResistance: resistance + shorted.length * shortResistance,
  };
}

/** Even steps of voltage from a little above zero to Voc, read with errors and noise. */
function record(
  voltageOf: (current: number) => number,
  photocurrent: number,
  noise: Noise,
  error: { readonly voltage: number; readonly current: number },
): { voltage: number; current: number }[] {
  const open = voltageOf(0);
  return Array.from({ length: sampled }, (_, index) => {
    const wanted = open * (0.006 + (0.994 * index) / (sampled - 1));
    const current = currentWhere(voltageOf, wanted, photocurrent);
    return {
      voltage: wanted * (1 + error.voltage + 0.0002 * noise.normal()),
      current: Math.max(current * (1 + error.current) + 0.0006 * photocurrent * noise.normal(), 0),
    };
  });
}

/** Voltage falls as current grows: bisection cannot miss. */
function currentWhere(voltageOf: (current: number) => number, voltage: number, photocurrent: number): number {
  let low = 0;
  let high = photocurrent * 1.05;
  for (let step = 0; step < 48; step++) {
    const middle = (low + high) / 2;
    if (voltageOf(middle) > voltage) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Plain: a header with units, comma, decimal point. */
function plainCsv(points: readonly { voltage: number; current: number }[]): string {
  return [
    'Voltage (V),Current (A)',
    ...points.map((p) => `${p.voltage.toFixed(2)},${p.current.toFixed(3)}`),
    '',
  ].join('\n');
}

/** The second tracer: 14 lines of facts, semicolons, decimal commas, mV, falling voltage, generated current negative. */
function fieldLog(
  points: readonly { voltage: number; current: number }[],
  sweep: EvaluatedSweep,
  conditions: Conditions,
  noise: Noise,
): string {
  const comma = (value: number, digits: number): string => value.toFixed(digits).replace('.', ',');
  const facts = [
    'Record;field log',
    'Instrument;T-0522',
    `Device;${sweep.address}`,
    `Started;${sweep.time?.slice(0, 16).replace('T', ' ') ?? ''}`,
    `Points;${points.length}`,
    'Range U;1000 V',
    'Range I;20 A',
    `G mean;${comma(conditions.irradiance, 0)} W/m2`,
    `T cell;${comma(conditions.cellTemperature, 1)} degC`,
    'Averaging;4',
    'Sweep;open to short circuit',
    'Leads;4-wire',
    'Temperature of instrument;31,5 degC',
    'Remark;',
  ];
  const slope = 0.004 * noise.normal();
  const rows = points.map(({ voltage, current }, index) => {
    const drift = slope * (index / (points.length - 1) - 0.5);
    const irradiance = conditions.irradiance * (1 + drift + 0.0004 * noise.normal());
    return `${index + 1};${comma(voltage * 1000, 0)};${comma(-current * (1 + drift), 3)};${comma(irradiance, 1)}`;
  });
  return [...facts, 'No;U;I;Geff', ...rows.reverse(), ''].join('\r\n');
}

/** Single modules in one table, as a data logger keeps them. */
const moduleTable = [
  { address: '1.03/10', time: '2026-05-14 12:36', irradiance: 842, cellTemperature: 45.9 },
  { address: '1.03/11', time: '2026-05-14 12:44', irradiance: 847, cellTemperature: 46.0 },
  { address: '1.03/12', time: '2026-05-14 12:52', irradiance: 851, cellTemperature: 46.2 },
];

async function writeModuleTable(simulation: Simulation, near: EvaluatedSweep, file: string): Promise<void> {
  const lines = ['Module,Time,G (W/m2),Tc (degC),U (V),I (A)'];
  for (const { address, time, ...conditions } of moduleTable) {
    const target = { ...near.target, seriesModules: 1, parallelStrings: 1 };
    const noise = new Noise(`${simulation.truth.seed} ${address} ${time}`);
    const sweep = { address, time: time.replace(' ', 'T'), target };
    for (const { voltage, current } of simulation.points(sweep, conditions, file, noise)) {
      const { irradiance, cellTemperature } = conditions;
      lines.push(
        [address, time, irradiance, cellTemperature.toFixed(1), voltage.toFixed(3), current.toFixed(3)].join(
          ',',
        ),
      );
    }
  }
  await writeFile(file, lines.join('\n') + '\n');
}

/** Writes every CSV file that the campaign names. */
export async function simulate(root: string, truth: Truth, target = path.dirname(root)): Promise<void> {
  const evaluation = await new Workbook(new NodeFiles(path.dirname(path.dirname(root)))).evaluate(root);
  const simulation = new Simulation(evaluation, truth);
  const moved = (file: string): string => path.join(target, path.relative(path.dirname(root), file));
  // Those of an earlier campaign are its own.
  const named = evaluation.sweeps.flatMap((sweep) => sweep.dataFile ?? []);
  for (const file of named) await mkdir(path.dirname(moved(file)), { recursive: true });
  for (const sweep of evaluation.sweeps) {
    const { record, dataFile, target: of } = sweep;
    if (record.kind !== 'sweep' || !dataFile) continue;
    const temperature = record.temperature;
    if (!record.irradiance || temperature?.kind !== 'cell')
      throw new Error(`${sweep.address}: needs G and cell T`);
    const conditions = { irradiance: record.irradiance.value, cellTemperature: temperature.value.value };
    const noise = new Noise(`${truth.seed} ${path.basename(dataFile)}`);
    const points = simulation.points(sweep, conditions, dataFile, noise);
    const text = of.layout ? fieldLog(points, sweep, conditions, noise) : plainCsv(points);
    await writeFile(moved(dataFile), text);
  }
  const section = evaluation.sweeps.find((sweep) => sweep.target.seriesModules === 9);
  for (const { record, block } of evaluation.campaign.sweepTables) {
    const file = path.resolve(path.dirname(block.file), record.data.text);
    await writeModuleTable(simulation, section!, moved(file));
  }
}

/** The data of the example with mistakes: one good sweep, one cut short, one with its columns exchanged. */
export async function simulateMistakes(root: string, target = path.dirname(root)): Promise<void> {
  const evaluation = await new Workbook(new NodeFiles(path.dirname(root))).evaluate(root);
  const simulation = new Simulation(evaluation, { ...harrowFen, seed: 62 });
  const sound = evaluation.sweeps.find((sweep) => sweep.address === 'G2')!;
  const folder = path.join(target, 'sweeps');
  await mkdir(folder, { recursive: true });
  const csv = (name: string): string => {
    const conditions = { irradiance: 876, cellTemperature: 47.9 };
    return plainCsv(simulation.points(sound, conditions, name, new Noise(name)));
  };
  const whole = csv('G2-swapped.csv');
  const swapped = whole.replaceAll(/^([\d.]+),([\d.]+)$/gm, '$2,$1');
  await writeFile(path.join(folder, 'G1.csv'), csv('G1.csv'));
  await writeFile(path.join(folder, 'G2.csv'), csv('G2.csv'));
  await writeFile(path.join(folder, 'G2-cut.csv'), cutInALine(csv('G2-cut.csv'), 69));
  await writeFile(path.join(folder, 'G2-swapped.csv'), swapped);
}

/** So many whole lines, and the beginning of the next. */
function cutInALine(text: string, lines: number): string {
  const rows = text.split('\n');
  return [...rows.slice(0, lines), rows[lines]!.slice(0, 4)].join('\n');
}

/** The examples with their truths; the sample has the same damage. */
export const examples: readonly { readonly root: string; readonly truth: Truth }[] = [
  { root: 'harrow-fen/campaign.sweepbook', truth: harrowFen },
  { root: 'harrow-fen-2027/campaign.sweepbook', truth: harrowFenLater },
  { root: 'through-the-day/campaign.sweepbook', truth: throughTheDay },
  { root: 'harrow-fen-sample/campaign.sweepbook', truth: { ...harrowFen, seed: 1103 } },
];
