/** Results as short lines to stand behind the text of a campaign, in a diff that git shows: one for each thing that has a verdict. */
import type { Evaluation } from '../evaluation/evaluation.js';
import { electricalItems } from './electricalModel.js';
import { formatDeviation, formatDeviationUncertainty, formatToUncertainty, missing } from './formatNumber.js';
import { deviationUncertainty, sweepTitle } from './sweepTexts.js';

/** In the order of the campaign; of the cases those in which a fault is or was known. */
export function resultComments(evaluation: Evaluation): string[] {
  return [
    ...evaluation.sweeps.map((sweep) => {
      const { translated, deviation, uncertainty, verdict } = sweep.analysis;
      const value = translated?.parameters.pmax;
      if (value === undefined) return `${sweepTitle(sweep)}: ${verdict}`;
      const spread = formatDeviationUncertainty(deviationUncertainty(uncertainty.pmax, deviation.pmax));
      const from = `${formatDeviation(deviation.pmax)}${spread === missing ? '' : ` ${spread}`}`;
      const pmax = formatToUncertainty(value, uncertainty.pmax, 'W');
      return `${sweepTitle(sweep)}: ${verdict}, Pmax at STC ${pmax}, ${from} from nameplate`;
    }),
    ...electricalItems(evaluation).map(
      ({ kind, address, time, reading, verdict }) =>
        `${kind} ${address} at ${time}: ${verdict.verdict}, ${reading}`,
    ),
    ...evaluation.cases.flatMap(({ string, state }) =>
      state === 'sound' ? [] : [`case of string ${string}: ${state}`],
    ),
  ];
}
