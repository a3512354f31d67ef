/** One string at one set of conditions, composed again and again with its inputs moved by their uncertainties. */
import { assumedSubstrings } from '../analysis/workingSubstrings.js';
import type { CheckedSweep } from '../checks/check.js';
import type { Conditions, IvCurve } from '../physics/ivCurve.js';
import type { SingleDiode } from '../physics/singleDiode.js';
import type { Watts } from './composition.js';
import { lengthOf } from './positions.js';
import {
  modelPart,
  moduleModel,
  movePart,
  seriesCurve,
  seriesPart,
  seriesPower,
  strongestOf,
  usualBypass,
  type MeasuredPart,
  type MovedPart,
  type Part,
  type Scale,
  type Series,
} from './seriesParts.js';
import { nameplateTolerance, scaleUncertainty, type Level } from './stringLevel.js';

export interface ComposerInput {
  readonly opening: CheckedSweep;
  readonly parts: readonly MeasuredPart[];
  readonly level: Level;
  readonly conditions: Conditions;
  /** The level at these conditions. */
  readonly scale: Scale;
  /** ohm, and k = 1. */
  readonly cable: number;
  readonly cableUncertainty: number;
  /** Pmax of the whole string at these conditions, W. */
  readonly measured: number;
}

/** Errors of the inputs, all zero at the estimate. */
export interface Setting {
  readonly level?: Partial<Scale>;
  /** Of the sound module that stands for a found one. */
  readonly fresh?: number;
  readonly part?: { readonly which: MeasuredPart; readonly scale: Partial<Scale> };
  /** V. */
  readonly bypass?: number;
  /** Of the share of added resistance outside the bypass diodes. */
  readonly outside?: number;
  /** ohm. */
  readonly cable?: number;
}

/** Of the forward voltage of a conducting bypass diode, V, k = 1: 0.3 V (Schottky, hot) to 0.7 V as a rectangle; common practice, no source. */
const bypassUncertainty = 0.2 / Math.sqrt(3);
/** None to all of it, as a rectangle. */
const outsideUncertainty = 0.5 / Math.sqrt(3);

const asRead: Setting = {};

export class Composer {
  readonly measured: number;
  /** Each input moved up, and down. */
  readonly #errors: readonly (readonly [Setting, Setting])[];
  readonly #powers = new Map<Setting, Map<string, number>>();

  private constructor(
    readonly input: ComposerInput,
    readonly model: SingleDiode,
    readonly moved: ReadonlyMap<MeasuredPart, MovedPart>,
  ) {
    this.measured = input.measured;
    this.#errors = errorsOf(input).map((up) => [up, opposite(up)]);
  }

  /** Undefined where the nameplate has no model, or a part cannot be brought to the conditions. */
  static at(input: ComposerInput): Composer | undefined {
    const model = moduleModel(input.opening.target, input.conditions);
    if (!model) return undefined;
    const moved = new Map<MeasuredPart, MovedPart>();
    for (const part of input.parts) {
      const curve = movePart(part, input.conditions);
      if (!curve) return undefined;
      moved.set(part, curve);
    }
    return new Composer(input, model, moved);
  }

  /** The composed curve with sound modules in place of these parts. */
  curve(mended: ReadonlySet<MeasuredPart>): IvCurve {
    return seriesCurve(this.#series(mended, {}));
  }

  /** Largest power, W; remembered, since several figures rest on it. */
  power(mended: ReadonlySet<MeasuredPart>, setting: Setting): number {
    let ofSetting = this.#powers.get(setting);
    if (!ofSetting) this.#powers.set(setting, (ofSetting = new Map()));
    const key = [...mended].map(({ address }) => address).join();
    let power = ofSetting.get(key);
    if (power === undefined) ofSetting.set(key, (power = seriesPower(this.#series(mended, setting))));
    return power;
  }

  /**
   * A figure with its expanded uncertainty: every input is moved by its standard uncertainty up and down and the figure computed
   * anew (JCGM 100:2008, 5.1.3, note 2).
   */
  value(figure: (setting: Setting) => number): Watts {
    const shares = this.#errors.map(([up, down]) => (figure(up) - figure(down)) / 2);
    return { value: figure(asRead), uncertainty: 2 * Math.hypot(...shares) };
  }

  #series(mended: ReadonlySet<MeasuredPart>, setting: Setting): Series {
    const { parts, scale, cable, opening } = this.input;
    const substrings = opening.target.module?.substrings ?? assumedSubstrings;
    const bypass = {
      voltage: usualBypass.voltage + (setting.bypass ?? 0),
      shareOutside: usualBypass.shareOutside + (setting.outside ?? 0),
    };
    const level = movedBy(scale, this.#levelError(setting));
    const model = (count: number, at: Scale): Part => modelPart(this.model, count, substrings, at, bypass);
    const series: Part[] = [];
    let rest = opening.target.seriesModules!;
    for (const part of parts) {
      const count = lengthOf(part);
      rest -= count;
      const own = setting.part?.which === part ? setting.part.scale : {};
      series.push(
        mended.has(part)
          ? model(count, movedBy(level, { current: setting.fresh }))
          : seriesPart(this.moved.get(part)!, movedBy({ current: 1, voltage: 1 }, own), bypass),
      );
    }
    if (rest > 0) series.push(model(rest, level));
    const strongest = strongestOf(this.model) * Math.max(level.current, 1) * 1.05;
    return { parts: series, cable: cable + (setting.cable ?? 0), strongest };
  }

  /** What a part that passed is wrong by, the level that was taken from it is wrong by too, in its share. */
  #levelError({ level = {}, part }: Setting): Partial<Scale> {
    const { parts } = this.input.level;
    if (!part || !parts.includes(part.which)) return level;
    const share = lengthOf(part.which) / parts.reduce((sum, each) => sum + lengthOf(each), 0);
    const { current = 0, voltage = 0 } = part.scale;
    return { current: share * current, voltage: share * voltage };
  }
}

const movedBy = (
  { current, voltage }: Scale,
  error: { current?: number | undefined; voltage?: number | undefined },
): Scale => ({
  current: current * (1 + (error.current ?? 0)),
  voltage: voltage * (1 + (error.voltage ?? 0)),
});

function errorsOf({ opening, parts, level, cableUncertainty }: ComposerInput): Setting[] {
  return [
    { level: { current: level.uncertainty.current } },
    { level: { voltage: level.uncertainty.voltage } },
    { fresh: nameplateTolerance(opening) },
    { bypass: bypassUncertainty },
    { outside: outsideUncertainty },
    ...(cableUncertainty > 0 ? [{ cable: cableUncertainty }] : []),
    ...parts.flatMap((which): Setting[] => {
      const { current, voltage } = scaleUncertainty(which.sweep, opening);
      return [{ part: { which, scale: { current } } }, { part: { which, scale: { voltage } } }];
    }),
  ];
}

function opposite({ level, fresh, part, bypass, outside, cable }: Setting): Setting {
  const minus = (scale: Partial<Scale>): Partial<Scale> => ({
    current: -(scale.current ?? 0),
    voltage: -(scale.voltage ?? 0),
  });
  return {
    ...(level ? { level: minus(level) } : {}),
    ...(part ? { part: { which: part.which, scale: minus(part.scale) } } : {}),
    fresh: -(fresh ?? 0),
    bypass: -(bypass ?? 0),
    outside: -(outside ?? 0),
    cable: -(cable ?? 0),
  };
}
