/** What speaks for causes before their points do. The shares are the project's own. */
import type { CauseCode } from './diagnosis.js';

/**
 * Prior odds against a sound string, ln: what a measurement or an entry gets wrong happens oftener than a fault of like effect.
 */
export const priorOdds = {
  drift: -4.5,
  'temperature-wrong': -3,
  'irradiance-wrong': -4,
  'sensor-soiled': -3.6,
  'module-count-wrong': -3.5,
  'module-type-wrong': -4,
  soiling: -3,
  'partial-shade': -3.5,
  'module-low-current': -3.8,
  'substring-out': -3.5,
  'series-resistance': -3.5,
  shunt: -4,
  degraded: -6,
} as const;

/** Of each cause at work: ln of its prior share, and of what else speaks for it beside the points. Empty: a sound string. */
export type Odds = Readonly<Partial<Record<CauseCode, number>>>;

/** A damaged module has several faults together about ten times as often as chance would have it; own choice. */
const company = Math.log(10);

const ofOneModule: ReadonlySet<string> = new Set<CauseCode>([
  'substring-out',
  'module-low-current',
  'partial-shade',
  'series-resistance',
]);

/** ln of the prior share of all of them together. */
export function weightOf(odds: Odds): number {
  const together = Object.keys(odds).filter((code) => ofOneModule.has(code)).length;
  return Object.values(odds).reduce((sum, each) => sum + each, 0) + company * Math.max(0, together - 1);
}
