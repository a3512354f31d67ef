/** One decoder for each value form of the keyword table. */
import type { Cable, ColumnName, Name, PinShadow, SweepTemperature, Words } from './model.js';
import type { PropertyKeyword } from './keywords.js';
import { readName } from './names.js';
import { nearest } from './nearest.js';
import type { Dimension, Limits, Quantity, Uncertainty } from './quantity.js';
import { readLimits, readNumber, readPlainQuantity, readQuantity, readUncertainty } from './readQuantity.js';
import { findTimeZone, nearestTimeZone, readDate } from './time.js';
import { allForms, describeDimensions, findUnit, joinOr, unitsOf, unitsWritten } from './units.js';
import type { FormKind, ValueForm } from './valueForms.js';
import { didYouMean, replaceMend, shorten, type ValueReader } from './valueReader.js';
import { rangeOnLine } from '../text/place.js';

/** Units of the rows that follow a `points` line. */
export interface PointUnits {
  readonly voltage: number;
  readonly current: number;
}

export interface TemperatureColumn {
  readonly column: ColumnName;
  readonly kind: 'cell' | 'module';
  readonly offset?: Quantity;
}

export interface Decoded {
  quantity: Quantity;
  limits: Limits;
  uncertainty: Uncertainty;
  count: number;
  number: number;
  choice: string;
  text: Words;
  label: string;
  path: Words;
  name: Name;
  reference: Name;
  references: readonly Name[];
  date: Words;
  months: number;
  timezone: string;
  coordinates: { readonly latitude: number; readonly longitude: number };
  mapPosition: { readonly x: Quantity; readonly y: Quantity };
  modules: { readonly count: number; readonly type: Name };
  cable: Cable;
  temperature: SweepTemperature;
  pinShadow: PinShadow;
  points: PointUnits;
  delimiter: ',' | ';' | '\t' | '|' | ' ';
  column: ColumnName;
  columnOrQuantity: { readonly column: ColumnName } | { readonly quantity: Quantity };
  columnOrTemperature: TemperatureColumn | { readonly temperature: SweepTemperature };
  textChange: { readonly old: string; readonly new: string };
  typeChange: { readonly old: Name; readonly new: Name };
}

type Form<K extends FormKind> = Extract<ValueForm, { kind: K }>;
type Decoder<K extends FormKind> = (
  reader: ValueReader,
  form: Form<K>,
  property: PropertyKeyword,
) => Decoded[K] | undefined;

