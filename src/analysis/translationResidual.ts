/** What a translation procedure itself leaves over, by how far it reaches: a line of every uncertainty budget. */
import type { Technology } from '../campaign/model.js';
import { standardTestConditions, type Conditions } from '../physics/ivCurve.js';

/** As fractions of the parameters. FF follows from the others. */
export interface Residual {
  readonly isc: number;
  readonly voc: number;
  readonly imp: number;
  readonly vmp: number;
  readonly pmax: number;
}

/** The largest errors found, %: 800 to 1200 W/m2 within 30 K of STC; 400 W/m2 within 30 K; 800 to 1200 W/m2 at 40 K. */
interface LargestErrors {
  readonly near: Residual;
  readonly dark: Residual;
  readonly hot: Residual;
}

export type ResidualProcedure = 1 | 2 | 3 | 'junction';

/**
 * Against exact models of nine modules, as tests/accuracy/residual.test.ts finds them for procedures 1 and 2 with exact
 * coefficients (estimates have lines of their own); of procedure 3 as in tests/analysis/procedure3.test.ts, over up to 600
 * W/m2, and of the voltage-temperature relation beside its ideality factor as in tests/analysis/junctionProcedure.test.ts.
 * Those two grow with the temperature step in proportion; the irradiance step of the relation is one of procedure 1.
 */
const largestErrors = {
  crystalline: {
    1: {
      near: { isc: 0.06, voc: 0.33, imp: 0.65, vmp: 0.39, pmax: 0.45 },
      dark: { isc: 0.18, voc: 0.74, imp: 1.95, vmp: 0.78, pmax: 1.2 },
      hot: { isc: 0.06, voc: 0.41, imp: 0.75, vmp: 0.5, pmax: 0.51 },
    },
    2: {
      near: { isc: 0.06, voc: 0.08, imp: 0.27, vmp: 0.57, pmax: 0.4 },
      dark: { isc: 0.18, voc: 0.19, imp: 0.39, vmp: 0.79, pmax: 1.06 },
      hot: { isc: 0.06, voc: 0.17, imp: 0.36, vmp: 0.75, pmax: 0.64 },
    },
    3: {
      near: { isc: 0.1, voc: 0.43, imp: 0.35, vmp: 0.35, pmax: 0.43 },
      dark: { isc: 0.1, voc: 0.43, imp: 0.35, vmp: 0.35, pmax: 0.43 },
      hot: { isc: 0.13, voc: 0.57, imp: 0.47, vmp: 0.47, pmax: 0.57 },
    },
    junction: {
      near: { isc: 0.1, voc: 0.7, imp: 0.35, vmp: 0.52, pmax: 0.52 },
      dark: { isc: 0.22, voc: 1.11, imp: 1.65, vmp: 0.91, pmax: 1.27 },
      hot: { isc: 0.13, voc: 0.93, imp: 0.47, vmp: 0.7, pmax: 0.7 },
    },
  },
  /** Weak shunts: Isc is less than proportional to irradiance, and one Rs does not serve both Pmax and Voc. */
  thinFilm: {
    1: {
      near: { isc: 0.54, voc: 1.32, imp: 3.45, vmp: 3.06, pmax: 0.5 },
      dark: { isc: 1.62, voc: 3.86, imp: 7.42, vmp: 6.77, pmax: 1.62 },
      hot: { isc: 0.54, voc: 1.37, imp: 4, vmp: 3.45, pmax: 0.86 },
    },
    2: {
      near: { isc: 0.54, voc: 0.08, imp: 1.3, vmp: 1.32, pmax: 0.3 },
      dark: { isc: 1.62, voc: 0.19, imp: 1.83, vmp: 1.52, pmax: 0.9 },
      hot: { isc: 0.54, voc: 0.18, imp: 1.7, vmp: 1.73, pmax: 0.52 },
    },
    3: {
      near: { isc: 0.6, voc: 0.6, imp: 0.6, vmp: 1, pmax: 1 },
      dark: { isc: 0.6, voc: 0.6, imp: 0.6, vmp: 1, pmax: 1 },
      hot: { isc: 0.8, voc: 0.8, imp: 0.8, vmp: 1.4, pmax: 1.4 },
    },
  },
} as const satisfies Record<string, Partial<Record<ResidualProcedure, LargestErrors>>>;

const crystalline: ReadonlySet<Technology | undefined> = new Set([
  undefined,
  'mono-Si',
  'multi-Si',
  'HJT',
  'GaAs',
]);

/** A module of unknown technology counts as crystalline. */
function largestErrorsOf(procedure: ResidualProcedure, technology: Technology | undefined): LargestErrors {
  if (procedure === 'junction' || crystalline.has(technology)) return largestErrors.crystalline[procedure];
  return largestErrors.thinFilm[procedure];
}

/**
 * The largest error to be expected of each parameter, as a fraction, of a translation from these conditions to STC. Up to 200
 * W/m2 and 30 K away it is that of the table; beyond, it grows in a straight line through 600 W/m2 and 40 K, as the errors do.
 */
export function largestTranslationErrors(
  procedure: ResidualProcedure,
  technology: Technology | undefined,
  from: Conditions,
): Residual {
  const { near, dark, hot } = largestErrorsOf(procedure, technology);
  const { irradiance, cellTemperature } = standardTestConditions;
  const farLight = Math.max(0, (Math.abs(from.irradiance - irradiance) - 200) / 400);
  const farHeat = Math.max(0, (Math.abs(from.cellTemperature - cellTemperature) - 30) / 10);
  const at = (name: keyof Residual): number =>
    (near[name] + (dark[name] - near[name]) * farLight + (hot[name] - near[name]) * farHeat) / 100;
  return { isc: at('isc'), voc: at('voc'), imp: at('imp'), vmp: at('vmp'), pmax: at('pmax') };
}

/** Standard uncertainties (k = 1): the largest errors as half-widths of rectangles, JCGM 100:2008 clause 4.3.7. */
export function translationResidual(
  procedure: ResidualProcedure,
  technology: Technology | undefined,
  from: Conditions,
): Residual {
  const most = largestTranslationErrors(procedure, technology, from);
  const of = (name: keyof Residual): number => most[name] / Math.sqrt(3);
  return { isc: of('isc'), voc: of('voc'), imp: of('imp'), vmp: of('vmp'), pmax: of('pmax') };
}

/** Does one weak shunt belong to the technology? Then B1 from the nameplate is less certain too. */
export const isThinFilm = (technology: Technology | undefined): boolean => !crystalline.has(technology);
