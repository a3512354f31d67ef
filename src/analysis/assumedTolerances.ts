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
   * What the translation procedure itself leaves over from 800 W/m2 and within 30 K of STC, as fractions: the errors against
   * the exact model tabled in tests/accuracy, taken as the half-width of a rectangular distribution.
   */
  procedure: {
    1: { isc: 0.0003, voc: 0.0018, imp: 0.001, vmp: 0.001, pmax: 0.0006 },
    2: { isc: 0.0003, voc: 0.0006, imp: 0.0015, vmp: 0.0015, pmax: 0.002 },
  },
} as const;
