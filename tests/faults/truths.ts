/**
 * What can be true of a string, or of what was written about it, and what a diagnosis has to rank first. The sizes are
 * invented; the table in the README repeats them.
 */
import type { CauseCode } from '../../src/diagnosis/diagnosis.js';
import { moduleTypeNames, moduleTypes, type ModuleType } from './simulator/moduleTypes.js';
import type { ModuleState, PlantString, Shade } from './simulator/plantString.js';
import type { Random } from './simulator/random.js';

/** One sweep: what is there, and what is written down. */
export interface SweepPlan {
  readonly string: PlantString;
  readonly entered: { readonly type: ModuleType; readonly count: number };
  /** True irradiance at the beginning and at the end, W/m2. */
  readonly irradiance: { readonly before: number; readonly after: number };
  /** Written beside the sweep: one reading, or one before and one after. */
  readonly readings: 'mean' | 'both';
  /** True mean temperature of the cells, degC. */
  readonly temperature: number;
  /** Reads so many K too low, beyond what the sensor's accuracy allows. */
  readonly temperatureLost: number;
}

export interface Truth {
  readonly name: string;
  readonly title: string;
  /** What must stand first; undefined: no cause at all. */
  readonly first: CauseCode | undefined;
  /** Which other answer no electrical measurement tells from it, when the string is measured alone, and why. */
  readonly equalAlone?: { readonly codes: readonly CauseCode[]; readonly because: string };
  /** Said in the table. */
  readonly remark?: string;
  /** Share of the light that the sensor of the whole campaign gets. */
  readonly sensorLight?: (random: Random) => number;
  readonly apply: (plan: SweepPlan, random: Random) => SweepPlan;
}

const asItIs = (plan: SweepPlan): SweepPlan => plan;

function withModules(
  plan: SweepPlan,
  change: (module: ModuleState, position: number) => ModuleState,
): SweepPlan {
  return { ...plan, string: { ...plan.string, modules: plan.string.modules.map(change) } };
}

/** One module, anywhere. */
function withOne(plan: SweepPlan, random: Random, change: (module: ModuleState) => ModuleState): SweepPlan {
  const at = random.whole(0, plan.string.modules.length - 1);
  return withModules(plan, (module, position) => (position === at ? change(module) : module));
}

const addResistance =
  (ohm: number) =>
  (plan: SweepPlan): SweepPlan => ({
    ...plan,
    string: { ...plan.string, resistance: plan.string.resistance + ohm },
  });

/** A diode that failed as a short circuit, ohm; invented. */
const shortResistance = (random: Random): number => random.between(0.004, 0.02);

/** Cells of one or more substrings of a module that lie in the shadow, each module as the shadow falls. */
function shadow(type: ModuleType, bothHalves: boolean, random: Random): Shade[] {
  const inSubstring = type.cells / type.substrings;
  const light = 1 - random.between(0.2, 0.8);
  return random.some(random.whole(1, type.substrings), type.substrings).flatMap((substring) => {
    const cells = random.whole(2, inSubstring);
    const paths = bothHalves && type.halfCut ? [0, 1] : [0];
    return paths.map((path): Shade => ({ substring, path, cells, light }));
  });
}

/**
 * Another type of the maker, by mistake. Two types with the same cell differ in voltage only; where the voltages of whole
 * modules agree too, nobody could tell the type from the count, and such a pair is not drawn.
 */
function otherType({ type, modules }: PlantString, random: Random): ModuleType {
  const others = moduleTypeNames
    .map((name): ModuleType => moduleTypes[name])
    .filter((other) => {
      if (other.name === type.name) return false;
      const alike = Math.abs(other.cell.photocurrent / type.cell.photocurrent - 1) < 0.03;
      const count = (modules.length * type.cells * type.cell.voc) / (other.cells * other.cell.voc);
      return !alike || Math.abs(count - Math.round(count)) > 0.15;
    });
  return random.pick(others);
}

