/**
 * One cell with two terminals: single diode with series and shunt resistance, and the avalanche term in reverse. Both
 * current and voltage are explicit in the voltage of the junction, so no equation is solved to draw a curve.
 *
 * J. W. Bishop, "Computer simulation of the effects of electrical mismatches in photovoltaic cell interconnection
 * circuits", Solar Cells 25 (1988) 73-89: the current through the shunt grows by 1 + a (1 - u/Vbr)^-m, Vbr below zero.
 */
export interface Cell {
  /** A. */
  readonly photocurrent: number;
  /** A. */
  readonly saturation: number;
  /** Ideality factor times kT/q, V. */
  readonly thermal: number;
  /** Ohm. */
  readonly series: number;
  /** Ohm, with the avalanche term on it. */
  readonly shunt: number;
  /** Siemens: a second, ohmic path across the junction; 0 in a sound cell. */
  readonly defect: number;
  readonly avalanche: Avalanche;
}

export interface Avalanche {
  /** a of Bishop's equation. */
  readonly share: number;
  /** Vbr, V, below zero. */
  readonly voltage: number;
  /** m. */
  readonly exponent: number;
}

/** No cell of a module comes further; the breakdown voltage itself is a pole of the equation. */
const closestToBreakdown = 0.999;
/** In thermal voltages: the diode alone takes more there than any cell gives. */
const highestJunction = 45;

/** A, at a voltage of the junction in V; falls as the voltage rises. */
export function currentAt(cell: Cell, junction: number): number {
  const { share, voltage, exponent } = cell.avalanche;
  const multiplied = share === 0 ? 1 : 1 + share * Math.pow(1 - junction / voltage, -exponent);
  return (
    cell.photocurrent -
    cell.saturation * Math.expm1(junction / cell.thermal) -
    (junction / cell.shunt) * multiplied -
    junction * cell.defect
  );
}

/**
 * V of the junction at which this current in A flows. The current falls steadily with the voltage, so a bracket cannot lose
 * the root; Newton's steps are taken where they stay inside it. `near` is where to begin.
 */
export function junctionAt(cell: Cell, current: number, near = 0): number {
  let low = cell.avalanche.voltage * closestToBreakdown;
  let high = highestJunction * cell.thermal;
  let junction = Math.min(Math.max(near, low), high);
  for (let step = 0; step < 60; step++) {
    const miss = currentAt(cell, junction) - current;
    if (miss > 0) low = junction;
    else high = junction;
    const next = junction + miss / -slopeAt(cell, junction);
    const wanted = next > low && next < high ? next : (low + high) / 2;
    if (Math.abs(wanted - junction) < 1e-9) return wanted;
    junction = wanted;
  }
  return junction;
}

/** dI/du, A/V; below zero everywhere. */
function slopeAt(cell: Cell, junction: number): number {
  const { share, voltage, exponent } = cell.avalanche;
  const base = 1 - junction / voltage;
  const power = share === 0 ? 0 : share * Math.pow(base, -exponent);
  const multiplied = 1 + power + (power * exponent * (junction / voltage)) / base;
  return (
    -(cell.saturation / cell.thermal) * Math.exp(junction / cell.thermal) -
    multiplied / cell.shunt -
    cell.defect
  );
}

/** V between the terminals of the cell, when its junction has this voltage and this current in A flows. */
export const terminalVoltage = (cell: Cell, junction: number, current: number): number =>
  junction - current * cell.series;
