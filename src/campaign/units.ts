/**
 * Units as people write them, and their conversion to the canonical units of quantity.ts. Names, symbols and prefixes
 * follow the SI Brochure (BIPM, 9th edition): kilo 1e3, mega 1e6, giga 1e9, milli 1e-3, micro 1e-6, centi 1e-2; 1 degC is
 * the size of 1 K; 1 deg is pi/180 rad; 1 min is 60 s, 1 h is 3600 s; percent is 0.01.
 */
import type { Dimension, Quantity } from './quantity.js';

export interface Unit {
  /** Every way to write it; the first is the usual one. */
  readonly forms: readonly string[];
  readonly dimension: Dimension;
  /** Canonical value = written value x factor. */
  readonly factor: number;
}

export const dimensionNames: Readonly<Record<Dimension, string>> = {
  voltage: 'a voltage',
  current: 'a current',
  power: 'a power',
  resistance: 'a resistance',
  irradiance: 'an irradiance',
  temperature: 'a temperature',
  temperatureDifference: 'a temperature difference',
  length: 'a length',
  area: 'an area',
  angle: 'an angle',
  duration: 'a time span',
  fraction: 'a fraction',
  fractionPerKelvin: 'a fraction per kelvin',
  voltagePerKelvin: 'a voltage per kelvin',
  currentPerKelvin: 'a current per kelvin',
  powerPerKelvin: 'a power per kelvin',
  resistancePerKelvin: 'a resistance per kelvin',
  fractionPerYear: 'a fraction per year',
};

/** One factor of ten apart at most three forms: `mohm`, `mΩ` (Greek omega), `mΩ` (ohm sign). */
function ohms(prefix: string): string[] {
  return [`${prefix}ohm`, `${prefix}Ω`, `${prefix}\u2126`];
}

function perKelvin(forms: readonly string[]): string[] {
  return forms.flatMap((form) => ['K', '°C', 'degC', '\u2103'].map((kelvin) => `${form}/${kelvin}`));
}

function unit(dimension: Dimension, factor: number, ...forms: string[]): Unit {
  return { forms, dimension, factor };
}

export const units: readonly Unit[] = [
  unit('voltage', 1, 'V', 'Vdc'),
  unit('voltage', 1e-3, 'mV'),
  unit('voltage', 1e3, 'kV'),
  unit('current', 1, 'A', 'Adc'),
  unit('current', 1e-3, 'mA'),
  unit('power', 1, 'W', 'Wp'),
  unit('power', 1e3, 'kW', 'kWp'),
  unit('power', 1e6, 'MW', 'MWp'),
  unit('power', 1e-3, 'mW'),
  unit('resistance', 1, ...ohms('')),
  unit('resistance', 1e-3, ...ohms('m')),
  unit('resistance', 1e3, ...ohms('k')),
  unit('resistance', 1e6, ...ohms('M')),
  unit('resistance', 1e9, ...ohms('G')),
  unit('irradiance', 1, 'W/m2', 'W/m²', 'W/m^2'),
  unit('irradiance', 1e3, 'kW/m2', 'kW/m²', 'kW/m^2'),
  unit('irradiance', 10, 'mW/cm2', 'mW/cm²', 'mW/cm^2'),
  unit('temperature', 1, 'degC', '°C', '\u2103'),
  unit('temperatureDifference', 1, 'K', 'degC', '°C', '\u2103'),
  unit('length', 1, 'm'),
  unit('length', 1e3, 'km'),
  unit('length', 1e-2, 'cm'),
  unit('length', 1e-3, 'mm'),
  unit('area', 1e-6, 'mm2', 'mm²', 'mm^2'),
  unit('area', 1e-4, 'cm2', 'cm²', 'cm^2'),
  unit('area', 1, 'm2', 'm²', 'm^2'),
  unit('angle', 1, 'deg', '°'),
  unit('angle', 180 / Math.PI, 'rad'),
  unit('duration', 1, 's'),
  unit('duration', 1e-3, 'ms'),
  unit('duration', 60, 'min'),
  unit('duration', 3600, 'h'),
  unit('fraction', 1e-2, '%'),
  unit('fractionPerKelvin', 1e-2, ...perKelvin(['%'])),
  unit('fractionPerKelvin', 1e-6, ...perKelvin(['ppm'])),
  unit('fractionPerKelvin', 1, ...perKelvin(['1', ''])),
  unit('voltagePerKelvin', 1, ...perKelvin(['V'])),
  unit('voltagePerKelvin', 1e-3, ...perKelvin(['mV'])),
  unit('currentPerKelvin', 1, ...perKelvin(['A'])),
  unit('currentPerKelvin', 1e-3, ...perKelvin(['mA'])),
  unit('powerPerKelvin', 1, ...perKelvin(['W'])),
  unit('powerPerKelvin', 1e-3, ...perKelvin(['mW'])),
  unit('resistancePerKelvin', 1, ...perKelvin(ohms(''))),
  unit('resistancePerKelvin', 1e-3, ...perKelvin(ohms('m'))),
  unit('fractionPerYear', 1e-2, '%/a', '%/year', '%/yr'),
];

