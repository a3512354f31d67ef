/** Numbers with units, uncertainties and ranges, as the notation writes them. */
import type { Token } from '../syntax/token.js';
import { rangeOnLine, type Range } from '../text/place.js';
import { nearest } from './nearest.js';
import type { Dimension, Limits, Quantity, Tolerance, Uncertainty } from './quantity.js';
import {
  allForms,
  spelledOut,
  describeDimensions,
  dimensionNames,
  findUnit,
  unitsOf,
  unitsWritten,
  type Unit,
} from './units.js';
import { didYouMean, replaceMend, shorten, type ValueReader } from './valueReader.js';

const numberPattern = /^[+\-\u2212]?(?:\d+\.?\d*|\.\d+)(?:[eE][+\-\u2212]?\d+)?/;

export interface WrittenNumber {
  readonly value: number;
  /** What follows the number without a space: usually its unit. */
  readonly rest: string;
  readonly token: Token;
  /** Column behind the number. */
  readonly end: number;
}

/** A finite number; `what` says what was expected. */
export function readNumber(reader: ValueReader, what: string): WrittenNumber | undefined {
  const token = reader.take();
  if (!token) return reader.fail('value/missing', reader.rest(), `A number is missing. Expected: ${what}.`);
  const range = reader.range(token);
  const match = token.kind === 'word' ? numberPattern.exec(token.text) : null;
  if (!match) {
    if (/^[+-]?(nan|inf|infinity)/i.test(token.text)) return notFinite(reader, range, token.text);
    return reader.fail(
      'value/not-a-number',
      range,
      `\`${shorten(token.text)}\` is not a number. Expected: ${what}.`,
    );
  }
  if (takeDecimalComma(reader, token, match[0])) return undefined;
  const value = Number(match[0].replaceAll('\u2212', '-'));
  if (!Number.isFinite(value)) return notFinite(reader, range, match[0]);
  return { value, rest: token.text.slice(match[0].length), token, end: token.start + match[0].length };
}

function notFinite(reader: ValueReader, range: Range, written: string): undefined {
  return reader.fail('value/not-finite', range, `\`${shorten(written)}\` is not a finite number.`);
}

/** `8,5`: digits, comma, digits without a space. */
function takeDecimalComma(reader: ValueReader, token: Token, digits: string): boolean {
  const comma = reader.peek();
  const decimals = reader.peek(1);
  const adjacent = comma?.kind === 'comma' && comma.start === token.end && decimals?.start === comma.end;
  if (!adjacent || digits !== token.text || !/^[+\-\u2212]?\d+$/.test(digits) || !/^\d/.test(decimals.text))
    return false;
  const range = reader.span(token, decimals);
  const fixed = `${digits}.${decimals.text}`;
  const message = `The decimal sign is a point: \`${shorten(fixed)}\`, not \`${shorten(digits)},${shorten(decimals.text)}\`.`;
  reader.fail('value/decimal-comma', range, message, replaceMend(range, fixed));
  return true;
}

export interface QuantityOptions {
  /** A number without unit is a fraction (`albedo 0.2`). */
  readonly bareFraction?: boolean;
  /** A range may follow in the place of an uncertainty: `408.4 W -0 % .. 3 %`. */
  readonly tolerance?: boolean;
  /** Words that may follow and are no unit, such as `cell`. */
  readonly stops?: readonly string[];
}

/** A number with its unit, of one of `dimensions`, without uncertainty. */
export function readPlainQuantity(
  reader: ValueReader,
  dimensions: readonly Dimension[],
  options: QuantityOptions = {},
): Quantity | undefined {
  const written = readNumber(reader, `${describeDimensions(dimensions)}`);
  if (!written) return undefined;
  const unit = readUnit(reader, written, dimensions, options);
  if (!unit) return undefined;
  const value = written.value * unit.factor;
  const end = Math.max(written.token.end, unit.end);
  const range = rangeOnLine(reader.line.number, written.token.start, end);
  if (!Number.isFinite(value)) return notFinite(reader, range, String(written.value));
  return { value, dimension: unit.dimension, unit: unit.form, writtenValue: written.value, range };
}

