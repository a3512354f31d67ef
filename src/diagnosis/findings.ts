/** What differs from the expected curve, in the categories of the standards, each with its numbers. */
import type { Finding } from './diagnosis.js';
import { weakGroups } from './causes.js';
import type { Expectation } from './expectation.js';
import { describe, described } from './describe.js';
import type { Tried } from './hypothesis.js';
import { figure, percent, plain, withUncertainty } from './words.js';

/** Said from this many standard deviations on, of the fit and of what the inputs leave open together. */
const significant = 2.5;

export function findingsOf(e: Expectation, best: Tried): Finding[] {
  const stepped = best.own.some(({ name }) => name === 'share');
  const { values, errors } = stepped ? describe(e, 'voltage', best) : described(e, 'voltage');
  const { expected, entered, alone, sweep } = e;
  const open = (name: 'current' | 'voltage' | 'resistance' | 'conductance' | 'rounding'): number =>
    Math.hypot(errors[name], alone[name].deviation);
  const standsOut = (name: 'current' | 'voltage' | 'resistance' | 'conductance' | 'rounding'): boolean =>
    Math.abs(values[name] - alone[name].mean) > significant * open(name);
  const findings: Finding[] = stepped ? stepFindings(e, best) : [];
  const first = { voltage: sweep.voltage[0]!, current: sweep.current[0]! };
  const last = { voltage: sweep.voltage.at(-1)!, current: sweep.current.at(-1)! };
  if (standsOut('current')) {
    const change = Math.expm1(values.current);
    findings.push({
      kind: change < 0 ? 'low current' : 'high current',
      text: `The current near V = 0 is ${percent(Math.abs(change), errors.current)} ${change < 0 ? 'below' : 'above'} the ${plain(expected.isc)} A expected.`,
      figures: [figure('current at V = 0', 100 * change, '%', 100 * errors.current)],
      at: first,
    });
  }
  const kelvin = 0.003 * alone.temperature.deviation;
  if (Math.abs(values.voltage) > significant * Math.hypot(open('voltage'), kelvin)) {
    const volts = values.voltage * expected.voc;
    const substrings = -values.voltage * entered.modules * entered.substrings;
    const worth = values.voltage < 0 ? ` (${substrings.toFixed(1)} substrings' worth)` : '';
    findings.push({
      kind: volts < 0 ? 'low voltage' : 'high voltage',
      text: `The voltage near I = 0 is ${withUncertainty(Math.abs(volts), errors.voltage * expected.voc, 'V')}${worth} ${volts < 0 ? 'below' : 'above'} the ${plain(expected.voc)} V expected.`,
      figures: [
        figure('voltage at I = 0', volts, 'V', errors.voltage * expected.voc),
        ...(volts < 0 ? [figure("substrings' worth", substrings, '')] : []),
      ],
      at: last,
    });
  }
  if (standsOut('resistance'))
    findings.push({
      kind: 'slope of the vertical leg',
      text: `The vertical leg is ${values.resistance > 0 ? 'flatter' : 'steeper'} than expected, by ${withUncertainty(Math.abs(values.resistance), errors.resistance, 'ohm')}.`,
      figures: [figure('added series resistance', values.resistance, 'ohm', errors.resistance)],
      at: last,
    });
  if (standsOut('conductance'))
    findings.push({
      kind: 'slope of the horizontal leg',
      text: `The horizontal leg falls ${values.conductance > 0 ? 'faster' : 'slower'} than expected, by ${withUncertainty(1000 * Math.abs(values.conductance), 1000 * errors.conductance, 'mS')}.`,
      figures: [
        figure('added shunt conductance', 1000 * values.conductance, 'mS', 1000 * errors.conductance),
      ],
      at: first,
    });
  if (standsOut('rounding') && values.rounding > 0)
    findings.push({
      kind: 'rounded knee',
      text: `The knee is rounder than series and shunt resistance explain, as with a thermal voltage ${percent(values.rounding, errors.rounding)} larger.`,
      figures: [figure('thermal voltage', 100 * values.rounding, '%', 100 * errors.rounding)],
      at: { voltage: sweep.landmarks.vmp, current: sweep.landmarks.imp },
    });
  return findings;
}

function stepFindings({ sweep, expected, entered }: Expectation, best: Tried): Finding[] {
  const width = expected.vmp / (entered.modules * entered.substrings);
  return weakGroups(best).map(({ count, share }): Finding => {
    const level = share.value * sweep.landmarks.isc;
    let k = 0;
    while (k < sweep.current.length - 1 && sweep.current[k]! > level) k++;
    return {
      kind: 'step',
      text: `A step at ${plain(level)} A and ${plain(sweep.voltage[k]!)} V: above that current the voltage of ${count.value < 1.5 ? 'one substring' : `${plain(count.value)} substrings`} (about ${plain(count.value * width)} V) is missing.`,
      figures: [
        figure('current of the step', level, 'A', share.error * sweep.landmarks.isc),
        figure('width of the step', count.value * width, 'V'),
        figure('substrings', count.value, '', count.error),
      ],
      at: { voltage: sweep.voltage[k]!, current: sweep.current[k]! },
    };
  });
}