const byForm = new Map<string, readonly Unit[]>();
for (const each of units)
  for (const form of each.forms) byForm.set(form, [...(byForm.get(form) ?? []), each]);

/** Micro sign and Greek mu, and the two omegas, look the same; `degC` and `°C` are both listed. */
export function unitsWritten(form: string): readonly Unit[] {
  return byForm.get(form) ?? [];
}

/** The unit of one of `dimensions` that is written `form`. */
export function findUnit(form: string, dimensions: readonly Dimension[]): Unit | undefined {
  return unitsWritten(form).find((each) => dimensions.includes(each.dimension));
}

/** Usual form of each unit of a dimension, the canonical one first. */
export function unitsOf(dimension: Dimension): readonly string[] {
  const own = units.filter((each) => each.dimension === dimension);
  return own.map((each) => each.forms[0]!);
}

const names: Readonly<Record<string, string>> = {
  volt: 'V',
  ampere: 'A',
  amp: 'A',
  watt: 'W',
  kilowatt: 'kW',
  degree: 'deg',
  'deg C': 'degC',
  '° C': 'degC',
  celsius: 'degC',
  kelvin: 'K',
  percent: '%',
  pct: '%',
  metre: 'm',
  meter: 'm',
  sqmm: 'mm2',
  second: 's',
  minute: 'min',
  hour: 'h',
};

/** The symbol of a unit that was written out in words, if it is one of `dimensions`: `V` for `Volts`. */
export function spelledOut(word: string, dimensions: readonly Dimension[]): string | undefined {
  const known = new Map(Object.entries(names));
  const symbol =
    known.get(word) ?? known.get(word.toLowerCase()) ?? known.get(word.toLowerCase().replace(/s$/, ''));
  return symbol !== undefined && findUnit(symbol, dimensions) ? symbol : undefined;
}

export function allForms(dimensions: readonly Dimension[]): readonly string[] {
  return units.filter((each) => dimensions.includes(each.dimension)).flatMap((each) => each.forms);
}

/** `a voltage, in V, mV or kV`. */
export function describeDimensions(dimensions: readonly Dimension[]): string {
  return dimensions
    .map((dimension) => `${dimensionNames[dimension]}, in ${joinOr(unitsOf(dimension))}`)
    .join(', or ');
}

export function joinOr(words: readonly string[]): string {
  return joinWith('or', words);
}

export function joinWith(last: 'or' | 'and', words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} ${last} ${words.at(-1)!}`;
}

/** The value in another unit of the same dimension; undefined when `form` is no unit of that dimension. */
export function convertTo(quantity: Pick<Quantity, 'value' | 'dimension'>, form: string): number | undefined {
  const target = findUnit(form, [quantity.dimension]);
  return target && quantity.value / target.factor;
}

/** The value in every unit of its dimension but the one it is written in, for a hover. */
export function otherUnits(quantity: Quantity): readonly { readonly value: number; readonly unit: string }[] {
  const written = findUnit(quantity.unit, [quantity.dimension]);
  return units
    .filter((each) => each.dimension === quantity.dimension && each !== written)
    .map((each) => ({ value: quantity.value / each.factor, unit: each.forms[0]! }));
}
