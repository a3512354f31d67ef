/**
 * A failed string composed from the curves of its modules: does what was found explain what it lacks, what will it read with
 * sound modules in their places, and what does each suspect cost now?
 */
import type { ReplaceRecord } from '../campaign/model.js';
import type { CheckedSweep } from '../checks/check.js';
import type { Conditions, IvCurve } from '../physics/ivCurve.js';
import type { PeerGroup } from './peers.js';
import type { MeasuredPart } from './seriesParts.js';
import type { StringCase } from './stringCase.js';
import type { Level } from './stringLevel.js';

/** W, with its expanded uncertainty (k = 2), W. */
export interface Watts {
  readonly value: number;
  readonly uncertainty: number;
}

/** At the conditions of the failed sweep, at its place of measurement; and at STC, at the module terminals. */
export interface AtBoth {
  readonly atSweep: Watts;
  readonly atStandard: Watts;
}

export interface PartCost extends AtBoth {
  /** `1.03/11`, or a section none of whose modules was swept by itself. */
  readonly address: string;
  readonly first: number;
  readonly last: number;
  /** Substrings whose voltage its curve lacks; the others' coefficients brought it to the conditions of the string. */
  readonly substringsOut: number;
}

/**
 * `yes`: what was found and the deficit agree within the uncertainty. `in part`: more is lacking. `too much`: the string lacks
 * less than what was found should cost. `no`: what was found costs nothing that could be told.
 */
export type Explains = 'yes' | 'in part' | 'too much' | 'no';

export interface Forecast {
  /** Pmax at STC, W. */
  readonly pmax: Watts;
  /** From the nameplate, as a fraction, with its expanded uncertainty. */
  readonly deviation: number;
  readonly uncertainty: number;
  /** What was read once the modules were replaced. `difference`: read less forecast, W, with the uncertainty of both. */
  readonly read?: {
    readonly sweep: CheckedSweep;
    readonly pmax: number;
    readonly difference: Watts;
    readonly agrees: boolean;
  };
}

export interface Composition {
  readonly kind: 'composed';
  readonly string: string;
  /** The sweep of the whole string that is explained. */
  readonly opening: CheckedSweep;
  readonly conditions: Conditions;
  /** Sections and modules whose own curves were taken; the rest is the model of the nameplate at `level`. */
  readonly parts: readonly MeasuredPart[];
  readonly level: Level;
  /** As composed from what was measured, and with sound modules in place of the found ones, at `conditions`. */
  readonly curve: IvCurve;
  readonly healthy: IvCurve;
  /** What the string lacks against `healthy`; what the found modules explain of it; what is left over. */
  readonly deficit: AtBoth;
  readonly explained: AtBoth;
  readonly unexplained: AtBoth;
  readonly explains: Explains;
  /** What each suspect costs now: the string as it is against the same with a sound part in its place. */
  readonly costs: readonly PartCost[];
  readonly forecast: Forecast;
  /** One or two sentences. */
  readonly text: string;
}

/** Why nothing was composed; a full sentence. */
export interface NoComposition {
  readonly kind: 'none';
  readonly string: string;
  readonly reason: string;
}

export type CompositionResult = Composition | NoComposition;

export interface CompositionInput {
  readonly string: string;
  /** Of this string, whole and in parts, in reading order. */
  readonly sweeps: readonly CheckedSweep[];
  /** Of this string. */
  readonly replacements: readonly ReplaceRecord[];
  readonly peers?: PeerGroup | undefined;
  readonly case?: Pick<StringCase, 'modules' | 'openedBy'> | undefined;
}
