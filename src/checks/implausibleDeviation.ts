import { mostAboveNameplate as most } from '../analysis/verdict.js';
import { propertyRange, sweepCheck, type CheckedSweep } from './check.js';
import { farFewerModules } from './modulesByVoltage.js';

export const implausibleDeviation = sweepCheck(
  'sweep/implausible-deviation',
  'A sweep delivers over 20 % more than its nameplate, or the voltage of far fewer modules: a wrong address, count, type or irradiance.',
  (sweep) => {
    if (sweep.analysis.verdict === 'void') return undefined;
    const { isc, voc } = sweep.analysis.deviation;
    if (voc !== undefined && voc > most) {
      const message = `Voc is ${above(voc)} the nameplate: is it the right address, count and type of modules, and the right file?`;
      return { range: propertyRange(sweep, 'data'), message };
    }
    const fewer = farFewerModules(sweep);
    if (fewer !== undefined) {
      const message = `${fewer}: is it the right address, count of modules and file?`;
      return { range: propertyRange(sweep, 'data'), message };
    }
    if (isc === undefined || isc <= most) return undefined;
    const message = `Isc is ${above(isc)} the nameplate: ${lightQuestion(sweep)}`;
    return { range: propertyRange(sweep, 'irradiance'), message };
  },
);

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
