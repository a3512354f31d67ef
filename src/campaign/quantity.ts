import type { Range } from '../text/place.js';

/**
 * The dimensions the notation knows. Canonical units, used everywhere inside: V, A, W, ohm, W/m2, degC (a point on the
 * scale), K (a difference), m, m2 (cross-section), deg (angle), s, 1 (fraction; `5 %` is 0.05), 1/K, V/K, A/K, W/K, ohm/K,
 * 1/a (per year).
 */
export type Dimension =
  | 'voltage'
  | 'current'
  | 'power'
  | 'resistance'
  | 'irradiance'
  | 'temperature'
  | 'temperatureDifference'
  | 'length'
  | 'area'
  | 'angle'
  | 'duration'
  | 'fraction'
  | 'fractionPerKelvin'
  | 'voltagePerKelvin'
  | 'currentPerKelvin'
  | 'powerPerKelvin'
  | 'resistancePerKelvin'
  | 'fractionPerYear';

/** An uncertainty as written after `±`: expanded, with its coverage factor (2 unless `k=1` is written). */
export interface Uncertainty {
  /** In the canonical unit of the quantity, or as a fraction of it when `relative`. Never negative. */
  readonly value: number;
  readonly relative: boolean;
  readonly coverageFactor: number;
}

/** A tolerance of production as written behind a nameplate value: `-0 % .. 3 %`. Fractions of the value, `least <= 0 <= most`. */
export interface Tolerance {
  readonly least: number;
  readonly most: number;
}

/** A physical number as written, and in its canonical unit. */
export interface Quantity {
  /** In the canonical unit of `dimension`. Finite. */
  readonly value: number;
  readonly dimension: Dimension;
  /** As written in the text, for example `mA/K`. */
  readonly unit: string;
  readonly writtenValue: number;
  readonly uncertainty?: Uncertainty;
  /** In the place of the uncertainty, where a nameplate gives a range. */
  readonly tolerance?: Tolerance;
  /** Block-relative range of number and unit. */
  readonly range: Range;
}

/** Open on either side: `-5 % ..`, `.. 45 deg`, `-3 % .. 3 %`. A bare quantity is not a limit. */
export interface Limits {
  readonly least?: Quantity;
  readonly most?: Quantity;
  readonly range: Range;
}

/** Standard uncertainty (k = 1) in canonical units of `quantity`; undefined when none was written. */
export function standardUncertainty(quantity: Quantity): number | undefined {
  const written = quantity.uncertainty;
  if (!written) return undefined;
  const expanded = written.relative ? Math.abs(quantity.value) * written.value : written.value;
  return expanded / written.coverageFactor;
}
