/**
 * What the lines above a table tell: `Irradiance;812 W/m2`, `Date: 14.05.2026 11:42`, `Zelltemperatur [°C];44,1`, `String;1.03`. The
 * words are those of column headers. What stands there twice and differs, or without a unit, is offered and not taken.
 */
import type { Campaign } from '../campaign/model.js';
import { findUnit, type ColumnUnit } from '../sweeps/columnUnits.js';
import { readHeaderCell, splitWords, type HeaderCell } from '../sweeps/headerWords.js';
import { isAmbiguous, readNumber, recogniseDecimal, type DecimalSign } from '../sweeps/numberText.js';
import { addressNamed } from './addressNamed.js';
import type { Found, TableFacts } from './tableFacts.js';
import { temperatureKindOf } from './temperatureKind.js';
import { readWrittenTime, type DateOrder, type WrittenTime } from './writtenTime.js';

export interface LineAbove {
  /** From 1. */
  readonly line: number;
  readonly fields: readonly string[];
}

export interface HeaderFacts {
  readonly facts: TableFacts;
  /** The order that days with slashes show. */
  readonly order?: DateOrder;
  /** A day in slashes could be read in two ways. */
  readonly isDoubtful: boolean;
}

interface Entry {
  readonly line: number;
  readonly key: HeaderCell;
  readonly value: string;
  /** The field behind the value. */
  readonly next: string;
}

const words = (text: string): ReadonlySet<string> => new Set(text.split(' '));

/** Words that make a day or a time another one than that of the measurement. */
const otherTimes = words(
  'calibration calibrated kalibrierung kalibriert calibracion etalonnage calibrazione cal serial serie serien firmware software version export exported exportiert print printed install installed installation installationsdatum commissioning inbetriebnahme manufactured end ende fin fine stop finish zone timezone zeitzone duration dauer interval created erstellt file modified due next',
);
/** Irradiances other than that in front of the plane of array. */
const otherIrradiance = words(
  'rear back ruck ruckseite bifacial horizontal ghi dhi dni diffuse diffus difusa direct direkt albedo threshold limit target sensor cell',
);
/** Words that name the moment of a measurement without saying time or date; day and time of day then stand behind them together. */
const startWords = words(
  'start started begin began begun beginn begonnen gestartet inicio debut inizio measured gemessen medido mesure misurato recorded acquired sampled aufgezeichnet',
);
const positionWords = words(
  'module modul modulo position posicion posizione pos panel section sektion seccion sezione',
);

export function headerFacts(
  lines: readonly LineAbove[],
  decimal: DecimalSign,
  campaign: Campaign,
  order?: DateOrder,
): HeaderFacts {
  const entries = lines.flatMap(entriesOf);
  const times = timesOf(entries, order);
  return {
    facts: {
      address: addressOf(lines, entries, campaign),
      time: times.found,
      irradiance: quantityOf(entries, 'irradiance', decimal),
      temperature: quantityOf(entries, 'temperature', decimal),
    },
    order: times.order,
    isDoubtful: times.isDoubtful,
  };
}

