import { propertyRange, sweepWarnings, type Check } from './check.js';

/** No module delivers this much more than its nameplate, as a fraction; the limit is the project's own. */
const most = 0.2;

export const implausibleDeviation: Check = {
  id: 'sweep/implausible-deviation',
  says: 'A sweep delivers over 20 % more than its nameplate: a wrong address, count, type or irradiance.',
  run: ({ sweeps }) =>
    sweepWarnings(implausibleDeviation.id, sweeps, (sweep) => {
      const { analysis } = sweep;
      const { isc, voc } = analysis.deviation;
      if (analysis.verdict === 'void') return undefined;
      const tooMuch = (deviation: number | undefined): boolean => deviation !== undefined && deviation > most;
      if (!tooMuch(isc) && !tooMuch(voc)) return undefined;
      const percent = (100 * (tooMuch(voc) ? voc! : isc!)).toFixed(0);
      const message = tooMuch(voc)
        ? `Voc is ${percent} % above the nameplate: is it the right address, count and type of modules, and the right file?`
        : `Isc is ${percent} % above the nameplate: is the irradiance right, and are there strings in parallel?`;
      return { range: propertyRange(sweep, tooMuch(voc) ? 'data' : 'irradiance'), message };
    }),
};