export const truths: readonly Truth[] = [
  { name: 'healthy', title: 'healthy', first: undefined, apply: asItIs },
  {
    name: 'substring',
    title: 'one substring bypassed (diode shorted, 4 to 20 mohm)',
    first: 'substring-out',
    apply: (plan, random) =>
      withOne(plan, random, (module) => ({
        ...module,
        shorted: new Map([[random.whole(0, plan.string.type.substrings - 1), shortResistance(random)]]),
      })),
  },
  {
    name: 'substring-open',
    title: 'one substring interrupted, its diode carries the string',
    first: 'substring-out',
    apply: (plan, random) =>
      withOne(plan, random, (module) => ({
        ...module,
        interrupted: [random.whole(0, plan.string.type.substrings - 1)],
      })),
  },
  {
    name: 'module',
    title: 'one whole module bypassed (its diodes shorted)',
    first: 'module-count-wrong',
    remark:
      'A module bypassed as a whole and a module that is not there give the same curve: what was entered is doubted first.',
    apply: (plan, random) =>
      withOne(plan, random, (module) => ({
        ...module,
        shorted: new Map([0, 1, 2].map((index) => [index, shortResistance(random)])),
      })),
  },
  {
    name: 'shaded-cell',
    title: 'one cell shaded, 60 to 100 %',
    first: 'partial-shade',
    apply: (plan, random) =>
      withOne(plan, random, (module) => ({
        ...module,
        shades: [
          {
            substring: random.whole(0, plan.string.type.substrings - 1),
            path: 0,
            cells: 1,
            light: random.between(0, 0.4),
          },
        ],
      })),
  },
  {
    name: 'partial-shade',
    title: 'partial shade over 2 to 8 modules, 20 to 80 %',
    first: 'partial-shade',
    apply: (plan, random) => {
      const { type, modules } = plan.string;
      const bothHalves = random.chance(0.5);
      const shaded = random.some(random.whole(2, Math.min(8, modules.length - 2)), modules.length);
      return withModules(plan, (module, position) =>
        shaded.includes(position) ? { ...module, shades: shadow(type, bothHalves, random) } : module,
      );
    },
  },
  { name: 'series-2', title: '2 ohm more in series', first: 'series-resistance', apply: addResistance(2) },
  { name: 'series-5', title: '5 ohm more in series', first: 'series-resistance', apply: addResistance(5) },
  {
    name: 'soiling',
    title: '8 % soiling of the string, sensor clean',
    first: 'soiling',
    equalAlone: {
      codes: ['irradiance-wrong'],
      because: 'less light on the cells than was read, whichever of the two is wrong',
    },
    apply: (plan, random) =>
      withModules(plan, (module) => ({ ...module, light: 0.92 + random.within(0.01) })),
  },
  {
    name: 'sensor-soiled',
    title: 'soiled sensor, 6 to 10 %: all strings read high',
    first: 'sensor-soiled',
    equalAlone: {
      codes: ['irradiance-wrong'],
      because: 'more light on the cells than was read; that all strings show it cannot be seen from one',
    },
    sensorLight: (random) => 1 - random.between(0.06, 0.1),
    apply: asItIs,
  },
  {
    name: 'shunt',
    title: 'low shunt of 30 to 100 % of the modules, 6 to 15 % of Isc lost at Vmp',
    first: 'shunt',
    apply: (plan, random) => {
      const { type, modules } = plan.string;
      const count = Math.max(3, Math.round(random.between(0.3, 1) * modules.length));
      const affected = random.some(count, modules.length);
      const lost = random.between(0.06, 0.15);
      // Vmp of a cell is near 0.82 of its Voc (common practice, no source); it only sets the size of the invented defect.
      const whole = (lost * type.cell.photocurrent) / (0.82 * type.cell.voc);
      return withModules(plan, (module, position) =>
        affected.includes(position) ? { ...module, defect: whole * (1 + random.within(0.4)) } : module,
      );
    },
  },
  {
    name: 'count',
    title: 'one module fewer than entered',
    first: 'module-count-wrong',
    apply: (plan) => ({ ...plan, string: { ...plan.string, modules: plan.string.modules.slice(1) } }),
  },
  {
    name: 'type',
    title: 'wrong module type entered',
    first: 'module-type-wrong',
    apply: (plan, random) => ({
      ...plan,
      entered: { ...plan.entered, type: otherType(plan.string, random) },
    }),
  },
  {
    name: 'temperature',
    title: 'temperature of this sweep read 10 K too low',
    first: 'temperature-wrong',
    apply: (plan) => ({ ...plan, temperatureLost: 10 }),
  },
  {
    name: 'low-current',
    title: 'one module 20 % low in current',
    first: 'module-low-current',
    apply: (plan, random) => withOne(plan, random, (module) => ({ ...module, light: 0.8 })),
  },
  {
    name: 'drift',
    title: 'irradiance drifts by 5 to 15 % during the sweep',
    first: 'drift',
    apply: (plan, random) => {
      const change = random.between(0.05, 0.15) * (random.chance(0.5) ? 1 : -1);
      const mean = (plan.irradiance.before + plan.irradiance.after) / 2;
      const irradiance = { before: mean * (1 - change / 2), after: mean * (1 + change / 2) };
      return { ...plan, readings: 'both', irradiance };
    },
  },
];