/** `key: value` and `key = value` within a field, or a field and the one behind it. */
function entriesOf({ line, fields }: LineAbove): Entry[] {
  const entries: Entry[] = [];
  for (let at = 0; at < fields.length; at++) {
    const field = fields[at]!.trim().replace(/^(?:#|%|\/\/|\*)+\s*/, '');
    if (field === '' || field.length > 200) continue;
    const within = /^([^:=]*[^:=\s])\s*[:=]\s*(.*)$/s.exec(field);
    if (within && within[2] !== '') {
      entries.push({
        line,
        key: readHeaderCell(within[1]!),
        value: within[2]!.trim(),
        next: fields[at + 1] ?? '',
      });
      continue;
    }
    const key = readHeaderCell(within ? within[1]! : field);
    const value = fields[at + 1]?.trim() ?? '';
    if (value === '' || (!key.role && !isPosition(key) && !isStart(key))) continue;
    entries.push({ line, key, value, next: fields[at + 2] ?? '' });
    at++;
  }
  return entries;
}

function isStart({ role, text }: HeaderCell): boolean {
  return !role && splitWords(text).some((word) => startWords.has(word));
}

function isPosition(key: HeaderCell): boolean {
  const found = splitWords(key.text);
  return found.length === 1 && positionWords.has(found[0]!);
}

function addressOf(lines: readonly LineAbove[], entries: readonly Entry[], campaign: Campaign): Found {
  const labelled = entries.flatMap(({ key, value, line }) => {
    const text = key.role === 'address' ? addressNamed(value, campaign) : undefined;
    return text === undefined ? [] : [{ text, line }];
  });
  const others = lines.flatMap((line) => addressesIn(line, campaign));
  const positions = others.filter(({ text }) => labelled.some((each) => text.startsWith(`${each.text}/`)));
  const named = positions.length > 0 ? positions : labelled.length > 0 ? labelled : others;
  const [first] = named;
  if (!first) return {};
  if (named.some(({ text }) => text !== first.text))
    return { suggestion: first.text, doubt: `lines ${first.line} and others name different strings` };
  const position = entries.find(({ key, value }) => isPosition(key) && /^\d+(-\d+)?$/.test(value));
  if (!position || first.text.includes('/'))
    return { fact: { text: first.text, source: `line ${first.line}` } };
  return {
    suggestion: addressNamed(`${first.text}/${position.value}`, campaign) ?? first.text,
    doubt: `line ${position.line} has \`${position.key.text.trim()} ${position.value}\`: a position, or a count?`,
  };
}

/**
 * Whole fields that are an address of the campaign, whatever stands before them: `Kanal;S3/10`. Numbers do not count (`1.03` may be a
 * version, `1/2` a page), nor do words and units (`south`, `A`).
 */
function addressesIn({ line, fields }: LineAbove, campaign: Campaign): { text: string; line: number }[] {
  return fields.flatMap((field) => {
    const value = (/^[^:=]*[:=](.*)$/s.exec(field)?.[1] ?? field).trim();
    const couldBeOther = !/\d/.test(value) || /^(?:[\d.,]+|\d+\/[\d-]+)$/.test(value);
    const text = couldBeOther ? undefined : addressNamed(value, campaign);
    return text === undefined ? [] : [{ text, line }];
  });
}

/** A value with its unit, in the unit of the notation. */
function quantityOf(
  entries: readonly Entry[],
  role: 'irradiance' | 'temperature',
  decimal: DecimalSign,
): Found {
  const read = entries.flatMap((entry) => {
    const { key } = entry;
    if (key.role !== role || key.byUnit) return [];
    if (role === 'irradiance' && splitWords(key.name).some((word) => otherIrradiance.has(word))) return [];
    const value = readValue(entry, role, decimal);
    return value === undefined ? [] : [{ ...value, entry }];
  });
  const [first] = read;
  if (!first) return {};
  const { entry, text, hasUnit } = first;
  if (read.some((each) => each.text !== text)) {
    const all = read.map((each) => `line ${each.entry.line}: ${each.text}`).join('; ');
    return { suggestion: text, doubt: `the lines above the table differ (${all})` };
  }
  if (!hasUnit) return { suggestion: text, doubt: `line ${entry.line} gives no unit` };
  if (role === 'irradiance') return { fact: { text, source: `line ${entry.line}` } };
  const kind = temperatureKindOf(entry.key.text);
  if (!kind)
    return { withoutKind: text, doubt: `line ${entry.line} does not say whether cell or back of module` };
  return { fact: { text: `${text} ${kind}`, source: `line ${entry.line}` } };
}

const usualUnits = { irradiance: 'W/m2', temperature: 'degC' } as const;

function readValue(
  { key, value, next }: Entry,
  role: 'irradiance' | 'temperature',
  decimal: DecimalSign,
): { readonly text: string; readonly hasUnit: boolean } | undefined {
  const match = /^([+\-−]?[\d.,'’ \u00a0\u202f]*\d)\s*(.*)$/s.exec(value);
  if (!match) return undefined;
  const [, digits, behind] = match as unknown as [string, string, string];
  const written = behind !== '' ? behind : next.trim();
  const unit = findUnit(written) ?? (behind === '' ? key.unit : undefined);
  if (behind !== '' && unit === undefined) return undefined;
  if (unit && unit.dimension !== role) return undefined;
  const sign = recogniseDecimal([digits]) ?? decimal;
  const number = readNumber(digits, sign);
  if (Number.isNaN(number) || isAmbiguous(digits, sign)) return undefined;
  return { text: quantityText(number, unit, role), hasUnit: unit !== undefined };
}

/** In W/m2 or degC, with no more digits than were written. */
export function quantityText(
  value: number,
  unit: Pick<ColumnUnit, 'factor' | 'offset'> | undefined,
  role: 'irradiance' | 'temperature',
): string {
  const canonical = unit ? value * unit.factor + unit.offset : value;
  return `${Number(canonical.toFixed(2))} ${usualUnits[role]}`;
}

function timesOf(
  entries: readonly Entry[],
  order: DateOrder | undefined,
): { found: Found; order?: DateOrder; isDoubtful: boolean } {
  const read = entries.flatMap(({ key, value, next, line }) => {
    const isNamed = key.role === 'time' || key.role === 'date';
    if (!isNamed && !isStart(key)) return [];
    if (splitWords(key.text).some((word) => otherTimes.has(word))) return [];
    // `Date;14.05.2026;11:42` keeps the time of day in the field behind.
    const both = readWrittenTime(`${value} ${next}`.trim(), order);
    const time = both?.date !== undefined && both.clock !== undefined ? both : readWrittenTime(value, order);
    const isMoment =
      time && (isNamed || time.isDoubtful || (time.date !== undefined && time.clock !== undefined));
    return isMoment ? [{ ...time, line }] : [];
  });
  const shown = read.find((time) => time.order)?.order;
  const isDoubtful = read.some((time) => time.isDoubtful);
  return { found: isDoubtful ? doubtfulDay(read) : joined(read), order: shown, isDoubtful };
}

type TimeOfLine = WrittenTime & { readonly line: number };

function doubtfulDay(read: readonly TimeOfLine[]): Found {
  const { line } = read.find((time) => time.isDoubtful)!;
  return { doubt: `the day in line ${line} could be read in two ways` };
}

/** One day and one time of day, from one line or from two. */
function joined(read: readonly TimeOfLine[]): Found {
  const whole = read.filter(({ date, clock }) => date !== undefined && clock !== undefined);
  const from = whole.length > 0 ? whole : read;
  const dates = new Map(
    from.flatMap(({ date, line }) => (date === undefined ? [] : [[date, line] as const])),
  );
  const clocks = new Map(
    from.flatMap(({ clock, line }) => (clock === undefined ? [] : [[clock, line] as const])),
  );
  const [[date, line] = []] = dates;
  const [[clock] = []] = clocks;
  if (date === undefined) return {};
  if (dates.size > 1 || clocks.size > 1)
    return { suggestion: `${date} ${clock ?? ''}`, doubt: 'the lines above the table give several times' };
  if (clock === undefined) return { suggestion: `${date} ` };
  return { fact: { text: `${date} ${clock}`, source: `line ${line!}` } };
}
