/** What all strings of a day have in common: a level that is off in each of them is no fault of one. */
import type { CauseCode } from './diagnosis.js';
import type { Expectation } from './expectation.js';
import { priorOdds } from './hypotheses.js';
import { logNormal } from './hypothesis.js';

export interface CommonLevel {
  readonly code: CauseCode;
  readonly level: 'current' | 'voltage';
  readonly share: number;
}

/** Shares of the causes that the usual levels of the peers speak for; their rest is that nothing is in common. */
export function commonLevels({ input: { peers, analysis }, alone, perKelvin }: Expectation): CommonLevel[] {
  if (!peers) return [];
  const { current, kelvin } = peers;
  const scatter = (usual: number): number => usual / Math.sqrt(peers.count);
  const usualCurrent = Math.hypot(alone.current.deviation, scatter(current.scatter));
  const usualKelvin = Math.hypot(
    alone.temperature.deviation,
    alone.voltage.deviation / perKelvin,
    scatter(kelvin.scatter),
  );
  const wideCurrent = (spread: number): number => logNormal(current.value, spread);
  const ofCurrent = logNormal(current.value, usualCurrent);
  const list: [CauseCode, number][] =
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

function shares(
  level: CommonLevel['level'],
  list: readonly [CauseCode, number][],
  nothing: number,
): CommonLevel[] {
  const most = Math.max(nothing, ...list.map(([, evidence]) => evidence));
  const total = list.reduce((sum, [, each]) => sum + Math.exp(each - most), Math.exp(nothing - most));
  return list.map(([code, each]) => ({ code, level, share: Math.exp(each - most) / total }));
}
