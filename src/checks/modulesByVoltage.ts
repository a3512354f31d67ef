import type { CheckedSweep } from './check.js';

/** Voc falls by about this fraction per kelvin on crystalline silicon (common practice, no source); a count needs no better. */
const typicalBeta = -0.0027;

/**
 * How many of the declared modules the open-circuit voltage is that of, as a number with a fraction. From the curve as
 * measured, since the translation of a curve with far too few modules is wrong by itself. Undefined where Voc is not known.
 */
export function modulesByVoltage({
  analysis: { measured, nameplate, conditions },
  target,
}: Pick<CheckedSweep, 'analysis' | 'target'>): number | undefined {
  const [voc, whole] = [measured?.parameters.voc, nameplate?.voc];
  const { seriesModules } = target;
  if (voc === undefined || whole === undefined || seriesModules === undefined) return undefined;
  const warmer = (conditions.cellTemperature ?? 25) - 25;
  return (voc / (whole * (1 + typicalBeta * warmer))) * seriesModules;
}

/** Faults do not take this part of the voltage of several modules in series before address and file are doubted. */
const farTooFew = 0.75;

/** The count of modules that the voltage is that of, where it is far below the one declared. */
export function farFewerModules(sweep: Pick<CheckedSweep, 'analysis' | 'target'>): string | undefined {
  const modules = modulesByVoltage(sweep);
  const declared = sweep.target.seriesModules ?? 1;
  if (modules === undefined || declared < 2 || modules > farTooFew * declared) return undefined;
  return `Voc is about that of ${Math.round(modules)} of the ${declared} modules declared`;
}
