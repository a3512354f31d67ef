/** The composition of one failed string; what it is stands in composition.ts. */
import { atModuleTerminals } from '../analysis/cableCorrection.js';
import { differenceUncertainty, scatterAlone } from '../analysis/comparedSweeps.js';
import type { CheckedSweep } from '../checks/check.js';
import { standardTestConditions, type Conditions } from '../physics/ivCurve.js';
import { Composer, type Setting } from './composer.js';
import type {
  AtBoth,
  Composition,
  CompositionInput,
  CompositionResult,
  Explains,
  Forecast,
  NoComposition,
  PartCost,
  Watts,
} from './composition.js';
import { countercheckOf, isFailing, openingOf, partsOf } from './compositionParts.js';
import { compositionText } from './compositionText.js';
import { lengthOf } from './positions.js';
import type { MeasuredPart } from './seriesParts.js';
import { levelOf, type Level } from './stringLevel.js';

/** Undefined where no sweep of the whole string has failed and no case is open: there is nothing to explain. */
export function composeFailedString(input: CompositionInput): CompositionResult | undefined {
  const opening = openingOf(input);
  if (!opening) return undefined;
  const none = (reason: string): NoComposition => ({ kind: 'none', string: input.string, reason });
  const { target, analysis } = opening;
  const { irradiance, cellTemperature } = analysis.conditions;
  if (irradiance === undefined || cellTemperature === undefined)
    return none('The sweep of the string gives no irradiance or temperature to compose it at.');
  if (!analysis.translated || analysis.measured?.parameters.pmax === undefined)
    return none('The sweep of the string could not be translated, so what it lacks is not known.');
  if (target.parallelStrings > 1)
    return none('The sweep is that of several strings in parallel; measure each by itself.');
  const parts = partsOf(input, opening);
  const found = parts.filter((part) => isFound(part, input));
  if (found.length === 0)
    return none('No module or section of it was swept and found to be bad, so there is nothing to compose.');
  const cleared = parts.filter((part) => !found.includes(part) && /pass$/.test(part.sweep.analysis.verdict));
  const level = levelOf(opening, cleared, input.peers);
  const conditions = { irradiance, cellTemperature };
  const cable = atModuleTerminals(opening.reading!.curve, target);
  const resistance = cable.estimate?.value ?? 0;
  const common = { opening, parts, found, level };
  const atSweep = Composer.at({
    ...common,
    conditions,
    scale: level.atSweep,
    cable: resistance,
    cableUncertainty: cable.standardUncertainty ?? 0,
    measured: analysis.measured.parameters.pmax,
  });
  const atStandard = Composer.at({
    ...common,
    conditions: standardTestConditions,
    scale: level.atStandard,
    cable: 0,
    cableUncertainty: 0,
    measured: analysis.translated.parameters.pmax!,
  });
  if (!atSweep || !atStandard) return none('The nameplate has no single-diode model to stand for a module.');
  return composed(input, { ...common, conditions, atSweep, atStandard });
}

/** A part that fails, and a single module that the evidence speaks against. */
function isFound(part: MeasuredPart, input: CompositionInput): boolean {
  if (isFailing(part.sweep)) return true;
  if (lengthOf(part) > 1) return false;
  const status = input.case?.modules.find(({ position }) => position === part.first)?.status;
  return status === 'faulty' || status === 'suspect' || status === 'replaced';
}

interface Composing {
  readonly opening: CheckedSweep;
  readonly conditions: Conditions;
  readonly parts: readonly MeasuredPart[];
  readonly found: readonly MeasuredPart[];
  readonly level: Level;
  readonly atSweep: Composer;
  readonly atStandard: Composer;
}

function composed(input: CompositionInput, composing: Composing): Composition {
  const { opening, conditions, parts, found, level, atSweep, atStandard } = composing;
  const both = (of: (composer: Composer, setting: Setting) => number): AtBoth => ({
    atSweep: atSweep.value((setting) => of(atSweep, setting)),
    atStandard: atStandard.value((setting) => of(atStandard, setting)),
  });
  const nothing = new Set<MeasuredPart>();
  const mended = new Set(found);
  const explained = both((c, s) => c.power(mended, s) - c.power(nothing, s));
  const unexplained = both((c, s) => c.power(nothing, s) - c.measured);
  const deficit = both((c, s) => c.power(mended, s) - c.measured);
  const costs = found.map((part): PartCost => ({
    address: part.address,
    first: part.first,
    last: part.last,
    substringsOut: part.substringsOut,
    ...both((c, s) => c.power(new Set([part]), s) - c.power(nothing, s)),
  }));
  const whole = {
    kind: 'composed' as const,
    string: input.string,
    opening,
    conditions,
    parts,
    level,
    curve: atSweep.curve(nothing),
    healthy: atSweep.curve(mended),
    deficit,
    explained,
    unexplained,
    explains: explainsOf(explained.atSweep, unexplained.atSweep),
    costs,
    forecast: forecastOf(input, composing, explained.atStandard),
  };
  return { ...whole, text: compositionText(whole) };
}

function explainsOf(explained: Watts, unexplained: Watts): Explains {
  if (explained.value <= explained.uncertainty) return 'no';
  if (Math.abs(unexplained.value) <= unexplained.uncertainty) return 'yes';
  return unexplained.value > 0 ? 'in part' : 'too much';
}

/**
 * What was read of the string and what the found modules cost make the forecast, so what else it lacks stays in it. The string
 * is measured with the same instruments again, so the comparison is closer than the forecast itself.
 */
function forecastOf(input: CompositionInput, { opening, found }: Composing, gain: Watts): Forecast {
  const { translated, nameplate, uncertainty } = opening.analysis;
  const before = translated!.parameters.pmax!;
  const pmax = before + gain.value;
  const ofReading = (uncertainty.pmax ?? scatterAlone('session', 'pmax')) * before;
  const expanded = Math.hypot(ofReading, gain.uncertainty);
  const declared = nameplate!.pmax!;
  const sweep = countercheckOf(input, opening, found);
  const read = sweep?.analysis.translated?.parameters.pmax;
  return {
    pmax: { value: pmax, uncertainty: expanded },
    deviation: pmax / declared - 1,
    uncertainty: expanded / pmax,
    read: sweep && read !== undefined ? readingOf(sweep, read, pmax, opening, gain) : undefined,
  };
}

function readingOf(
  sweep: CheckedSweep,
  read: number,
  forecast: number,
  opening: CheckedSweep,
  gain: Watts,
): NonNullable<Forecast['read']> {
  const between =
    differenceUncertainty(opening, sweep, 'session')?.pmax?.whole ?? scatterAlone('session', 'pmax');
  const difference = {
    value: read - forecast,
    uncertainty: Math.hypot(between * forecast, gain.uncertainty),
  };
  return { sweep, pmax: read, difference, agrees: Math.abs(difference.value) <= difference.uncertainty };
}
