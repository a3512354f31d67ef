import { moduleScience } from '../analysis/moduleScience.js';
import {
  notJudged,
  type ElectricalFigure,
  type ElectricalReason,
  type Judged,
  type TakenTest,
} from './electricalTest.js';
import { ohms, ohmsBeside, plain } from './numberWords.js';
import {
  insulationRule,
  leastOfAll,
  powerOfTable,
  systemVoltageOf,
  type InsulationRule,
} from './systemVoltage.js';

/**
 * Insulation resistance to earth: too low fails whatever the test voltage was; high enough passes only at the test voltage that
 * the system voltage asks for. The larger of the table's least and that of the criteria counts.
 */
export function judgeInsulation(test: TakenTest): Judged {
  const { record, target } = test;
  const resistance = record.resistance?.value;
  if (resistance === undefined)
    return notJudged('no-reading', 'There is no reading: write `resistance 42 Mohm`.');
  const systemVoltage = systemVoltageOf(target);
  const rule = systemVoltage === undefined ? undefined : insulationRule(systemVoltage);
  const agreed = target.criteria?.insulation?.least?.value;
  const least = Math.max(rule?.leastResistance ?? leastOfAll, agreed ?? 0);
  const asked = leastText(least, agreed, rule, systemVoltage);
  const figures: ElectricalFigure[] = [
    {
      name: 'resistance',
      value: resistance,
      unit: 'ohm',
      least: rule || agreed !== undefined ? least : undefined,
    },
    ...testVoltageFigure(test, rule),
  ];
  if (resistance < least) {
    const text = `${ohmsBeside(resistance, least)} to earth is below ${asked}.`;
    return {
      verdict: 'fail',
      reasons: [{ code: 'insulation-low', text, decisive: true }, ...largeArray(test)],
      figures,
      danger: dangerText(record.address.text, resistance),
    };
  }
  const doubt = doubtOf(test, rule);
  if (doubt) return { verdict: 'not judged', reasons: [doubt], figures };
  const text = `${ohmsBeside(resistance, least)} to earth; at least ${asked}.`;
  return {
    verdict: 'pass',
    reasons: [{ code: 'insulation-holds', text, decisive: false }, ...onePole(test)],
    figures,
  };
}

function leastText(
  least: number,
  agreed: number | undefined,
  rule: InsulationRule | undefined,
  systemVoltage: number | undefined,
): string {
  if (agreed !== undefined && agreed >= (rule?.leastResistance ?? 0))
    return `${ohms(least, 6)} of the criteria`;
  if (systemVoltage === undefined) return `${ohms(least)}, the least at any system voltage (IEC 62446-1)`;
  return `${ohms(least)} at a system voltage of ${plain(Math.round(systemVoltage))} V (IEC 62446-1; 1.25 times Voc at STC)`;
}

function testVoltageFigure({ record }: TakenTest, rule: InsulationRule | undefined): ElectricalFigure[] {
  const value = record.testVoltage?.value;
  return value === undefined ? [] : [{ name: 'test voltage', value, unit: 'V', least: rule?.testVoltage }];
}

/** Why a resistance that is high enough still proves nothing. */
function doubtOf(
  { record, target }: TakenTest,
  rule: InsulationRule | undefined,
): ElectricalReason | undefined {
  const reason = (code: string, text: string): ElectricalReason => ({ code, text, decisive: true });
  if (!rule)
    return reason(
      'no-system-voltage',
      `The system voltage is not known: ${target.module ? 'the string needs its number of modules, and the module its Voc' : 'the string names no module type that is described'}.`,
    );
  const voltage = record.testVoltage?.value;
  if (voltage === undefined)
    return reason(
      'no-test-voltage',
      `The test voltage is not written; ${rule.testVoltage} V is asked for here.`,
    );
  if (voltage < rule.testVoltage)
    return reason(
      'test-voltage-low',
      `Taken at ${plain(voltage)} V, where the system voltage asks for ${rule.testVoltage} V (IEC 62446-1).`,
    );
  return undefined;
}

/** The table is meant for small arrays; a large one may be low as a whole while each part is sound. */
function largeArray({ target }: TakenTest): ElectricalReason[] {
  const pmax = target.module && moduleScience(target.module).nameplate.pmax;
  if (pmax === undefined || target.seriesModules === undefined || target.parallelStrings < 2) return [];
  const power = pmax * target.seriesModules * target.parallelStrings;
  if (power <= powerOfTable) return [];
  const text = `${plain(power / 1000)} kW were tested at once; the limit is that of 10 kW and less. Repeat it with fewer strings together.`;
  return [{ code: 'insulation-divide', text, decisive: false }];
}

function onePole({ record }: TakenTest): ElectricalReason[] {
  if (record.pole !== 'positive' && record.pole !== 'negative') return [];
  const other = record.pole === 'positive' ? 'negative' : 'positive';
  const text = `The ${record.pole} pole alone: the ${other} one is a test of its own.`;
  return [{ code: 'one-pole', text, decisive: false }];
}

const dangerText = (address: string, resistance: number): string =>
  `Insulation of ${address} is ${ohms(resistance)}: frames, structure and cables may be live, up to 1500 V DC in daylight. ` +
  'Touch nothing that is not proven dead, keep others away, and let a qualified person isolate it and find the place; local codes come first.';