interface ReadUnit {
  readonly dimension: Dimension;
  readonly factor: number;
  readonly form: string;
  readonly end: number;
}

function readUnit(
  reader: ValueReader,
  number: WrittenNumber,
  dimensions: readonly Dimension[],
  options: QuantityOptions,
): ReadUnit | undefined {
  const attached = number.rest !== '';
  const next = reader.peek();
  const follows = !attached && next?.kind === 'word' && !options.stops?.includes(next.text);
  if (!attached && (!follows || (options.bareFraction && unitsWritten(next.text).length === 0))) {
    if (options.bareFraction) return { dimension: 'fraction', factor: 1, form: '', end: number.end };
    return unitMissing(reader, number, dimensions);
  }
  const start = attached ? number.end : next!.start;
  if (!attached) reader.take();
  let form = attached ? number.rest : next!.text;
  let end = attached ? number.token.end : next!.end;
  // `44 deg C` is one unit in two words.
  const letter = reader.peek();
  if ((form === 'deg' || form === '°') && letter?.kind === 'word' && letter.text === 'C') {
    reader.take();
    form += ' C';
    end = letter.end;
  }
  const range = rangeOnLine(reader.line.number, start, end);
  const unit = findUnit(form, dimensions);
  if (unit) return { dimension: unit.dimension, factor: unit.factor, form, end };
  return refuseUnit(reader, form, range, dimensions);
}

function unitMissing(
  reader: ValueReader,
  number: WrittenNumber,
  dimensions: readonly Dimension[],
): undefined {
  const usual = unitsOf(dimensions[0]!)[0]!;
  const range = reader.range(number.token);
  const at = rangeOnLine(reader.line.number, number.end, number.end);
  const message = `The unit is missing. This is ${describeDimensions(dimensions)}.`;
  return reader.fail('unit/missing', range, message, [
    { title: `Add ${usual}`, range: at, text: ` ${usual}` },
  ]);
}

function refuseUnit(
  reader: ValueReader,
  form: string,
  range: Range,
  dimensions: readonly Dimension[],
): undefined {
  const others: readonly Unit[] = unitsWritten(form);
  const expected = describeDimensions(dimensions);
  if (others.length > 0) {
    const message = `\`${form}\` is the unit of ${dimensionNames[others[0]!.dimension]}; here stands ${expected}.`;
    return reader.fail('unit/wrong-dimension', range, message);
  }
  const near = spelledOut(form, dimensions) ?? nearest(form, allForms(dimensions));
  const message = `\`${shorten(form)}\` is not a unit.${didYouMean(near)} Here stands ${expected}.`;
  return reader.fail('unit/unknown', range, message, replaceMend(range, near));
}

/** A quantity with the uncertainty that may follow it. */
export function readQuantity(
  reader: ValueReader,
  dimensions: readonly Dimension[],
  options: QuantityOptions = {},
): Quantity | undefined {
  const quantity = readPlainQuantity(reader, dimensions, options);
  if (quantity && options.tolerance && startsRange(reader)) {
    const tolerance = readTolerance(reader, quantity);
    return tolerance && { ...quantity, tolerance };
  }
  if (!quantity || !reader.nextIs('plusMinus')) return quantity;
  const uncertainty = readUncertainty(reader, quantity.dimension);
  return uncertainty && { ...quantity, uncertainty };
}

const startsRange = (reader: ValueReader): boolean =>
  reader.nextIs('range') || (reader.nextIs('word') && numberPattern.test(reader.peek()!.text));

/** `-0 % .. 3 %` or `0 W .. 5 W` behind a nameplate value: from how far below it to how far above. */
function readTolerance(reader: ValueReader, quantity: Quantity): Tolerance | undefined {
  const from = reader.position;
  const end = (): Quantity | undefined => readPlainQuantity(reader, [quantity.dimension, 'fraction']);
  const least = reader.nextIs('range') ? undefined : end();
  if (reader.failed) return undefined;
  const dots = reader.takeKind('range');
  const most = dots && !reader.done ? end() : undefined;
  if (reader.failed) return undefined;
  const share = (each: Quantity): number =>
    each.dimension === 'fraction' ? each.value : each.value / quantity.value;
  if (least && most && least.value <= 0 && most.value >= 0) return { least: share(least), most: share(most) };
  const message =
    'A tolerance is `± 3 %`, or a range from how far below the value to how far above it: `-0 % .. 3 %`.';
  return reader.fail('value/tolerance', reader.readSince(from), message);
}

