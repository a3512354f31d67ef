/** A case as a campaign: one string of which something is true, healthy like strings beside it, and the instruments. */
import { labelOf, type Label } from './simulator/label.js';
import { moduleTypeNames, moduleTypes, type ModuleType, type Piece } from './simulator/moduleTypes.js';
import { soundModule, stringTable, type PlantString } from './simulator/plantString.js';
import { Random } from './simulator/random.js';
import { trace, type Tracer } from './simulator/tracer.js';
import type { SweepPlan, Truth } from './truths.js';

export interface FaultCampaign {
  readonly truth: Truth;
  readonly seed: number;
  /** Address of the string that the case is about. */
  readonly address: string;
  readonly peers: readonly string[];
  readonly text: string;
  readonly tables: Readonly<Record<string, string>>;
  /** For a list of what went wrong. */
  readonly plan: SweepPlan;
}

/** Expanded (k = 2), as the campaign states them; the errors drawn stay within. Invented. */
const accuracy = { voltage: 0.005, current: 0.005, irradiance: 0.02, temperature: 1 };

/** What all strings of a campaign share: the lot of the modules, the errors of the instruments. Invented. */
interface Lot {
  readonly photocurrent: number;
  readonly voc: number;
  readonly series: number;
}

const drawLot = (random: Random): Lot => ({
  photocurrent: 1 + random.within(0.01),
  voc: 1 + random.within(0.005),
  series: 1 + random.within(0.06),
});

/** Spread between modules of one lot: Isc 1 %, Voc 0.5 %, Rs 6 % (k = 2). Invented. */
const drawPiece = (lot: Lot, random: Random): Piece => ({
  photocurrent: lot.photocurrent + random.within(0.01),
  voc: lot.voc + random.within(0.005),
  series: lot.series + random.within(0.06),
});

interface Cable {
  readonly length: number;
  readonly area: number;
}

/**
 * Ohm: copper, 0.0172 ohm mm2/m at 20 degC and 0.39 %/K more, at 40 degC (the annealed copper of IEC 60028, rounded, from memory, not
 * confirmed); within 4 % of that, which is invented.
 */
const cableOhm = ({ length, area }: Cable, random: Random): number =>
  ((0.0172 * 1.08 * length) / area) * (1 + random.within(0.04));

const labels = new Map<string, Label>();
function labelFor(type: ModuleType): Label {
  const known = labels.get(type.name) ?? labelOf(type);
  labels.set(type.name, known);
  return known;
}

export interface Around {
  /** How many healthy strings beside it. */
  readonly peers: number;
  /** True irradiance is drawn from here to there, W/m2; 500 to 1100 when not given. */
  readonly irradiance?: readonly [number, number];
}

/** The same truth, seed and surroundings give the same campaign. */
export function faultCampaign(
  truth: Truth,
  seed: number,
  { peers: peerCount, irradiance: [least, most] = [500, 1100] }: Around,
): FaultCampaign {
  const random = new Random(seed * 7919 + hash(truth.name));
  const type: ModuleType = moduleTypes[random.pick(moduleTypeNames)];
  const count = random.whole(8, 28);
  const cable = { length: random.whole(30, 90), area: random.pick([4, 6]) };
  const lot = drawLot(random);
  const mean = { irradiance: random.between(least, most), temperature: random.between(15, 65) };
  const sensorLight = truth.sensorLight?.(random) ?? 1;
  const sensor = {
    irradiance: (1 + random.within(accuracy.irradiance)) * sensorLight,
    temperature: random.within(accuracy.temperature),
  };
  const tracer: Tracer = {
    gain: { voltage: random.within(accuracy.voltage), current: random.within(accuracy.current) },
    noise: { voltage: random.between(0.0001, 0.0003), current: random.between(0.001, 0.002) },
    points: random.whole(60, 400),
    load: random.pick(['even', 'capacitor'] as const),
  };
  const draw = (irradiance: number, temperature: number): SweepPlan => {
    const drift = random.within(0.008);
    const string: PlantString = {
      type,
      modules: Array.from({ length: count }, () => soundModule(drawPiece(lot, random), random.within(2))),
      resistance: cableOhm(cable, random),
    };
    return {
      string,
      entered: { type, count },
      irradiance: { before: irradiance * (1 - drift / 2), after: irradiance * (1 + drift / 2) },
      readings: random.chance(0.5) ? 'both' : 'mean',
      temperature,
      temperatureLost: 0,
    };
  };

  const addresses = Array.from(
    { length: peerCount + 1 },
    (_, index) => `1.${String(index + 1).padStart(2, '0')}`,
  );
  const own = random.whole(0, peerCount);
  const plan = truth.apply(draw(mean.irradiance, mean.temperature), random);
  const slope = random.within(0.01);
  const tables: Record<string, string> = {};
  const blocks = addresses.map((address, index) => {
    const later = 1 + slope * (index - own) + (index === own ? 0 : random.within(0.01));
    const irradiance = mean.irradiance * later;
    // Warmer with more light, and as the wind blows.
    const temperature = mean.temperature + 0.03 * (irradiance - mean.irradiance) + random.within(1.5);
    const here = index === own ? plan : draw(irradiance, temperature);
    tables[`${address}.csv`] = csvOf(here, tracer, random);
    return sweepBlock(address, index, here, sensor, random);
  });
  const strings = addresses.map((address, index) => {
    const entered = index === own ? plan.entered : { type, count };
    return [
      `string ${address}`,
      `  modules ${entered.count} x ${entered.type.name}`,
      '  plane south',
      `  cable ${cable.length} m, ${cable.area} mm2, copper`,
    ].join('\n');
  });
  const text = [plant, ...moduleTypeNames.map(moduleBlock), ...strings, ...blocks].join('\n\n') + '\n';
  const peers = addresses.filter((_, index) => index !== own);
  return { truth, seed, address: addresses[own]!, peers, text, tables, plan };
}

