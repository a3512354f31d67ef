import type { Technology } from '../campaign/model.js';

/**
 * Standard uncertainties (k = 1) that a budget takes where nothing is declared. Datasheets state coefficients without
 * uncertainty; these figures are common practice, no source, and each stands as a line of the budget so that a reader sees
 * what rests on it.
 */
export const assumedTolerances = {
  /** Of the nameplate's temperature coefficients, as fractions of their value. */
  alpha: 0.1,
  /** The median of a technology: 5 to 95 % of the CEC list of 2017 lie between 0 and 0.12 %/K (rectangle, median 0.05 %/K). */
  alphaEstimated: 0.7,
  beta: 0.03,
  gamma: 0.03,
  /** From the model of the nameplate: over the CEC rows in tests/physics/data it is up to 3.5 % off the listed gamma. */
  gammaEstimated: 0.05,
  /** Of Rs and kappa: declared on the nameplate, or estimated from it. */
  rsDeclared: 0.05,
  rsEstimated: 0.15,
  kappaDeclared: 0.1,
  /**
   * Of the ideality factor n in the voltage-temperature relation. From the nameplate's own beta it leaves 1.2 % of Voc over
   * 30 K, since the band gap of the relation is not that of the model. Taken as 1 it adds a rectangle of half-width 0.12: the
   * crystalline modules in tests/physics/data have 0.965 to 1.089.
   */
  ideality: { taken: 0.09, fromBeta: 0.035 },
  /**
   * Of the Voc that a device has at STC where its temperature is had from Voc by the Voc of the nameplate, which declares no
   * tolerance, as a fraction: 1 % is about 3 to 4 K.
   */
  vocAtStandard: 0.01,
  /**
   * Of the difference between cell and back of module at 1000 W/m2, K, where none is written: SAND2004-3535 lists 0 to 3 K
   * (rectangle).
   */
  backOfModuleOffset: 0.9,
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
      /** Interpolation within its range, over up to 600 W/m2 and 30 K: tests/analysis/procedure3.test.ts. */
      3: { isc: 0.0006, voc: 0.0025, imp: 0.002, vmp: 0.002, pmax: 0.0025 },
      /** Beside the ideality factor, which has a line of its own: tests/analysis/junctionProcedure.test.ts. */
      junction: { isc: 0.0006, voc: 0.004, imp: 0.002, vmp: 0.003, pmax: 0.003 },
    },
    /** Weak shunts: Isc is less than proportional to irradiance, and one Rs does not serve both Pmax and Voc. */
    thinFilm: {
      1: { isc: 0.0035, voc: 0.01, imp: 0.0035, vmp: 0.006, pmax: 0.006 },
      2: { isc: 0.0035, voc: 0.0017, imp: 0.0035, vmp: 0.006, pmax: 0.006 },
      3: { isc: 0.0035, voc: 0.0035, imp: 0.0035, vmp: 0.006, pmax: 0.006 },
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
export function procedureResidual(procedure: 1 | 2 | 3 | 'junction', technology: Technology | undefined) {
  const { procedure: residuals } = assumedTolerances;
  if (procedure === 'junction' || crystalline.has(technology)) return residuals.crystalline[procedure];
  return residuals.thinFilm[procedure];
}
