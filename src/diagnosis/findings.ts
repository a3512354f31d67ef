/** What differs from the expected curve, in the categories of the standards, each with its numbers. */
import type { Finding } from './diagnosis.js';
import { weakGroups } from './causes.js';
import type { Expectation, Prior } from './expectation.js';
import { describe, described } from './describe.js';
import type { Tried } from './hypothesis.js';
import { figure, percent, plain, standardWords, withUncertainty } from './words.js';

/** Said from this many standard deviations on, of the fit and of what the inputs leave open together. */
const significant = 2.5;

type Level = 'current' | 'voltage' | 'resistance' | 'conductance' | 'rounding';

export function findingsOf(e: Expectation, best: Tried): Finding[] {
  const stepped = best.own.some(({ name }) => name === 'share');
  const { out = 0 } = best.hypothesis.state?.() ?? {};
  const { values, errors } = stepped || out > 0 ? describe(e, 'voltage', best) : described(e, 'voltage');
  const working = 1 - out / (e.entered.modules * e.entered.substrings);
  const { expected, entered, priors, perKelvin, sweep } = e;
  // The description holds the temperature as given, so what is known of it is known of the voltage.
  const usual: Readonly<Record<Level, Prior>> = {
    ...priors,
    voltage: {
      mean: -perKelvin * priors.temperature.mean,
      deviation: Math.hypot(priors.voltage.deviation, perKelvin * priors.temperature.deviation),
    },
  };
  // What is out is part of the voltage that lacks, not of the slopes.
  const found = { ...values, voltage: (1 + values.voltage) * working - 1 };
  const beyond = (name: Level): number => found[name] - usual[name].mean;
  const standsOut = (name: Level): boolean =>
    Math.abs(beyond(name)) > significant * Math.hypot(errors[name], usual[name].deviation);
  const beside = standardWords(e);
  const findings: Finding[] = stepped ? stepFindings(e, best) : [];
  const first = { voltage: sweep.voltage[0]!, current: sweep.current[0]! };
  const last = { voltage: sweep.voltage.at(-1)!, current: sweep.current.at(-1)! };
  if (standsOut('current')) {
    const change = Math.expm1(beyond('current'));
    const level = expected.isc * Math.exp(usual.current.mean);
    findings.push({
      kind: change < 0 ? 'low current' : 'high current',
      text: `The current near V = 0 is ${percent(Math.abs(change), errors.current)} ${change < 0 ? 'below' : 'above'} the ${plain(level)} A ${beside}.`,
      figures: [figure('current at V = 0', 100 * change, '%', 100 * errors.current)],
      at: first,
    });
  }
  if (standsOut('voltage')) {
    const volts = beyond('voltage') * expected.voc;
    const substrings = -beyond('voltage') * entered.modules * entered.substrings;
    const worth = volts < 0 ? ` (${substrings.toFixed(1)} substrings' worth)` : '';
    const level = expected.voc * (1 + usual.voltage.mean);
    findings.push({
      kind: volts < 0 ? 'low voltage' : 'high voltage',
      text: `The voltage near I = 0 is ${withUncertainty(Math.abs(volts), errors.voltage * expected.voc, 'V')}${worth} ${volts < 0 ? 'below' : 'above'} the ${plain(level)} V ${beside}.`,
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
      text: `The vertical leg is ${beyond('resistance') > 0 ? 'flatter' : 'steeper'} than ${beside}, by ${withUncertainty(Math.abs(beyond('resistance')), errors.resistance, 'ohm')}.`,
      figures: [figure('added series resistance', beyond('resistance'), 'ohm', errors.resistance)],
      at: last,
    });
  if (standsOut('conductance'))
    findings.push({
      kind: 'slope of the horizontal leg',
      text: `The horizontal leg falls ${beyond('conductance') > 0 ? 'faster' : 'slower'} than ${beside}, by ${withUncertainty(1000 * Math.abs(beyond('conductance')), 1000 * errors.conductance, 'mS')}.`,
      figures: [
        figure('added shunt conductance', 1000 * beyond('conductance'), 'mS', 1000 * errors.conductance),
      ],
      at: first,
    });
  if (standsOut('rounding') && beyond('rounding') > 0)
    findings.push({
      kind: 'rounded knee',
      text: `The knee is rounder than series and shunt resistance explain, as with a thermal voltage ${percent(beyond('rounding'), errors.rounding)} larger.`,
      figures: [figure('thermal voltage', 100 * beyond('rounding'), '%', 100 * errors.rounding)],
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
