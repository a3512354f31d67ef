/** What a meter should read at the conditions of the reading, by the nameplate. */
import { moduleScience } from '../analysis/moduleScience.js';
import type { SweepTarget, SweepTemperature } from '../campaign/model.js';
import { cellFromModuleTemperature } from '../physics/cellTemperature.js';
import { deviceCoefficients, irradianceFactor } from '../physics/deviceCoefficients.js';
import type { TakenTest } from './electricalTest.js';

export interface Expected {
  readonly voc?: number;
  readonly isc?: number;
  /** Why there is none: what is missing, as half a sentence. */
  readonly missing?: string;
}

/** At irradiance G and cell temperature T, of the whole device:
 *
 *     Isc = [Isc,STC + alpha (T - 25)] G/1000
 *     Voc = Voc,STC [1/f(G) + beta_rel f(G) (T - 25)]
 *
 * IEC 60891:2021, procedure 2 at I = 0 and at V = 0, from memory, not confirmed; coefficients that the nameplate does not give are
 * estimated as they are for sweeps.
 */
export function expectedReading({ record, target }: TakenTest): Expected {
  const { module, seriesModules: series, parallelStrings: parallel } = target;
  if (!module || series === undefined) return { missing: 'the module type and the number of modules' };
  const science = moduleScience(module);
  const known = science.procedures?.[2] ?? science.procedures?.junction;
  if (!known) return { missing: `${science.missing.join(', ')} of the nameplate` };
  const irradiance = record.irradiance?.value;
  const temperature = cellTemperature(record.temperature, irradiance);
  const absent = [
    ...(irradiance ? [] : ['the irradiance']),
    ...(temperature === undefined ? ['the temperature'] : []),
  ];
  if (absent.length > 0) return { missing: absent.join(' and ') };
  const device = deviceCoefficients(known.coefficients, series, parallel);
  const f = irradianceFactor(device, irradiance!);
  const warmer = temperature! - 25;
  return positive({
    isc: ((device.isc + device.alpha * warmer) * irradiance!) / 1000,
    voc: device.voc / f + device.beta * f * warmer,
  });
}

/** A temperature taken from Voc would make Voc its own witness. */
function cellTemperature(
  temperature: SweepTemperature | undefined,
  irradiance: number | undefined,
): number | undefined {
  if (!temperature || temperature.kind === 'voc') return undefined;
  if (temperature.kind === 'cell') return temperature.value.value;
  return irradiance === undefined
    ? undefined
    : cellFromModuleTemperature(temperature.value.value, irradiance, temperature.offset?.value);
}

/** Far outside what the coefficients are for, the formulas give nothing. */
function positive({ isc, voc }: { readonly isc: number; readonly voc: number }): Expected {
  return isc > 0 && voc > 0 ? { isc, voc } : { missing: 'conditions in which the nameplate still holds' };
}

/** Strings that should read alike under like conditions share this text; undefined where the device is not known. */
export function likeness(target: SweepTarget): string | undefined {
  const { module, seriesModules, parallelStrings, plane } = target;
  if (!module || seriesModules === undefined) return undefined;
  return JSON.stringify([module.name.text, seriesModules, parallelStrings, plane?.name.text]);
}
