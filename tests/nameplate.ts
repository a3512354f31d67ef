/** The nameplate of an invented module of 54 cells, as lines of its block, for tests that are about something else. */
export const nameplatePoints = `  Isc 13.90 A
  Voc 37.20 V
  Imp 13.09 A
  Vmp 31.20 V
`;

export const nameplateCoefficients = `  alpha 6.3 mA/K
  beta -0.27 %/K
  gamma -0.35 %/K
`;

export const nameplate = `  technology mono-Si
  cells 54
  Pmax 408.4 W
${nameplatePoints}${nameplateCoefficients}`;

/** The same in full: Pmax is Imp times Vmp to the last digit, so that a simulated curve meets it. */
export const wholeNameplate = `  technology mono-Si
  cells 54
  substrings 3
  Pmax 408.408 W ± 3 %
  Isc 13.9 A
  Voc 37.2 V
  Imp 13.09 A
  Vmp 31.2 V
  alpha 0.045 %/K
  beta -0.27 %/K
  gamma -0.35 %/K
`;
