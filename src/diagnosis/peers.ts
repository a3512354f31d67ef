/** The strings measured beside a sweep: which count, and what they usually read in the numbers that a diagnosis works with. */
import type { SweepTarget } from '../campaign/model.js';
import { onceFor } from '../text/onceFor.js';

/** Fewer peers than this are no company. */
export const leastPeers = 3;
/** Light is alike where it differs by less than this, as a fraction: cells warm with it. */
export const likeLight = 0.15;

/** Strings keep company that are of one module type and day; undefined for what has no type. */
export const companyKey = onceFor(
  ({ target, time }: { readonly target: SweepTarget; readonly time?: string }) =>
    target.module && JSON.stringify([target.module.name.text, time?.slice(0, 10)]),
);

/** A usual value with the scatter of a single one around it (k = 1). */
export interface Usual {
  readonly value: number;
  readonly scatter: number;
}

/** Rounded, so that a change of one peer that moves nothing is no change. */
export interface Peers {
  readonly count: number;
  /** ln of measured over expected photocurrent. */
  readonly current: Usual;
  /** By how much warmer than given the cells would be for the voltage to fit, K. */
  readonly kelvin: Usual;
  /** More than the nameplate's model has, in units of Vmp over Imp and of its inverse. */
  readonly resistance: Usual;
  readonly conductance: Usual;
  /** Relative change of the thermal voltage with Voc kept. */
  readonly rounding: Usual;
  /** Cell temperature given for peers in like light, degC; undefined where there are too few. */
  readonly temperature?: Usual;
}