function csvOf({ string, irradiance, temperature }: SweepPlan, tracer: Tracer, random: Random): string {
  const before = stringTable(string, irradiance.before, temperature);
  const after = stringTable(string, irradiance.after, temperature);
  const rows = trace(before, after, tracer, random);
  return [
    'Voltage (V),Current (A)',
    ...rows.map((p) => `${p.voltage.toFixed(2)},${p.current.toFixed(3)}`),
    '',
  ].join('\n');
}

interface Sensor {
  /** Indicated over true. */
  readonly irradiance: number;
  /** Indicated minus true, K. */
  readonly temperature: number;
}

function sweepBlock(address: string, index: number, plan: SweepPlan, sensor: Sensor, random: Random): string {
  const { before, after } = plan.irradiance;
  // One reading scatters by 0.1 %; the sensor sits on one module of many.
  const read = (irradiance: number): string =>
    (irradiance * sensor.irradiance * (1 + random.within(0.002))).toFixed(0);
  const temperature = plan.temperature + sensor.temperature + random.within(1) - plan.temperatureLost;
  const minutes = 11 * 60 + 20 + 7 * index;
  const time = `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`;
  return [
    `sweep ${address} at 2026-05-14 ${time}`,
    ...(plan.readings === 'both'
      ? [`  irradiance ${read(before)} W/m2`, `  irradiance-after ${read(after)} W/m2`]
      : [`  irradiance ${read((before + after) / 2)} W/m2`]),
    `  temperature ${temperature.toFixed(1)} degC cell`,
    `  data "${address}.csv"`,
    '  with T1, RC1',
  ].join('\n');
}

function moduleBlock(name: keyof typeof moduleTypes): string {
  const type: ModuleType = moduleTypes[name];
  const label = labelFor(type);
  return [
    `module ${type.name} "${type.title}"`,
    `  technology ${type.technology}`,
    `  cells ${type.cells}`,
    `  substrings ${type.substrings}`,
    `  Pmax ${label.pmax} W ± 3 %`,
    `  Isc ${label.isc} A`,
    `  Voc ${label.voc} V`,
    `  Imp ${label.imp} A`,
    `  Vmp ${label.vmp} V`,
    `  alpha ${label.alpha} %/K`,
    `  beta ${label.beta} %/K`,
    `  gamma ${label.gamma} %/K`,
  ].join('\n');
}

const plant = `# Simulated; all names are invented.
site harrow-fen
  position 52.4012 N, 0.2618 E
  elevation 12 m
  timezone Europe/London

plane south
  tilt 30 deg
  azimuth 174 deg

tracer T1
  calibrated 2026-01-12
  interval 12 months
  voltage ± ${100 * accuracy.voltage} %
  current ± ${100 * accuracy.current} %

reference RC1
  technology mono-Si
  calibrated 2025-11-03
  interval 12 months
  irradiance ± ${100 * accuracy.irradiance} %
  temperature ± ${accuracy.temperature} K

criteria acceptance
  Pmax -5 % ..
  Isc -5 % .. 5 %
  Voc -3 % .. 3 %
  irradiance 400 W/m2 ..
  drift .. 2 %
  decision guarded`;

function hash(name: string): number {
  let value = 0;
  for (const letter of name) value = (Math.imul(value, 31) + letter.codePointAt(0)!) | 0;
  return value;
}
