/** What the points of a photovoltaic generator can look like. The limits here are common practice, no source. */
import { brief, warning } from './readingProblems.js';
import type { OrderedPoints } from './sweepPoints.js';
import type { ReadingProblem } from './sweepReading.js';

const highestVoltage = 2000;
const highestCurrent = 1000;
/** Even one cell in poor light reaches more than this. */
const lowestTopVoltage = 0.1;

interface Peak {
  readonly at: number;
  readonly power: number;
  readonly firstPower: number;
  readonly lastPower: number;
}

function peakOf({ voltage, current }: OrderedPoints): Peak {
  let at = 0;
  for (let k = 1; k < voltage.length; k++)
    if (voltage[k]! * current[k]! > voltage[at]! * current[at]!) at = k;
  const end = voltage.length - 1;
  return {
    at,
    power: voltage[at]! * current[at]!,
    firstPower: voltage[0]! * current[0]!,
    lastPower: voltage[end]! * current[end]!,
  };
}

/**
 * Are these a current against a voltage with the names exchanged? Only said when three things agree: the "current"
 * reaches at least twice the "voltage"; the "voltage" is more than a cell or two give; and the maximum power point lies
 * at a larger part of the "voltage" than of the "current". (Vmp/Voc is near 0.8, Imp/Isc near 0.94, for sound modules
 * of every common technology; the exponential knee makes the current side the flatter one.)
 */
export function looksSwapped(points: OrderedPoints): boolean {
  const top = points.voltage[points.voltage.length - 1]!;
  let highest = 0;
  for (const value of points.current) if (value > highest) highest = value;
  if (top <= 2 || highest < 2 * top) return false;
  const peak = peakOf(points);
  if (peak.power <= 0 || peak.lastPower > 0.9 * peak.power || peak.firstPower > 0.9 * peak.power)
    return false;
  return points.voltage[peak.at]! / top - points.current[peak.at]! / highest > 0.03;
}

/** One warning for voltage and one for current that no photovoltaic string has. */
export function checkMagnitudes({ voltage, current, lines }: OrderedPoints): ReadingProblem[] {
  const problems: ReadingProblem[] = [];
  const end = voltage.length - 1;
  const far = Math.abs(voltage[0]!) > Math.abs(voltage[end]!) ? 0 : end;
  if (Math.abs(voltage[far]!) > highestVoltage) {
    const message = `A voltage of ${brief(voltage[far]!)} V is beyond any photovoltaic string (${highestVoltage} V); are these mV?`;
    problems.push(warning('implausible-voltage', message, { line: lines[far]! }));
  } else if (Math.abs(voltage[far]!) < lowestTopVoltage) {
    const message = `The voltage reaches only ${brief(voltage[far]!)} V, less than one cell gives; is the unit, or the decimal sign, right?`;
    problems.push(warning('implausible-voltage', message, { line: lines[far]! }));
  }
  let most = 0;
  for (let k = 1; k <= end; k++) if (Math.abs(current[k]!) > Math.abs(current[most]!)) most = k;
  if (Math.abs(current[most]!) > highestCurrent) {
    const message = `A current of ${brief(current[most]!)} A is beyond any photovoltaic string (${highestCurrent} A); are these mA?`;
    problems.push(warning('implausible-current', message, { line: lines[most]! }));
  }
  return problems;
}

/** Power within 2 % of its maximum at either end: the maximum power point is not enclosed by the points. */
export function checkCoverage(points: OrderedPoints): ReadingProblem[] {
  const { voltage, lines } = points;
  const peak = peakOf(points);
  const end = voltage.length - 1;
  if (peak.power <= 0) return [];
  if (peak.lastPower >= 0.98 * peak.power) {
    const message = `The sweep ends at ${brief(voltage[end]!)} V with power still rising, before the maximum power point; Pmax and Voc are not in the data.`;
    return [warning('ends-before-maximum-power', message, { line: lines[end]! })];
  }
  if (peak.firstPower >= 0.98 * peak.power) {
    const message = `The sweep begins at ${brief(voltage[0]!)} V, beyond the maximum power point; Pmax and Isc are not in the data.`;
    return [warning('begins-after-maximum-power', message, { line: lines[0]! })];
  }
  return [];
}
