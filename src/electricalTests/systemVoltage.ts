/** What an insulation test is taken at and held against, by the system voltage of the string. */
import { moduleScience } from '../analysis/moduleScience.js';
import type { SweepTarget } from '../campaign/model.js';

/**
 * Factor on the string's Voc at STC that gives the system voltage of the table below: it stands for the coldest day, since a
 * campaign declares no lowest temperature. IEC 62446-1, head of the table of insulation resistance; from memory, not confirmed.
 */
const systemVoltageFactor = 1.25;

/** System voltage, V: Voc at STC of the modules in series times `systemVoltageFactor`. Undefined where either is not known. */
export function systemVoltageOf({ module, seriesModules }: SweepTarget): number | undefined {
  const voc = module && moduleScience(module).nameplate.voc;
  return voc === undefined || seriesModules === undefined
    ? undefined
    : voc * seriesModules * systemVoltageFactor;
}

export interface InsulationRule {
  /** V. */
  readonly testVoltage: number;
  /** ohm. */
  readonly leastResistance: number;
}

/**
 * IEC 62446-1:2016, table of minimum insulation resistance, both test methods; from memory, not confirmed. A voltage on a border
 * belongs to the lower row, save 120 V.
 */
const rows: readonly (InsulationRule & { readonly below: (systemVoltage: number) => boolean })[] = [
  { below: (voltage) => voltage < 120, testVoltage: 250, leastResistance: 0.5e6 },
  { below: (voltage) => voltage <= 500, testVoltage: 500, leastResistance: 1e6 },
  { below: (voltage) => voltage <= 1000, testVoltage: 1000, leastResistance: 1e6 },
  { below: () => true, testVoltage: 1500, leastResistance: 1e6 },
];

export function insulationRule(systemVoltage: number): InsulationRule {
  return rows.find((row) => row.below(systemVoltage))!;
}

/** Less than any row of the table allows, ohm. */
export const leastOfAll = Math.min(...rows.map((row) => row.leastResistance));

/** The table holds up to this power behind the terminals, W; beyond, the standard divides the array. From memory, not confirmed. */
export const powerOfTable = 10_000;
