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
  /** Of Rs and kappa: declared on the nameplate, or estimated from it. */
  rsDeclared: 0.05,
  rsEstimated: 0.15,
  kappaDeclared: 0.1,
  /** Of the irradiance coefficients of procedure 2. */
  b1: 0.1,
  /** Of Pmax, for what the translation procedure itself leaves over within 700 to 1100 W/m2; see tests/accuracy. */
  procedure: 0.001,
} as const;