const decoders: { readonly [K in FormKind]: Decoder<K> } = {
  quantity: (reader, form) => {
    const { bareFraction, tolerance } = form;
    const quantity = readQuantity(reader, form.dimensions, { bareFraction, tolerance });
    return checkBounds(reader, quantity, form);
  },
  limits: (reader, form) => readLimits(reader, form.dimension),
  uncertainty: (reader, form) => readUncertainty(reader, form.dimension),
  count: (reader, form) => {
    const count = readCount(reader, form.least, form.most);
    if (form.noun) reader.takeWord(form.noun, form.noun.replace(/s$/, ''));
    return count;
  },
  number: (reader, form) => {
    const written = readNumber(reader, 'a number without unit');
    if (!written) return undefined;
    const range = reader.range(written.token);
    if (written.rest !== '')
      return reader.fail(
        'value/not-a-number',
        range,
        `\`${shorten(written.token.text)}\` is not a number without unit.`,
      );
    if (written.value < (form.least ?? -Infinity) || written.value > (form.most ?? Infinity))
      return reader.fail(
        'value/out-of-range',
        range,
        `${written.value} is outside ${form.least} to ${form.most}.`,
      );
    return written.value;
  },
  choice: (reader, form) =>
    readChoice(
      reader,
      form.choices.map((choice) => choice.word),
    ),
  text: readText,
  label: (reader) => {
    const token = reader.takeKind('quoted') ?? reader.takeKind('word');
    return token
      ? token.text
      : reader.fail('value/missing', reader.rest(), 'A text in quotes is missing here.');
  },
  path: readText,
  name: (reader) => readName(reader, 'a name as an earlier campaign has it'),
  reference: (reader, form) => readName(reader, `the name of a ${joinOr(form.to)}`),
  references: (reader, form) => {
    const names: Name[] = [];
    do {
      const name = readName(reader, `the name of a ${joinOr(form.to)}`);
      if (!name) return undefined;
      names.push(name);
    } while (reader.takeKind('comma'));
    return names;
  },
  date: readDate,
  months: (reader) => {
    const count = readCount(reader, 1, 240);
    if (count === undefined) return undefined;
    if (reader.takeWord('months', 'month')) return count;
    if (reader.takeWord('years', 'year')) return count * 12;
    return reader.fail('unit/missing', reader.rest(), 'The interval is in months or years: `12 months`.');
  },
  timezone: (reader) => {
    const token = reader.take();
    if (!token)
      return reader.fail('value/missing', reader.rest(), 'A zone is missing here: `Europe/London`.');
    const zone = findTimeZone(token.text);
    if (zone) return zone;
    const near = nearestTimeZone(token.text);
    const range = reader.range(token);
    const message = `\`${shorten(token.text)}\` is not a zone of the IANA database, such as \`Europe/London\`.${didYouMean(near)}`;
    return reader.fail('site/unknown-timezone', range, message, replaceMend(range, near));
  },
  coordinates: (reader) => {
    const latitude = readCoordinate(reader, 'N', 'S', 90);
    if (latitude === undefined || !takeComma(reader, 'latitude and longitude')) return undefined;
    const longitude = readCoordinate(reader, 'E', 'W', 180);
    return longitude === undefined ? undefined : { latitude, longitude };
  },
  mapPosition: (reader) => {
    const x = readPlainQuantity(reader, ['length']);
    if (!x || !takeComma(reader, 'the two distances')) return undefined;
    const y = readPlainQuantity(reader, ['length']);
    return y && { x, y };
  },
  modules: readModules,
  cable: (reader) => {
    const length = checkBounds(reader, readPlainQuantity(reader, ['length']), { least: 0, most: 10_000 });
    if (!length || !takeComma(reader, 'length, cross-section and conductor')) return undefined;
    const crossSection = checkBounds(reader, readPlainQuantity(reader, ['area']), {
      least: 1e-7,
      most: 0.01,
    });
    if (!crossSection || !takeComma(reader, 'length, cross-section and conductor')) return undefined;
    const conductor = readChoice(reader, ['copper', 'aluminium']);
    return conductor ? { length, crossSection, conductor: conductor as Cable['conductor'] } : undefined;
  },
  temperature: readTemperature,
  pinShadow: readPinShadow,
  points: (reader) => {
    const voltage = readPointUnit(reader, 'voltage');
    if (voltage === undefined || !takeComma(reader, 'the two units')) return undefined;
    const current = readPointUnit(reader, 'current');
    return current === undefined ? undefined : { voltage, current };
  },
  delimiter: readDelimiter,
  column: (reader, form) => readColumn(reader, form.dimension, true),
  columnOrQuantity: (reader, form) => {
    const column = startsColumn(reader) ? readColumn(reader, form.dimension, false) : undefined;
    if (column || reader.failed) return column && { column };
    const quantity = checkBounds(reader, readQuantity(reader, [form.dimension]), form);
    return quantity && { quantity };
  },
  columnOrTemperature: readTemperatureColumn,
  textChange: (reader) => {
    const old = readText(reader);
    if (!old || !takeArrow(reader)) return undefined;
    const now = readText(reader);
    return now && { old: old.text, new: now.text };
  },
  typeChange: (reader) => {
    const old = readName(reader, 'the type of the old module');
    if (!old || !takeArrow(reader)) return undefined;
    const now = readName(reader, 'the type of the new module');
    return now && { old, new: now };
  },
};

/** Decodes what stands behind a property keyword and reports what does not belong there. */
export function decodeValue(reader: ValueReader, property: PropertyKeyword): unknown {
  if (reader.done && property.form.kind !== 'points') {
    const range = reader.rest();
    return reader.fail(
      'value/missing',
      range,
      `\`${property.name}\` needs a value: \`${property.example}\`.`,
    );
  }
  const decode = decoders[property.form.kind] as Decoder<FormKind>;
  const value = decode(reader, property.form as never, property);
  if (!reader.failed) reader.finish(`Write it like \`${property.example}\`.`);
  return value;
}

