/**
 * Invented module types of an invented maker, described by what their cells are made of. What is printed on their labels is
 * computed from it (label.ts), as a maker would measure it.
 */
import type { Avalanche, Cell } from './cell.js';
import { electronVolt, kelvin } from './constants.js';

export interface ModuleType {
  readonly name: string;
  readonly title: string;
  readonly technology: 'mono-Si' | 'multi-Si';
  /** Cells that count in series. */
  readonly cells: number;
  readonly substrings: number;
  /** Two halves in parallel behind each bypass diode, of cells cut in two. */
  readonly halfCut: boolean;
  /** Of a whole cell at 1000 W/m2 and 25 degC. */
  readonly cell: WholeCell;
}

export interface WholeCell {
  /** A. */
  readonly photocurrent: number;
  /** V, open circuit. */
  readonly voc: number;
  readonly ideality: number;
  /** Ohm. */
  readonly series: number;
  /** Ohm at 1000 W/m2. */
  readonly shunt: number;
  /** Of the photocurrent, 1/K. */
  readonly alpha: number;
}

/**
 * Reverse breakdown of a silicon cell as in the shading example of pvlib (docs/examples/shading, "Calculating power loss from
 * partial module shading"): factor 2e-3, exponent 3, -15 V.
 */
export const avalanche: Avalanche = { share: 2e-3, voltage: -15, exponent: 3 };

export const moduleTypes = {
  KF108H: {
    name: 'KF108H',
    title: 'Kestrel Foundry 108H',
    technology: 'mono-Si',
    cells: 54,
    substrings: 3,
    halfCut: true,
    cell: { photocurrent: 13.9, voc: 0.689, ideality: 1, series: 0.003, shunt: 40, alpha: 0.00045 },
  },
  KF132H: {
    name: 'KF132H',
    title: 'Kestrel Foundry 132H',
    technology: 'mono-Si',
    cells: 66,
    substrings: 3,
    halfCut: true,
    cell: { photocurrent: 13.85, voc: 0.691, ideality: 1, series: 0.0031, shunt: 35, alpha: 0.00045 },
  },
  KF72M: {
    name: 'KF72M',
    title: 'Kestrel Foundry 72M',
    technology: 'mono-Si',
    cells: 72,
    substrings: 3,
    halfCut: false,
    cell: { photocurrent: 9.75, voc: 0.664, ideality: 1.01, series: 0.0045, shunt: 25, alpha: 0.0005 },
  },
  KF60P: {
    name: 'KF60P',
    title: 'Kestrel Foundry 60P',
    technology: 'multi-Si',
    cells: 60,
    substrings: 3,
    halfCut: false,
    cell: { photocurrent: 9.3, voc: 0.636, ideality: 1.02, series: 0.005, shunt: 15, alpha: 0.00055 },
  },
} as const satisfies Record<string, ModuleType>;

export type ModuleTypeName = keyof typeof moduleTypes;
export const moduleTypeNames = Object.keys(moduleTypes) as ModuleTypeName[];

/** How one piece differs from its type: factors on photocurrent, open-circuit voltage and series resistance. */
export interface Piece {
  readonly photocurrent: number;
  readonly voc: number;
  readonly series: number;
}

export const asTheType: Piece = { photocurrent: 1, voc: 1, series: 1 };

/** Band gap of silicon at 25 degC, eV, and its fall with temperature, 1/K: as in De Soto et al., Solar Energy 80 (2006) 78-88. */
const bandGap = 1.121;
const bandGapFall = 0.0002677;

/**
 * A cell at irradiance in W/m2 and temperature in degC, after De Soto, Klein, Beckman, Solar Energy 80 (2006) 78-88: photocurrent
 * with irradiance and alpha; saturation with T^3 and the band gap; shunt inverse to irradiance; series resistance as it is.
 */
export function cellOf(type: ModuleType, piece: Piece, irradiance: number, temperature: number): Cell {
  const { photocurrent, voc, ideality, series, shunt, alpha } = type.cell;
  const reference = electronVolt(25);
  const now = electronVolt(temperature);
  const share = type.halfCut ? 0.5 : 1;
  const open = voc * piece.voc;
  const saturation = (photocurrent - open / shunt) / Math.expm1(open / (ideality * reference));
  const gap = bandGap * (1 - bandGapFall * (temperature - 25));
  const warmer = (kelvin(temperature) / kelvin(25)) ** 3 * Math.exp(bandGap / reference - gap / now);
  const suns = irradiance / 1000;
  return {
    photocurrent: share * photocurrent * piece.photocurrent * suns * (1 + alpha * (temperature - 25)),
    saturation: share * saturation * warmer,
    thermal: ideality * now,
    series: (series * piece.series) / share,
    shunt: shunt / suns / share,
    defect: 0,
    avalanche,
  };
}
