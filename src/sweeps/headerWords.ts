/**
 * What a header cell means. A cell is a name with, perhaps, a unit: `U`, `U/V`, `U [V]`, `Voltage (mV)`, `I_A`,
 * `Spannung in V`, `Current, A`, `mV`. Names are known in English, German, Spanish, French and Italian, without regard
 * to case and accents. Open-circuit, short-circuit, maximum-power, nominal, translated and reference values are not
 * points of a sweep and are passed over, as are ambient temperatures.
 */
import { findUnit, type ColumnUnit } from './columnUnits.js';

export type ColumnRole = 'voltage' | 'current' | 'irradiance' | 'temperature' | 'address' | 'time' | 'date';

export interface HeaderCell {
  readonly text: string;
  /** The text without its unit. */
  readonly name: string;
  readonly unit?: ColumnUnit;
  /** Set off by brackets or a slash, so it is a unit for certain. */
  readonly unitIsPlain: boolean;
  readonly role?: ColumnRole;
  /** The role rests on the unit alone. */
  readonly byUnit: boolean;
}

const words = (text: string): ReadonlySet<string> => new Set(text.split(' '));

const voltageWords = words(
  'v u volt volts voltage voltages spannung tension voltaje tensione voltaggio vdc udc vpv upv vmeas umeas vstring vmodule vmod',
);
const currentWords = words(
  'i current currents strom corriente courant corrente intensidad intensite intensita amp amps ampere amperes idc ipv imeas istring imodule imod',
);
const irradianceWords = words(
  'g gi gpoa poa irr irrad irradiance irradiation einstrahlung bestrahlungsstarke sonneneinstrahlung globalstrahlung irradiancia irradianza irraggiamento eclairement ensoleillement rayonnement',
);
const temperatureWords = words(
  'temp temperature temperatur temperatura tcell tmod tmodule tc tbom celltemp moduletemp celltemperature moduletemperature',
);
const timeWords = words(
  'time timestamp datetime zeit uhrzeit zeitpunkt zeitstempel hora heure horodatage ora',
);
const dateWords = words('date datum fecha data');
const addressWords = words(
  'address adresse string strings stringid strang stringa chaine cadena direccion indirizzo device name id',
);
/** Words that say a column is something else than a measured point. */
const otherWords = words(
  'oc sc mp mpp max min nom nominal rated stc range limit power leistung potencia puissance potenza resistance error err uncertainty unc std sigma deviation translated normalized normalised simulated modelled modeled expected ref reference leerlauf kurzschluss open short circuit offset count number points',
);
const ambientWords = words(
  'ambient amb tamb air umgebung umgebungstemperatur luft lufttemperatur ambiente ambiante aria aire tracer instrument internal',
);

const remembered = new Map<string, HeaderCell>();

/** The files of a campaign share their headers, so what a cell means is kept for the next file. */
export function readHeaderCell(text: string): HeaderCell {
  const known = remembered.get(text);
  if (known) return known;
  if (remembered.size > 1000) remembered.clear();
  const cell = understand(text);
  if (text.length <= 120) remembered.set(text, cell);
  return cell;
}

function understand(text: string): HeaderCell {
  const { name, unit, unitIsPlain } = splitUnit(text.trim());
  const role = roleOf(name, unit);
  if (role && (unitIsPlain || !unit || unit.dimension === role || role === 'time')) {
    return { text, name, unit, unitIsPlain, role, byUnit: false };
  }
  // `V_A` may as well be the voltage of phase A: a unit that does not fit and is not set off is part of the name.
  if (role) return { text, name: text.trim(), unitIsPlain: false, role, byUnit: false };
  const alone = findUnit(text);
  if (alone && alone.dimension !== 'other' && /^\S+$/.test(text.trim())) {
    return { text, name: text.trim(), unit: alone, unitIsPlain: false, role: alone.dimension, byUnit: false };
  }
  const other = splitWords(name).some((word) => otherWords.has(word) || ambientWords.has(word));
  const dimension = unitIsPlain && !other && unit?.dimension !== 'other' ? unit?.dimension : undefined;
  return {
    text,
    name,
    unit,
    unitIsPlain,
    role: dimension as ColumnRole | undefined,
    byUnit: dimension !== undefined,
  };
}

function splitUnit(text: string): { name: string; unit?: ColumnUnit; unitIsPlain: boolean } {
  if (text.length > 120) return { name: text, unitIsPlain: false };
  const bracketed = /^([^[({<]*[^[({<\s_])[\s_]*[[({<]([^[\](){}<>]*(?:\([^()]*\))?)[\])}>]$/.exec(text);
  if (bracketed)
    return { name: bracketed[1]!.replace(/\/$/, ''), unit: findUnit(bracketed[2]!), unitIsPlain: true };
  const slash = text.indexOf('/');
  if (slash > 0) {
    const unit = findUnit(text.slice(slash + 1));
    if (unit) return { name: text.slice(0, slash).trim(), unit, unitIsPlain: true };
  }
  const loose = /^(.*[^\s_,;:.-])(?:\s+in\s+|[\s_,;:.-]+)([^\s_,;:]+)$/.exec(text);
  const unit = loose ? findUnit(loose[2]!) : undefined;
  return unit ? { name: loose![1]!, unit, unitIsPlain: false } : { name: text, unitIsPlain: false };
}

function roleOf(name: string, unit: ColumnUnit | undefined): ColumnRole | undefined {
  const found = splitWords(name);
  const has = (set: ReadonlySet<string>, ending?: string) =>
    found.some(
      (word, at) => (set.has(word) && (word.length > 1 || at === 0)) || (ending && word.endsWith(ending)),
    );
  if (found.some((word) => otherWords.has(word) || /^(leerlauf|kurzschluss)/.test(word))) return undefined;
  if (has(temperatureWords, 'temperatur') || isTemperatureSymbol(name, unit)) {
    return found.some((word) => ambientWords.has(word)) ? undefined : 'temperature';
  }
  if (has(timeWords)) return 'time';
  if (has(voltageWords, 'spannung')) return 'voltage';
  if (has(currentWords, 'strom')) return 'current';
  if (has(irradianceWords)) return 'irradiance';
  if (has(dateWords)) return 'date';
  return has(addressWords) ? 'address' : undefined;
}

/** `T`, `T_mod`, `T cell`; a lower-case `t` is time unless its unit says otherwise. */
function isTemperatureSymbol(name: string, unit: ColumnUnit | undefined): boolean {
  if (!/^t(?:[ _.]?(?:c|m|cell|mod|module|bom|zell|modul))?$/i.test(name.trim())) return false;
  return unit ? unit.dimension === 'temperature' : name.trim().startsWith('T');
}

/** Lower case, without accents, `moduleVoltage` and `V_mod` split. */
export function splitWords(text: string): readonly string[] {
  if (text.length > 120) return [];
  return text
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .split(/[^a-z]+/)
    .filter((word) => word !== '');
}