function checkBounds(
  reader: ValueReader,
  quantity: Quantity | undefined,
  bounds: { readonly least?: number; readonly most?: number },
): Quantity | undefined {
  if (!quantity) return undefined;
  const { least = -Infinity, most = Infinity } = bounds;
  if (quantity.value >= least && quantity.value <= most) return quantity;
  const percent = quantity.dimension === 'fraction';
  const unit = percent ? '%' : unitsOf(quantity.dimension)[0]!;
  const factor = percent ? 0.01 : findUnit(unit, [quantity.dimension])!.factor;
  const show = (value: number) => `${Number((value / factor).toPrecision(6))} ${unit}`;
  const allowed = Number.isFinite(most) ? `${show(least)} to ${show(most)}` : `${show(least)} or more`;
  return reader.fail(
    'value/out-of-range',
    quantity.range,
    `${`${quantity.writtenValue} ${quantity.unit}`.trim()} is not plausible here: ${allowed}.`,
  );
}

function readCount(reader: ValueReader, least: number, most: number): number | undefined {
  const token = reader.take();
  if (!token) return reader.fail('value/missing', reader.rest(), 'A whole number is missing here.');
  const count = /^\d{1,9}$/.test(token.text) && token.kind === 'word' ? Number(token.text) : NaN;
  if (count >= least && count <= most) return count;
  const message = `\`${shorten(token.text)}\` is not a whole number from ${least} to ${most}.`;
  return reader.fail('value/not-a-count', reader.range(token), message);
}

export function readChoice(reader: ValueReader, words: readonly string[]): string | undefined {
  const token = reader.take();
  if (!token)
    return reader.fail('value/missing', reader.rest(), `One of these is missing here: ${joinOr(words)}.`);
  if (token.kind === 'word' && words.includes(token.text)) return token.text;
  const range = reader.range(token);
  const near = nearest(token.text, words);
  const message = `\`${shorten(token.text)}\` is not one of ${joinOr(words)}.${didYouMean(near)}`;
  return reader.fail('value/unknown-word', range, message, replaceMend(range, near));
}

export function readText(reader: ValueReader): Words | undefined {
  const token = reader.takeKind('quoted');
  if (token) return { text: token.text, range: reader.range(token) };
  const range = reader.rest();
  if (reader.done) return reader.fail('value/missing', range, 'A text in quotes is missing here.');
  const bare = reader.line.text.slice(range.start.character, range.end.character);
  const mends = bare.includes('"') ? [] : [{ title: 'Put it in quotes', range, text: `"${bare}"` }];
  return reader.fail('value/quotes-missing', range, 'A text stands in quotes: `"…"`.', mends);
}

function takeComma(reader: ValueReader, between: string): boolean {
  if (reader.failed || reader.takeKind('comma')) return !reader.failed;
  const range = reader.done ? reader.end : reader.rest();
  reader.fail('value/comma-missing', range, `A comma stands between ${between}.`);
  return false;
}

function takeArrow(reader: ValueReader): boolean {
  if (reader.takeKind('arrow')) return true;
  const range = reader.done ? reader.end : reader.rest();
  reader.fail('value/arrow-missing', range, 'An arrow stands between old and new: `"A" -> "B"`.');
  return false;
}

function readCoordinate(reader: ValueReader, plus: string, minus: string, most: number): number | undefined {
  const written = readNumber(reader, `degrees with ${plus} or ${minus} behind`);
  if (!written) return undefined;
  let side = written.rest.replace(/^(°|deg)/, '');
  if (side === '') {
    if (written.rest === '') reader.takeWord('deg', '°');
    side = reader.takeWord(plus, minus)?.text ?? '';
  }
  const range = reader.range(written.token);
  if (side !== plus && side !== minus)
    return reader.fail(
      'site/direction-missing',
      range,
      `Degrees with ${plus} or ${minus} behind are expected here: \`${Math.abs(written.value)} ${plus}\`.`,
    );
  if (written.value < 0 || written.value > most)
    return reader.fail(
      'value/out-of-range',
      range,
      `Degrees from 0 to ${most} are expected here; ${minus} stands for the other half.`,
    );
  return side === plus ? written.value : -written.value;
}

