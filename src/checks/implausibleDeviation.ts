import { propertyRange, sweepWarnings, type Check, type CheckedSweep } from './check.js';

/** No module delivers this much more than its nameplate, as a fraction; the limit is the project's own. */
const most = 0.2;
/** Several modules in series do not lose this part of their voltage to faults before the address is doubted. */
const leastVoltage = -0.25;

export const implausibleDeviation: Check = {
  id: 'sweep/implausible-deviation',
  says: 'A sweep delivers over 20 % more than its nameplate, or the voltage of far fewer modules: a wrong address, count, type or irradiance.',
  run: ({ sweeps }) =>
    sweepWarnings(implausibleDeviation.id, sweeps, (sweep) => {
      if (sweep.analysis.verdict === 'void') return undefined;
      const { isc } = sweep.analysis.deviation;
      const voc = voltageDeviation(sweep.analysis);
      if (voc !== undefined && voc > most) {
        const message = `Voc is ${above(voc)} the nameplate: is it the right address, count and type of modules, and the right file?`;
        return { range: propertyRange(sweep, 'data'), message };
      }
      const series = sweep.target.seriesModules ?? 1;
      if (voc !== undefined && voc < leastVoltage && series > 1) {
        const message = `Voc is about that of ${Math.round((1 + voc) * series)} of the ${series} modules declared: is it the right address, count of modules and file?`;
        return { range: propertyRange(sweep, 'data'), message };
      }
      if (isc === undefined || isc <= most) return undefined;
      const message = `Isc is ${above(isc)} the nameplate: ${lightQuestion(sweep)}`;
      return { range: propertyRange(sweep, 'irradiance'), message };
    }),
};

/** That at STC, else that of the curve as measured, which heat lowers by far less than is doubted here. */
function voltageDeviation({ deviation, measured, nameplate }: CheckedSweep['analysis']): number | undefined {
  const [voc, whole] = [measured?.parameters.voc, nameplate?.voc];
  return deviation.voc ?? (voc !== undefined && whole !== undefined ? voc / whole - 1 : undefined);
}

/** `35 % above`, `998 times`. */
function above(deviation: number): string {
  return deviation < 2 ? `${(100 * deviation).toFixed(0)} % above` : `${(1 + deviation).toFixed(0)} times`;
}

/** An irradiance of a few W/m2 is most likely one in kW/m2. */
function lightQuestion({ analysis }: CheckedSweep): string {
  const { irradiance } = analysis.conditions;
  return irradiance !== undefined && irradiance < 2
    ? `is the irradiance in kW/m2, that is ${(irradiance * 1000).toPrecision(3)} W/m2?`
    : 'is the irradiance right, and are there strings in parallel?';
}
