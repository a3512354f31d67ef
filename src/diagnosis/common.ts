/** What all strings of a day have in common: a level that is off in each of them is no fault of one. */
import { causeIn, type Sentence } from './causes.js';
import type { Cause } from './diagnosis.js';
import type { Expectation } from './expectation.js';
import { logNormal } from './hypothesis.js';
import { priorOdds } from './odds.js';
import type { Peers, Usual } from './peers.js';
import { figure, percent, withUncertainty } from './words.js';

type CommonCode = 'sensor-soiled' | 'irradiance-wrong' | 'soiling' | 'temperature-wrong';

export interface CommonLevel {
  readonly code: CommonCode;
  readonly level: 'current' | 'voltage';
  readonly share: number;
}

/** Shares of the causes that the usual levels of the peers speak for; their rest is that nothing is in common. */
export function commonLevels({ input: { peers, analysis }, alone, perKelvin }: Expectation): CommonLevel[] {
  if (!peers) return [];
  const { current, kelvin } = peers;
  const usualCurrent = Math.hypot(alone.current.deviation, errorOf(current, peers));
  const usualKelvin = Math.hypot(
    alone.temperature.deviation,
    alone.voltage.deviation / perKelvin,
    errorOf(kelvin, peers),
  );
  const wideCurrent = (spread: number): number => logNormal(current.value, spread);
  const ofCurrent = logNormal(current.value, usualCurrent);
  const list: [CommonCode, number][] =
    current.value > 0
      ? [
          ['sensor-soiled', priorOdds['sensor-soiled'] + Math.LN2 + wideCurrent(0.08)],
          ['irradiance-wrong', priorOdds['irradiance-wrong'] + wideCurrent(0.1)],
        ]
      : [
          ['soiling', priorOdds.soiling + Math.LN2 + wideCurrent(0.1)],
          ['irradiance-wrong', priorOdds['irradiance-wrong'] + wideCurrent(0.1)],
        ];
  const byCurrent = shares('current', list, ofCurrent);
  if (analysis.conditions.temperatureSource === 'voc') return byCurrent;
  const byVoltage = shares(
    'voltage',
    [['temperature-wrong', priorOdds['temperature-wrong'] + logNormal(kelvin.value, 12)]],
    logNormal(kelvin.value, usualKelvin),
  );
  return [...byCurrent, ...byVoltage];
}

/** Of the mean of the peers, k = 1. */
const errorOf = ({ scatter }: Usual, { count }: Peers): number => scatter / Math.sqrt(count);

function shares(
  level: CommonLevel['level'],
  list: readonly [CommonCode, number][],
  nothing: number,
): CommonLevel[] {
  const most = Math.max(nothing, ...list.map(([, evidence]) => evidence));
  const total = list.reduce((sum, [, each]) => sum + Math.exp(each - most), Math.exp(nothing - most));
  return list.map(([code, each]) => ({ code, level, share: Math.exp(each - most) / total }));
}

/**
 * In the figures of the others, whatever this string reads: it may lack for itself what they have too much.
 * @param alike this string reads as they do
 */
export function commonCause({ code, share }: CommonLevel, alike: boolean, e: Expectation): Cause {
  const { text, ...rest } = sentences[code](e.input.peers!);
  return causeIn(code, share, { ...rest, text: alike ? `${text} This string reads alike.` : text });
}

const sentences: Readonly<Record<CommonCode, (peers: Peers) => Sentence>> = {
  'sensor-soiled': (peers) => ({
    text: `The current of the ${peers.count} other strings is ${currentText(peers)} above what the irradiance given makes: the sensor sees too little light.`,
    figures: [currentFigure('current of the others above expectation', peers)],
    tellApart:
      'Wipe the irradiance sensor, see that it lies in the plane of the array and in no shadow, and repeat one sweep.',
  }),
  'irradiance-wrong': (peers) => ({
    text: `The current of the ${peers.count} other strings fits ${currentText(peers)} ${peers.current.value > 0 ? 'more' : 'less'} irradiance than given.`,
    figures: [currentFigure('true over given irradiance of the others, less 1', peers)],
    tellApart:
      'Repeat one sweep with the sensor wiped and in the plane of the array, read at the moment of the sweep; a second sensor settles it.',
  }),
  soiling: (peers) => ({
    text: `The current of the ${peers.count} other strings lacks ${currentText(peers)} throughout, as under even soiling.`,
    figures: [currentFigure('loss of current of the others', peers, -1)],
    tellApart:
      'Look at the glass; clean one string and repeat its sweep. If nothing changes, doubt the irradiance sensor.',
  }),
  'temperature-wrong': (peers) => {
    const { value } = peers.kelvin;
    const error = errorOf(peers.kelvin, peers);
    return {
      text: `The voltage of the ${peers.count} other strings fits cells ${withUncertainty(Math.abs(value), error, 'K')} ${value > 0 ? 'above' : 'below'} the temperatures given.`,
      figures: [figure('true less given cell temperature of the others', value, 'K', error)],
      tellApart:
        'See whether the temperature sensor, the count and the type of the modules and Voc of the nameplate are right: all strings share them.',
    };
  },
};

const currentText = (peers: Peers): string =>
  percent(Math.abs(Math.expm1(peers.current.value)), errorOf(peers.current, peers));

const currentFigure = (name: string, peers: Peers, sign = 1) =>
  figure(name, sign * 100 * Math.expm1(peers.current.value), '%', 100 * errorOf(peers.current, peers));