/** `18 x KF108M`; `×` and `*` do as well. */
function readModules(reader: ValueReader): Decoded['modules'] | undefined {
  const example = 'write `18 x KF108M`';
  const token = reader.take()!;
  const match = /^(\d{1,5})([x×*]?)(.*)$/su.exec(token.kind === 'word' ? token.text : '');
  const count = Number(match?.[1] ?? NaN);
  if (!match || (match[3] !== '' && match[2] === ''))
    return reader.fail(
      'string/modules',
      reader.range(token),
      `The number of modules and their type are expected: ${example}.`,
    );
  if (count < 1)
    return reader.fail('value/not-a-count', reader.range(token), 'A string has at least one module.');
  if (match[2] === '' && !reader.takeWord('x', '×', '*'))
    return reader.fail(
      'string/modules',
      reader.rest(),
      `An \`x\` stands between number and type: ${example}.`,
    );
  if (match[3] !== '') {
    const range = rangeOnLine(reader.line.number, token.start + match[1]!.length, token.end);
    return reader.fail('string/modules', range, `A space stands before and behind the \`x\`: ${example}.`, [
      { title: 'Put spaces', range, text: ` x ${match[3]!}` },
    ]);
  }
  const type = readName(reader, 'the module type');
  return type && { count, type };
}

const temperatureBounds = { least: -60, most: 150 };

function readTemperature(reader: ValueReader): SweepTemperature | undefined {
  const from = reader.position;
  if (reader.takeWord('from')) {
    if (reader.takeWord('Voc')) return { kind: 'voc', range: reader.readSince(from) };
    return reader.fail('sweep/temperature-kind', reader.rest(), 'The temperature can come `from Voc` only.');
  }
  const stops = ['cell', 'module', 'offset'];
  const value = checkBounds(reader, readQuantity(reader, ['temperature'], { stops }), temperatureBounds);
  if (!value) return undefined;
  if (reader.takeWord('cell')) return { kind: 'cell', value, range: reader.readSince(from) };
  if (!reader.takeWord('module')) {
    const at = reader.done ? reader.end : reader.rest();
    const message =
      'Of the `cell`, or of the back of the `module`? Write one of the two behind the temperature.';
    const mends = reader.done
      ? ['cell', 'module'].map((word) => ({ title: `Add \`${word}\``, range: at, text: ` ${word}` }))
      : [];
    return reader.fail('sweep/temperature-kind', reader.done ? value.range : at, message, mends);
  }
  const offset = readOffset(reader);
  if (reader.failed) return undefined;
  return { kind: 'module', value, offset, range: reader.readSince(from) };
}

/** `18 mm, pin 50 mm`, or the angle itself: `19.8 deg`. */
function readPinShadow(reader: ValueReader): PinShadow | undefined {
  const from = reader.position;
  const first = readPlainQuantity(reader, ['length', 'angle']);
  if (!first) return undefined;
  if (first.dimension === 'angle') {
    const angle = checkBounds(reader, first, { least: 0, most: 90 });
    return angle && { incidence: angle.value, range: reader.readSince(from) };
  }
  const shadow = checkBounds(reader, first, { least: 0, most: 10 });
  if (!shadow || !takeComma(reader, 'the lengths of shadow and pin')) return undefined;
  if (!reader.takeWord('pin')) {
    const message = 'The length of the pin stands behind the comma: `18 mm, pin 50 mm`.';
    return reader.fail('sweep/pin-length-missing', reader.done ? reader.end : reader.rest(), message);
  }
  const pin = checkBounds(reader, readPlainQuantity(reader, ['length']), { least: 0.005, most: 2 });
  return pin && { incidence: incidenceFromShadow(shadow.value, pin.value), range: reader.readSince(from) };
}

/**
 * Degrees. A pin of length h stands along the normal of a plane; the sun at the angle of incidence i throws a shadow of
 * length h tan i onto the plane. Both lengths in the same unit.
 */
