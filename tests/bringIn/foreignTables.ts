/** Six layouts as programs of this world might write them, all invented, over the same curve of a string of 18 modules. */
import { curve, latin1, utf16, utf8, type Point } from '../sweeps/fixtures.js';

export const points: readonly Point[] = curve(90, 11.2, 640);

const comma = (value: number, digits: number): string => value.toFixed(digits).replace('.', ',');
const table = (lines: readonly string[], eol = '\n'): string => lines.join(eol) + eol;

/** Semicolons, decimal comma, 14 lines above the header, Latin-1. */
export const fourteenLines = latin1(
  table(
    [
      'Messprotokoll;',
      'Gerät;Kennlinie 4',
      'Seriennummer;00417',
      'Firmware;2.11',
      'Kalibrierdatum;12.01.2026',
      'Kalibrierung gültig bis;12.01.2027',
      'Anlage;Harrow Fen',
      'Strang;1.03',
      'Datum;14.05.2026',
      'Uhrzeit;11:42:10',
      'Einstrahlung;812,5 W/m²',
      'Umgebungstemperatur;19,5 °C',
      'Zelltemperatur;44,1 °C',
      '',
      'Spannung [V];Strom [A]',
      ...points.map(({ v, i }) => `${comma(v, 2)};${comma(i, 3)}`),
    ],
    '\r\n',
  ),
);

/** Tabs, milliamperes, from open circuit to short circuit, a row of units, keys with colons in comments. */
export const tabsReversed = utf8(
  table([
    '# String: 1.04',
    '# Measured at time: 2026-05-14T11:55:00+01:00',
    '# G = 0.8153 kW/m2',
    '# T_mod: 41.2 °C',
    'U\tI\tP',
    'V\tmA\tW',
    ...[...points]
      .reverse()
      .map(({ v, i }) => `${v.toFixed(2)}\t${(1000 * i).toFixed(0)}\t${(v * i).toFixed(1)}`),
  ]),
);

/** Commas, irradiance and cell temperature per point, the time of each row, negative current. */
export const columnsPerPoint = utf8(
  table([
    'Timestamp,String,Voltage (V),Current (A),Irradiance (W/m2),T_cell (°C)',
    ...points.map(
      ({ v, i }, at) =>
        `2026-05-14 12:${at < 60 ? '10' : '11'}:${String(at % 60).padStart(2, '0')},1.05,${v.toFixed(2)},${(-i).toFixed(3)},${(820 + at / 50).toFixed(1)},44.${at % 10}`,
    ),
  ]),
);

/** Month names, a module temperature without a word for it in columns, bars between fields, UTF-16. */
export const barsAndMonthName = utf16(
  table(
    [
      'Cadena|1.06',
      'Fecha y hora|14 mayo 2026 12:24',
      'Irradiancia (W/m²)|826',
      'Temperatura (°C)|45.3',
      '',
      'Tensión (V)|Corriente (A)',
      ...points.map(({ v, i }) => `${v.toFixed(3)}|${i.toFixed(4)}`),
    ],
    '\r\n',
  ),
  true,
);

/** No words that are known over the columns, and none above: only a layout can tell. */
export const unknownHeaders = utf8(
  table([
    'n;x1;x2;x3',
    ...points.map(({ v, i }, at) => `${at};${comma(i, 3)};${comma(v, 2)};${comma(v * i, 1)}`),
  ]),
);

/** Days in slashes, the month first, a time with PM. */
export const slashes = (date: string, string: string): Uint8Array =>
  utf8(
    table([
      `Device,${string}`,
      `Date/Time,${date} 1:05 PM`,
      'Irradiance,815,W/m2',
      'Cell temperature,44.4,degC',
      'V (V),I (A)',
      ...points.map(({ v, i }) => `${v.toFixed(2)},${i.toFixed(3)}`),
    ]),
  );
