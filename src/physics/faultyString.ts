/**
 * Forward model of a string with a fault, fast enough to be fitted: a single-diode module of the nameplate at conditions that
 * may be a little off, some substrings short of light, some out of the current path, some with a shunt, and resistance in
 * series. Voltages are added at equal currents (as in seriesComposition.ts), but each kind of substring is one table over the
 * diode voltage, from which nothing has to be solved.
 */
import type { Conditions } from './ivCurve.js';
import { atConditions, type DiodeReference } from './nameplateModel.js';
import { usualBypassVoltage } from './seriesComposition.js';
import { voltageAtCurrent, type SingleDiode } from './singleDiode.js';

/** What was measured, as entered. */
export interface StringAsEntered {
  /** One module at STC. */
  readonly reference: DiodeReference;
  /** In series; need not be whole. */
  readonly modules: number;
  /** Bypass diodes of one module. */
  readonly substrings: number;
  /** Strings in parallel; a fault of `StringState` sits in one of them. */
  readonly parallel: number;
  readonly conditions: Conditions;
}

/** Substrings of one string that get less light than the others. */
export interface WeakGroup {
  /** How many substrings; need not be whole. */
  count: number;
  /** Their photocurrent over that of the others, 0 to 1. */
  share: number;
}

/** Everything in which the string may differ from what was entered; all zero: as entered. */
export interface StringState {
  /** ln of true over given photocurrent. */
  current: number;
  /** True minus given cell temperature, K. */
  temperature: number;
  /** True over nameplate voltage, minus 1. */
  voltage: number;
  /** Resistance in series, ohm. */
  resistance: number;
  /** Conductance across the whole string, evenly over its modules, S. */
  conductance: number;
  /** Relative change of the thermal voltage with Voc kept: how round the knee is. */
  rounding: number;
  /** Relative change of irradiance from the first to the last moment of the sweep; the mean stays. */
  drift: number;
  /** Substrings out of the current path; need not be whole. */
  out: number;
  /** V: what each of them takes while current flows, 0 for a shorted diode, the drop of a conducting one for an open substring. */
  outVoltage: number;
  weak: WeakGroup[];
  /** Modules across each of which lies an additional conductance, S. */
  shunted?: { modules: number; conductance: number };
}

export const asEntered = (): StringState => ({
  current: 0,
  temperature: 0,
  voltage: 0,
  resistance: 0,
  conductance: 0,
  rounding: 0,
  drift: 0,
  out: 0,
  outVoltage: 0,
  weak: [],
});

/** Where the model is wanted: ascending voltages, and for a drift the moment of each point, -0.5 to 0.5. */
export interface ModelPlaces {
  readonly voltage: Float64Array;
  readonly moment: Float64Array;
}

/** Steps of the tables in units of the thermal voltage, and how far below the open circuit they are fine. */
const step = 0.16;
const fine = 7;
const coarseNodes = 5;
/** Below I = 0 the tables go on to this share of the photocurrent. */
const beyond = 0.4;

/** Available current x (A) over the diode voltage u (V) of a module, both ascending; the first two rows are driven backwards. */
interface Table {
  readonly x: Float64Array;
  readonly u: Float64Array;
  length: number;
  /** What it was made for, so that it is made once for all states that differ elsewhere. */
  conductance: number;
  saturation: number;
  a: number;
  photocurrent: number;
}

/** One kind of substring: `count` of them, V(X) for X = IL - I, where IL is the photocurrent of the strong. */
interface Kind {
  count: number;
  /** A: how much less than the strong this kind has. */
  lack: number;
  table: Table;
  /** Next row, and how many rows it goes on: few weak substrings need fewer places of their own. */
  at: number;
  stride: number;
}

/** Voltages over currents of the diodes alone, before the voltage is scaled and resistance added. */
interface Course {
  /** What it was traced for. */
  key: readonly number[];
  photocurrent: number;
  voltage: Float64Array;
  current: Float64Array;
  nodes: number;
}

const newCourse = (): Course => ({
  key: [],
  photocurrent: 0,
  voltage: new Float64Array(0),
  current: new Float64Array(0),
  nodes: 0,
});

/** All that a course depends on. */
function keyOf(state: StringState, local: boolean): number[] {
  const key = [state.temperature, state.current, state.rounding, state.conductance];
  if (!local) return key;
  key.push(state.out, state.shunted?.modules ?? -1, state.shunted?.conductance ?? -1);
  for (const { count, share } of state.weak) key.push(count, share);
  return key;
}

function isSame(one: readonly number[], other: readonly number[]): boolean {
  if (one.length !== other.length) return false;
  for (let k = 0; k < one.length; k++) if (one[k] !== other[k]) return false;
  return true;
}

/** Keeps its tables between calls; not to be shared by two computations at once. */
export class FaultyString {
  readonly #kinds: Kind[] = [];
  readonly #sound = newTable();
  readonly #shunted = newTable();
  /** The latest first. A fit asks for a state, for two that differ elsewhere, and again for the first with its voltage shifted. */
  readonly #courses: Course[] = Array.from({ length: 3 }, newCourse);
  #nodeVoltage = new Float64Array(512);
  #nodeCurrent = new Float64Array(512);
  #nodes = 0;
  #slopes = new Float64Array(0);
  #atTemperature = NaN;
  #module: SingleDiode;

