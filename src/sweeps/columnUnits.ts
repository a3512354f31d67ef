/**
 * Units of table columns. Recognised: V, mV, kV, uV; A, mA, kA, uA; W/m2 in its usual spellings, kW/m2, mW/cm2; degC,
 * K, degF; and, to be told apart from those, units of power, resistance, time, angle, and percent.
 */
export type ColumnDimension = 'voltage' | 'current' | 'irradiance' | 'temperature' | 'other';

/** canonical = written × factor + offset, in V, A, W/m2, degC. */
export interface ColumnUnit {
  readonly text: string;
  readonly dimension: ColumnDimension;
  readonly factor: number;
  readonly offset: number;
}

const canonicalUnits: Readonly<Record<Exclude<ColumnDimension, 'other'>, string>> = {
  voltage: 'V',
  current: 'A',
  irradiance: 'W/m2',
  temperature: 'degC',
};

type Row = readonly [string, ColumnDimension, number, number?];

const rows: readonly Row[] = [
  ['V', 'voltage', 1],
  ['v', 'voltage', 1],
  ['Volt', 'voltage', 1],
  ['Volts', 'voltage', 1],
  ['VDC', 'voltage', 1],
  ['mV', 'voltage', 1e-3],
  ['mv', 'voltage', 1e-3],
  ['uV', 'voltage', 1e-6],
  ['kV', 'voltage', 1e3],
  ['kv', 'voltage', 1e3],
  ['KV', 'voltage', 1e3],
  ['A', 'current', 1],
  ['a', 'current', 1],
  ['Amp', 'current', 1],
  ['Amps', 'current', 1],
  ['Ampere', 'current', 1],
  ['Amperes', 'current', 1],
  ['ADC', 'current', 1],
  ['mA', 'current', 1e-3],
  ['ma', 'current', 1e-3],
  ['uA', 'current', 1e-6],
  ['kA', 'current', 1e3],
  ['W/m2', 'irradiance', 1],
  ['W/m^2', 'irradiance', 1],
  ['W/m**2', 'irradiance', 1],
  ['W/sqm', 'irradiance', 1],
  ['Wm-2', 'irradiance', 1],
  ['W.m-2', 'irradiance', 1],
  ['Wm^-2', 'irradiance', 1],
  ['W.m^-2', 'irradiance', 1],
  ['W*m-2', 'irradiance', 1],
  ['W*m^-2', 'irradiance', 1],
  ['kW/m2', 'irradiance', 1e3],
  ['kW/m^2', 'irradiance', 1e3],
  ['mW/cm2', 'irradiance', 10],
  ['mW/cm^2', 'irradiance', 10],
  ['degC', 'temperature', 1],
  ['°C', 'temperature', 1],
  ['ºC', 'temperature', 1],
  ['℃', 'temperature', 1],
  ['C', 'temperature', 1],
  ['Celsius', 'temperature', 1],
  ['K', 'temperature', 1, -273.15],
  ['Kelvin', 'temperature', 1, -273.15],
  ['degF', 'temperature', 5 / 9, -160 / 9],
  ['°F', 'temperature', 5 / 9, -160 / 9],
  ...[
    'W',
    'mW',
    'kW',
    'ohm',
    'Ohm',
    'Ω',
    'mohm',
    'kohm',
    's',
    'ms',
    'us',
    'min',
    'h',
    '%',
    'deg',
    '°',
    '#',
    '-',
  ].map((text): Row => [text, 'other', 1]),
];

const units: ReadonlyMap<string, ColumnUnit> = new Map(
  rows.map(([text, dimension, factor, offset = 0]) => [text, { text, dimension, factor, offset }]),
);

/** Brackets and spaces around the unit are let go; `²`, `µ`, `·` are read as `2`, `u`, `.`. */
export function findUnit(written: string): ColumnUnit | undefined {
  if (written.length > 24) return undefined;
  const text = written
    .replace(/[[\](){}<>\s"]/g, '')
    .replace(/²/g, '2')
    .replace(/⁻/g, '-')
    .replace(/[µμ]/g, 'u')
    .replace(/[·⋅]/g, '.')
    .replace(/¹/g, '1');
  return units.get(text);
}

export function canonicalUnit(dimension: Exclude<ColumnDimension, 'other'>): ColumnUnit {
  return units.get(canonicalUnits[dimension])!;
}

/** The units a reader may write for a dimension, for messages. */
export const unitChoices: Readonly<Record<Exclude<ColumnDimension, 'other'>, string>> = {
  voltage: 'V, mV or kV',
  current: 'A or mA',
  irradiance: 'W/m2 or kW/m2',
  temperature: 'degC or K',
};