function incidenceFromShadow(shadow: number, pin: number): number {
  return (Math.atan2(shadow, pin) * 180) / Math.PI;
}

function readOffset(reader: ValueReader): Quantity | undefined {
  if (!reader.takeWord('offset')) return undefined;
  return checkBounds(reader, readQuantity(reader, ['temperatureDifference']), { least: -5, most: 30 });
}

function readPointUnit(reader: ValueReader, dimension: Dimension): number | undefined {
  const token = reader.take();
  const expected = `The units of the points stand here: \`points V, A\`.`;
  if (!token)
    return reader.fail('unit/missing', reader.rest(), expected, [
      { title: 'Add the units', range: reader.end, text: ' V, A' },
    ]);
  return checkUnit(reader, token.text, reader.range(token), dimension)?.factor;
}

function checkUnit(
  reader: ValueReader,
  form: string,
  range: ReturnType<ValueReader['range']>,
  dimension: Dimension,
) {
  const unit = findUnit(form, [dimension]);
  if (unit) return unit;
  const known = unitsWritten(form).length > 0;
  const near = known ? undefined : nearest(form, allForms([dimension]));
  const message = `\`${shorten(form)}\` is not the unit of ${describeDimensions([dimension])}.${didYouMean(near)}`;
  return reader.fail(
    known ? 'unit/wrong-dimension' : 'unit/unknown',
    range,
    message,
    replaceMend(range, near),
  );
}

const delimiters = { comma: ',', semicolon: ';', tab: '\t', pipe: '|', space: ' ' } as const;

function readDelimiter(reader: ValueReader): Decoded['delimiter'] | undefined {
  const quoted = reader.takeKind('quoted');
  if (!quoted) {
    const word = readChoice(reader, Object.keys(delimiters));
    return word ? delimiters[word as keyof typeof delimiters] : undefined;
  }
  const found = Object.values(delimiters).find(
    (each) => each === (quoted.text === '\\t' ? '\t' : quoted.text),
  );
  if (found) return found;
  return reader.fail(
    'value/unknown-word',
    reader.range(quoted),
    `A delimiter is one of ${joinOr(Object.keys(delimiters))}.`,
  );
}

function startsColumn(reader: ValueReader): boolean {
  const token = reader.peek();
  return token?.kind === 'quoted' || (token?.kind === 'word' && token.text === 'column');
}

/** A header text in quotes, or a number from 1 (`column 3`, or the bare number where nothing else could stand). */
function readColumn(
  reader: ValueReader,
  dimension: Dimension | undefined,
  bareNumber: boolean,
): ColumnName | undefined {
  const from = reader.position;
  const header = reader.takeKind('quoted');
  const example = '`"U (V)"` or `column 2`';
  if (header?.text.trim() === '')
    return reader.fail(
      'layout/column',
      reader.range(header),
      `The header of a column is not empty: ${example}.`,
    );
  if (!header && !reader.takeWord('column') && !(bareNumber && /^\d/.test(reader.peek()?.text ?? '')))
    return reader.fail(
      'layout/column',
      reader.rest(),
      `A column is its header in quotes or its number: ${example}.`,
    );
  const number = header ? undefined : readCount(reader, 1, 10_000);
  if (reader.failed) return undefined;
  const named = header ? { header: header.text } : { number };
  const next = reader.peek();
  if (!dimension || next?.kind !== 'word' || columnStops.includes(next.text))
    return { ...named, range: reader.readSince(from) };
  reader.take();
  if (!checkUnit(reader, next.text, reader.range(next), dimension)) return undefined;
  return { ...named, unit: next.text, range: reader.readSince(from) };
}

const columnStops = ['cell', 'module', 'offset'];

function readTemperatureColumn(reader: ValueReader): Decoded['columnOrTemperature'] | undefined {
  if (!startsColumn(reader)) {
    const temperature = readTemperature(reader);
    return temperature && { temperature };
  }
  const column = readColumn(reader, 'temperature', false);
  if (!column) return undefined;
  const kind = (reader.takeWord('cell', 'module')?.text ?? 'cell') as 'cell' | 'module';
  const offset = kind === 'module' ? readOffset(reader) : undefined;
  return reader.failed ? undefined : { column, kind, offset };
}
