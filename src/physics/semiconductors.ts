/** What the diode model has to know of a semiconductor. */

/** Cell technologies, by the words of the notation. */
export type Semiconductor =
  'mono-Si' | 'multi-Si' | 'HJT' | 'a-Si' | 'CdTe' | 'CIGS' | 'CIS' | 'GaAs' | 'perovskite';

export interface BandGap {
  /** Band gap at 25 degC, eV. */
  readonly energy: number;
  /** Change with temperature, 1/K of `energy`. */
  readonly temperatureCoefficient: number;
}

const silicon: BandGap = { energy: 1.121, temperatureCoefficient: -0.0002677 };

/**
 * Band gap for the auxiliary equations of De Soto et al. (2006). Values as documented in pvlib
 * `pvsystem.calcparams_desoto`. Not given there: the temperature coefficient of CIGS, for which that of CIS stands; a-Si
 * and perovskite, for which silicon stands, as the CEC module table does for each of its thin films.
 */
export function bandGapOf(technology: Semiconductor | undefined): BandGap {
  switch (technology) {
    case 'CdTe':
      return { energy: 1.475, temperatureCoefficient: -0.0003 };
    case 'CIS':
      return { energy: 1.01, temperatureCoefficient: -0.00011 };
    case 'CIGS':
      return { energy: 1.15, temperatureCoefficient: -0.00011 };
    case 'GaAs':
      return { energy: 1.424, temperatureCoefficient: -0.000433 };
    default:
      return silicon;
  }
}

/**
 * Median temperature coefficients of a technology, 1/K, relative to Isc and Voc at STC: medians of the CEC module table
 * of 2017-06-05 (pvlib-python 0.6.0). GaAs and perovskite are not in that table; mono-Si stands for them.
 */
export function medianCoefficients(technology: Semiconductor | undefined): { alpha: number; beta: number } {
  switch (technology) {
    case 'multi-Si':
      return { alpha: 0.00058, beta: -0.00339 };
    case 'HJT':
      return { alpha: 0.00036, beta: -0.0024 };
    case 'CdTe':
      return { alpha: 0.00043, beta: -0.00263 };
    case 'CIGS':
      return { alpha: 0.00007, beta: -0.0033 };
    case 'CIS':
      return { alpha: 0.0001, beta: -0.0033 };
    case 'a-Si':
      return { alpha: 0.00088, beta: -0.00349 };
    default:
      return { alpha: 0.0005, beta: -0.0034 };
  }
}
