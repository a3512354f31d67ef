import type { Technology } from '../campaign/model.js';

/**
 * Standard uncertainties (k = 1) that a budget takes where nothing is declared. Datasheets state coefficients without
 * uncertainty; these figures are common practice, no source, and each stands as a line of the budget so that a reader sees
 * what rests on it.
 */
export const assumedTolerances = {
  /** Of the nameplate's temperature coefficients, as fractions of their value. */
  alpha: 0.1,
  beta: 0.03,
  gamma: 0.03,
  /** From the model of the nameplate: over the CEC rows in tests/physics/data it is up to 3.5 % off the listed gamma. */
  gammaEstimated: 0.05,
  /** Of Rs and kappa: declared on the nameplate, or estimated from it. */
  rsDeclared: 0.05,
  rsEstimated: 0.15,
  kappaDeclared: 0.1,
  /** Of the irradiance coefficients of procedure 2. */
  b1: 0.1,
  /**
   * What the translation procedure itself leaves over from 800 W/m2 and within 30 K of STC, as fractions. The largest errors
   * against exact models of nine modules (tests/analysis/chain.test.ts), taken as half-widths of rectangular distributions,
   * that is divided by the square root of 3.
   */
  procedure: {
    crystalline: {
      1: { isc: 0.0006, voc: 0.0035, imp: 0.001, vmp: 0.0017, pmax: 0.0017 },
      2: { isc: 0.0006, voc: 0.0006, imp: 0.001, vmp: 0.0017, pmax: 0.0017 },
    },
    /** Weak shunts: Isc is less than proportional to irradiance, and one Rs does not serve both Pmax and Voc. */
    thinFilm: {
      1: { isc: 0.0035, voc: 0.01, imp: 0.0035, vmp: 0.006, pmax: 0.006 },
      2: { isc: 0.0035, voc: 0.0017, imp: 0.0035, vmp: 0.006, pmax: 0.006 },
    },
  },
} as const;

const crystalline: ReadonlySet<Technology | undefined> = new Set([
  undefined,
  'mono-Si',
  'multi-Si',
  'HJT',
  'GaAs',
]);

/** A module of unknown technology counts as crystalline. */
export function procedureResidual(procedure: 1 | 2, technology: Technology | undefined) {
  return assumedTolerances.procedure[crystalline.has(technology) ? 'crystalline' : 'thinFilm'][procedure];
}