/** Dimension of a difference of two such values. */
function differenceOf(dimension: Dimension): Dimension {
  return dimension === 'temperature' ? 'temperatureDifference' : dimension;
}

/**
 * `± 2 %`, `+- 5 W/m2`, with `k=1` behind it where it is not expanded with k = 2 (JCGM 100, expanded uncertainty). A
 * percentage is relative to the value, save where the value is itself a fraction.
 */
export function readUncertainty(reader: ValueReader, dimension: Dimension): Uncertainty | undefined {
  const sign = reader.takeKind('plusMinus');
  if (!sign) {
    const next = reader.peek();
    const mends = next && [
      { title: 'Write ±', range: rangeOnLine(reader.line.number, next.start, next.start), text: '± ' },
    ];
    return reader.fail(
      'value/plus-minus-missing',
      reader.rest(),
      'An uncertainty starts with `±` (or `+-`): `± 0.5 %`.',
      mends,
    );
  }
  const difference = differenceOf(dimension);
  const allowed: readonly Dimension[] = difference === 'fraction' ? ['fraction'] : [difference, 'fraction'];
  const written = readPlainQuantity(reader, allowed);
  if (!written) return undefined;
  if (written.value < 0)
    return reader.fail(
      'value/negative-uncertainty',
      written.range,
      'An uncertainty is not negative: the sign is in `±`.',
    );
  const coverageFactor = readCoverageFactor(reader);
  if (coverageFactor === undefined) return undefined;
  const relative = written.dimension === 'fraction' && difference !== 'fraction';
  return { value: written.value, relative, coverageFactor };
}

function readCoverageFactor(reader: ValueReader): number | undefined {
  const first = reader.peek();
  if (first?.kind !== 'word' || !/^k(=|$)/.test(first.text)) return 2;
  const from = reader.position;
  let text = '';
  // `k=1`, `k = 1`, `k= 1` and `k =1`.
  for (let token = reader.peek(); token?.kind === 'word' && !/^k?=?\d/.test(text); token = reader.peek()) {
    text += token.text;
    reader.take();
  }
  const factor = Number(/^k=(\d+(?:\.\d+)?)$/.exec(text)?.[1] ?? NaN);
  if (factor >= 1 && factor <= 5) return factor;
  const message = 'A coverage factor reads `k=1` or `k=2` (1 to 5).';
  return reader.fail('value/coverage-factor', reader.readSince(from), message);
}

/** `-5 % ..`, `.. 45 deg`, `-3 % .. 3 %`. */
export function readLimits(reader: ValueReader, dimension: Dimension): Limits | undefined {
  const from = reader.position;
  const usual = unitsOf(dimension)[0]!;
  const least = reader.nextIs('range') ? undefined : readPlainQuantity(reader, [dimension]);
  if (reader.failed) return undefined;
  if (!reader.takeKind('range')) {
    const at = reader.end;
    const message = `A limit is a range, open on either side: \`10 ${usual} ..\` (at least) or \`.. 10 ${usual}\` (at most).`;
    const mends = least && [
      { title: 'At least this', range: at, text: ' ..' },
      { title: 'At most this', range: { start: least.range.start, end: least.range.start }, text: '.. ' },
    ];
    return reader.fail('value/range-missing', reader.readSince(from), message, mends);
  }
  const most = reader.nextIs('word') ? readPlainQuantity(reader, [dimension]) : undefined;
  if (reader.failed) return undefined;
  const range = reader.readSince(from);
  if (!least && !most)
    return reader.fail('value/range-empty', range, 'This range has no end. Give at least one.');
  if (least && most && least.value > most.value)
    return reader.fail(
      'value/range-reversed',
      range,
      'This range is reversed: the smaller value stands first.',
    );
  return { least, most, range };
}
