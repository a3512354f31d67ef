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
  /**
   * How far the mean of all cells may lie from the one place where the temperature was read, K: of several modules, whose edges
   * and middle differ, and of one, from cell to cell: rectangles of half-widths 1.5 K and 1 K. Common practice, no source.
   */
  temperatureSpread: { modules: 0.87, module: 0.58 },
  /**
   * Of the rear of a bifacial module: of its bifaciality, as a difference of fractions (0.05 as a rectangle), and of the rear
   * irradiance, which differs along a row and across a module, as a fraction of the reading. Common practice, no source.
   */
  bifaciality: 0.029,
  rearIrradiance: 0.1,
  /**
   * Of B1 of procedure 2. A thin film's is estimated by the band gap of its material; that of silicon, by which every row of the
   * CEC table was made, would give up to 30 % more (rectangle), and tests/accuracy shows what this does.
   */
  b1: 0.1,
  b1OfThinFilm: 0.17,
} as const;