  constructor(readonly entered: StringAsEntered) {
    this.#module = entered.reference.model;
  }

  /** Currents of the device (all parallel strings) at the places, into `result`. */
  currents(state: StringState, places: ModelPlaces, result: Float64Array): void {
    const { parallel } = this.entered;
    const local = state.weak.length > 0 || state.out > 0 || state.shunted !== undefined;
    const photocurrent = this.#compose(state, local);
    this.#read(places.voltage, result);
    if (parallel > 1 && local) {
      const faulty = Float64Array.from(result);
      this.#compose(state, false);
      this.#read(places.voltage, result);
      for (let k = 0; k < result.length; k++) result[k] = (parallel - 1) * result[k]! + faulty[k]!;
    } else if (parallel > 1) {
      for (let k = 0; k < result.length; k++) result[k] = parallel * result[k]!;
    }
    if (state.drift !== 0) this.#drift(state, places, result, photocurrent);
  }

  /** Fills the nodes of V over I; answers the photocurrent. */
  #compose(state: StringState, local: boolean): number {
    const key = keyOf(state, local);
    let at = this.#courses.findIndex((course) => isSame(course.key, key));
    if (at < 0) {
      at = this.#courses.length - 1;
      this.#trace(this.#courses[at]!, state, local);
      this.#courses[at]!.key = key;
    }
    const [course] = this.#courses.splice(at, 1) as [Course];
    this.#courses.unshift(course);
    this.#finish(course, state, local);
    return course.photocurrent;
  }

  /** Everything but what only shifts the voltage. */
  #trace(course: Course, state: StringState, local: boolean): void {
    const { modules, substrings } = this.entered;
    const module = this.#moduleAt(state.temperature);
    const photocurrent = module.photocurrent * Math.exp(state.current);
    const a = module.thermalVoltage * (1 + state.rounding);
    const saturation =
      state.rounding === 0 ? module.saturationCurrent : saturationKeepingVoc(module, a, photocurrent);
    const conductance = 1 / module.shuntResistance + state.conductance * modules;
    fill(this.#sound, conductance, saturation, a, photocurrent);

    const kinds = this.#kinds;
    kinds.length = 0;
    let strong = modules * substrings - (local ? state.out : 0);
    if (local) {
      for (const { count, share } of state.weak) {
        strong -= count;
        const lack = (1 - Math.min(Math.max(share, 0), 1)) * photocurrent;
        kinds.push({ count, lack, table: this.#sound, at: 1, stride: 2 });
      }
      if (state.shunted) {
        const count = state.shunted.modules * substrings;
        strong -= count;
        fill(this.#shunted, conductance + state.shunted.conductance, saturation, a, photocurrent);
        kinds.push({ count, lack: 0, table: this.#shunted, at: 2, stride: 1 });
      }
    }
    kinds.push({ count: Math.max(strong, 0), lack: 0, table: this.#sound, at: 2, stride: 1 });
    course.photocurrent = photocurrent;
    this.#merge(course, module.seriesResistance);
  }

  #moduleAt(warmer: number): SingleDiode {
    if (this.#atTemperature !== warmer) {
      const { reference, conditions } = this.entered;
      const { irradiance, cellTemperature } = conditions;
      this.#module = atConditions(reference, { irradiance, cellTemperature: cellTemperature + warmer });
      this.#atTemperature = warmer;
    }
    return this.#module;
  }

  /** The nodes of all kinds in one row, at each the voltages added. */
  #merge(course: Course, seriesResistance: number): void {
    const { substrings } = this.entered;
    const kinds = this.#kinds;
    const total = kinds.reduce((sum, kind) => sum + kind.table.length, 0);
    if (course.voltage.length < total) {
      course.voltage = new Float64Array(2 * total);
      course.current = new Float64Array(2 * total);
    }
    const { photocurrent, voltage: voltages, current: currents } = course;
    const rs = seriesResistance / substrings;
    let nodes = 0;
    for (;;) {
      let next: Kind | undefined;
      let X = Infinity;
      for (let j = 0; j < kinds.length; j++) {
        const kind = kinds[j]!;
        if (kind.at >= kind.table.length) continue;
        const own = kind.table.x[kind.at]! + kind.lack;
        if (own >= X) continue;
        X = own;
        next = kind;
      }
      if (!next) break;
      const current = photocurrent - X;
      let voltage = 0;
      for (let j = 0; j < kinds.length; j++) {
        const kind = kinds[j]!;
        if (kind.count <= 0) continue;
        const substring = diodeVoltage(kind, X - kind.lack) / substrings - current * rs;
        voltage += kind.count * Math.max(substring, -usualBypassVoltage);
      }
      next.at += next.stride;
      voltages[nodes] = voltage;
      currents[nodes] = current;
      nodes++;
    }
    course.nodes = nodes;
  }

  /** What shifts the voltage; of nodes whose voltage does not rise the first stays. */
  #finish(
    { voltage: voltages, current: currents, nodes: count, photocurrent }: Course,
    state: StringState,
    local: boolean,
  ): void {
    if (this.#nodeVoltage.length < count) {
      this.#nodeVoltage = new Float64Array(2 * count);
      this.#nodeCurrent = new Float64Array(2 * count);
    }
    const [nodeVoltage, nodeCurrent] = [this.#nodeVoltage, this.#nodeCurrent];
    const out = local ? state.out : 0;
    const scale = 1 + state.voltage;
    let nodes = 0;
    for (let k = 0; k < count; k++) {
      const current = currents[k]!;
      let voltage = voltages[k]! * scale - current * state.resistance;
      if (out > 0)
        voltage -= out * state.outVoltage * Math.min(1, Math.max(0, current / (0.02 * photocurrent)));
      if (nodes > 0 && voltage <= nodeVoltage[nodes - 1]!) continue;
      nodeVoltage[nodes] = voltage;
      nodeCurrent[nodes] = current;
      nodes++;
    }
    this.#nodes = nodes;
  }

  /** Currents at ascending voltages, in straight lines between the nodes and beyond their ends. */
  #read(voltage: Float64Array, result: Float64Array): void {
    const [nodeVoltage, nodeCurrent, last] = [this.#nodeVoltage, this.#nodeCurrent, this.#nodes - 1];
    if (this.#slopes.length !== voltage.length) this.#slopes = new Float64Array(voltage.length);
    if (last < 1) {
      result.fill(0);
      return;
    }
    let at = 1;
    for (let k = 0; k < voltage.length; k++) {
      while (at < last && nodeVoltage[at]! < voltage[k]!) at++;
      const slope = (nodeCurrent[at]! - nodeCurrent[at - 1]!) / (nodeVoltage[at]! - nodeVoltage[at - 1]!);
      this.#slopes[k] = slope;
      result[k] = nodeCurrent[at - 1]! + slope * (voltage[k]! - nodeVoltage[at - 1]!);
    }
  }

  /** A change of the photocurrent moves the current at a voltage by 1/(1 + Rs g), which is 1 - Rs |dI/dV|. */
  #drift(state: StringState, { moment }: ModelPlaces, result: Float64Array, photocurrent: number): void {
    const { reference, modules, parallel } = this.entered;
    const rs = reference.model.seriesResistance * modules + state.resistance;
    for (let k = 0; k < result.length; k++) {
      const share = Math.max(0, 1 + rs * this.#slopes[k]!);
      result[k] = result[k]! + parallel * photocurrent * state.drift * moment[k]! * share;
    }
  }
}

/** I0 such that the open circuit does not move when the thermal voltage is another. */
function saturationKeepingVoc(module: SingleDiode, a: number, photocurrent: number): number {
  const voc = voltageAtCurrent({ ...module, seriesResistance: 0, photocurrent }, 0);
  return (photocurrent - voc / module.shuntResistance) / Math.expm1(voc / a);
}

const fineNodes = Math.ceil((fine + Math.log1p(beyond) + step) / step) + 1;
const rows = 3 + coarseNodes + fineNodes;

const newTable = (): Table => ({
  x: new Float64Array(rows),
  u: new Float64Array(rows),
  length: rows,
  conductance: NaN,
  saturation: NaN,
  a: NaN,
  photocurrent: NaN,
});

/** For a whole module, so that its diode voltage is that of all its substrings. */
function fill(table: Table, conductance: number, saturation: number, a: number, photocurrent: number): void {
  if (
    table.conductance === conductance &&
    table.saturation === saturation &&
    table.a === a &&
    table.photocurrent === photocurrent
  )
    return;
  Object.assign(table, { conductance, saturation, a, photocurrent });
  const { x, u } = table;
  const open = a * Math.log1p(photocurrent / saturation);
  const start = Math.max(0, open / a - fine);
  // Driven backwards, a substring follows its shunt until its bypass diode conducts; far below stands for "bypassed".
  const backwards = 12 * usualBypassVoltage;
  const shunt = Math.max(conductance, (1e-4 * photocurrent) / open);
  x[0] = -1e3 * photocurrent;
  u[0] = -backwards - 1;
  x[1] = -shunt * backwards;
  u[1] = -backwards;
  for (let row = 2; row < rows; row++) {
    const coarse = row - 2;
    const diode =
      coarse <= coarseNodes
        ? (start * coarse) / (coarseNodes + 1)
        : start + (coarse - coarseNodes - 1) * step;
    u[row] = diode * a;
    x[row] = saturation * Math.expm1(diode) + diode * (a * conductance + 1e-12);
  }
}

/** Diode voltage of a module at an available current; the next row of the kind is never far from it. */
function diodeVoltage({ table, at: next }: Kind, available: number): number {
  const { x, u, length } = table;
  let at = next < 1 ? 1 : next < length ? next : length - 1;
  while (at < length - 1 && x[at]! < available) at++;
  while (at > 1 && x[at - 1]! > available) at--;
  const share = (available - x[at - 1]!) / (x[at]! - x[at - 1]!);
  return u[at - 1]! + share * (u[at]! - u[at - 1]!);
}
