/** What the strings measured beside a sweep usually read, in the numbers that a diagnosis works with. */

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
