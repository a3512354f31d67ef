/** What a property or a header wants, piece by piece, and which piece the cursor is at. */
import type { HeaderForm, PropertyKeyword } from '../campaign/keywords.js';
import type { Dimension } from '../campaign/quantity.js';
import { describeDimensions, unitsOf, unitsWritten } from '../campaign/units.js';
import type { ValueForm } from '../campaign/valueForms.js';
import type { Token } from '../syntax/token.js';
import type { Position } from '../text/place.js';
import type { OpenFile } from './editorTypes.js';
import { lineContext } from './lineContext.js';
import { codeMarkdown } from './markdownText.js';

export interface SignaturePart {
  /** Columns of the part within the label. */
  readonly start: number;
  readonly end: number;
  /** Markdown. */
  readonly documentation: string;
}

export interface Signature {
  readonly label: string;
  /** Markdown. */
  readonly documentation: string;
  readonly parts: readonly SignaturePart[];
  /** The part at the cursor; undefined when nothing more is wanted. */
  readonly active?: number;
}

/** A piece of a value: how it is shown, what it means, and which word on the line is taken for it. */
interface Slot {
  readonly shown: string;
  readonly meaning: string;
  takes(token: Token, rest: string): boolean;
  readonly optional?: boolean;
}

export function signatureAt(open: OpenFile, position: Position): Signature | undefined {
  const { block, property, isHeader, tokens, inComment, headerLine } = lineContext(open, position);
  if (inComment || !block || headerLine === undefined) return undefined;
  const first = tokens[0];
  if (!first || position.character <= first.end) return undefined;
  const before = tokens.slice(1).filter(({ end }) => end < position.character);
  if (isHeader) {
    const documentation = `${block.meaning}\n\n${codeMarkdown(block.example)}`;
    return signature(block.name, documentation, headerSlots(block.header, block.name), before);
  }
  if (!property) return undefined;
  const documentation = `${property.meaning}\n\n${codeMarkdown(property.example)}`;
  return signature(property.name, documentation, valueSlots(property), before);
}

function signature(
  name: string,
  documentation: string,
  slots: readonly Slot[],
  before: readonly Token[],
): Signature | undefined {
  if (slots.length === 0) return undefined;
  let label = name;
  const parts = slots.map(({ shown, meaning, optional }): SignaturePart => {
    label += shown === ',' ? '' : ' ';
    const text = optional ? `[${shown}]` : shown;
    const start = label.length;
    label += text;
    return { start, end: label.length, documentation: meaning };
  });
  return { label, documentation, parts, active: activeSlot(slots, before) };
}

/** Walks the words before the cursor along the slots; an optional slot that a word does not fit is passed over. */
function activeSlot(slots: readonly Slot[], before: readonly Token[]): number | undefined {
  let at = 0;
  for (const token of before) {
    let slot = at;
    while (slots[slot]?.optional && !slots[slot]!.takes(token, token.text)) slot++;
    if (slot >= slots.length) return undefined;
    const isMore = token.kind === 'comma' && slots[slot]!.shown !== ',';
    // A list goes on behind its comma.
    if (isMore) at = Math.max(0, slot - 1);
    else at = slot + 1;
    // `8.5V` is a number with its unit in one word.
    if (
      slots[slot]!.shown === 'number' &&
      unitsWritten(token.text.replace(/^[+\-\u2212.\d]+/, '')).length > 0
    )
      at = Math.min(slots.length, at + 1);
  }
  while (slots[at] && slots[at]!.shown === ',') at++;
  return at < slots.length ? at : undefined;
}

const isWord = ({ kind }: Token): boolean => kind === 'word';
const isQuoted = ({ kind }: Token): boolean => kind === 'quoted';

function slot(shown: string, meaning: string, takes: Slot['takes'] = isWord, optional = false): Slot {
  return { shown, meaning, takes, optional };
}

const word = (text: string, meaning: string, optional = false): Slot =>
  slot(text, meaning, (token) => text.split(' | ').includes(token.text), optional);
const comma = slot(',', 'a comma', ({ kind }) => kind === 'comma');
const quotedText = (shown: string, meaning: string, optional = false): Slot =>
  slot(`"${shown}"`, meaning, isQuoted, optional);

const numberSlot = slot('number', 'The decimal sign is a point.', isWord);
const unitSlot = (dimensions: readonly Dimension[]): Slot => {
  const units = dimensions.flatMap((each) => unitsOf(each));
  return slot(units.slice(0, 4).join(' | '), `Unit of ${describeDimensions(dimensions)}.`);
};
const uncertaintyDimensions = (dimension: Dimension): readonly Dimension[] => {
  const difference = dimension === 'temperature' ? 'temperatureDifference' : dimension;
  return difference === 'fraction' ? ['fraction'] : ['fraction', difference];
};

function uncertaintySlots(dimension: Dimension, optional: boolean): Slot[] {
  const units = uncertaintyDimensions(dimension).flatMap((each) => unitsOf(each));
  return [
    slot('±', 'Expanded uncertainty; `+-` does as well.', ({ kind }) => kind === 'plusMinus', optional),
    slot('number', 'Half the width of the interval.', (token) => /^[\d.]/.test(token.text), optional),
    slot(units.slice(0, 3).join(' | '), 'A percentage is relative to the value.', isUnitWord, optional),
    slot('k=2', 'Coverage factor; 2 unless written.', (token) => token.text.startsWith('k'), true),
  ];
}

const isUnitWord = (token: Token): boolean => isWord(token) && unitsWritten(token.text).length > 0;

/** A quantity without uncertainty. */
const plainQuantity = (dimension: Dimension): Slot[] => [numberSlot, unitSlot([dimension])];

function valueSlots({ form, meaning, example }: PropertyKeyword): readonly Slot[] {
  switch (form.kind) {
    case 'quantity':
      return [
        numberSlot,
        { ...unitSlot(form.dimensions), ...(form.bareFraction ? { optional: true, takes: isUnitWord } : {}) },
        ...uncertaintySlots(form.dimensions[0]!, true),
      ];
    case 'limits':
      return limitSlots(form.dimension);
    case 'uncertainty':
      return uncertaintySlots(form.dimension, false);
    case 'count':
      return [slot('whole number', `From ${form.least} to ${form.most}.`)];
    case 'number':
      return [slot('number', 'Without unit.')];
    case 'choice':
      return [slot(form.choices.map((each) => each.word).join(' | '), choiceMeaning(form))];
    case 'text':
      return [quotedText('text', 'In straight quotes; a quote within is written twice.')];
    case 'label':
      return [slot('"text"', 'In straight quotes, or one word.', () => true)];
    case 'path':
      return [quotedText('path', 'Relative to this file, with `/`.')];
    case 'reference':
      return [slot('name', `Name of a ${form.to.join(' or ')}.`)];
    case 'references':
      return [
        slot('name', `Name of a ${form.to.join(' or a ')}.`),
        { ...comma, optional: true },
        slot('name', 'One of the other kind.', isWord, true),
      ];
    case 'date':
      return [slot('year-month-day', 'As `2026-05-14` (ISO 8601).')];
    case 'months':
      return [slot('whole number', 'How many.'), word('months | years', 'The interval.')];
    case 'timezone':
      return [slot('Area/Place', 'Zone of the IANA database, as `Europe/London`.')];
    case 'coordinates':
      return [
        slot('degrees', 'Latitude, positive.'),
        word('N | S', 'North or south of the equator.'),
        comma,
        slot('degrees', 'Longitude, positive.'),
        word('E | W', 'East or west of Greenwich.'),
      ];
    case 'mapPosition':
      return [...plainQuantity('length'), comma, ...plainQuantity('length')];
    case 'modules':
      return [
        slot('count', 'Modules in series.'),
        word('x', 'Times.'),
        slot('name', 'Name of the module type.'),
      ];
    case 'cable':
      return [
        ...plainQuantity('length'),
        comma,
        ...plainQuantity('area'),
        comma,
        word('copper | aluminium', 'Conductor.'),
      ];
    case 'temperature':
      return temperatureSlots();
    case 'points':
      return [
        slot('V', 'Unit of the voltages.'),
        comma,
        slot('A', 'Unit of the currents; the rows follow on lines of their own.'),
      ];
    case 'delimiter':
      return [slot('comma | semicolon | tab | pipe | space', meaning, () => true)];
    case 'column':
      return columnSlots(form.dimension);
    case 'columnOrQuantity':
      return columnSlots(form.dimension);
    case 'columnOrTemperature':
      return [...columnSlots('temperature'), ...placeSlots(true)];
    case 'textChange':
      return [quotedText('old', 'Before.'), arrow, quotedText('new', 'After.')];
    case 'typeChange':
      return [slot('name', 'Type of the old module.'), arrow, slot('name', 'Type of the new module.')];
    case 'name':
      return [slot('name', meaning)];
    case 'pinShadow':
      return [
        ...plainQuantity('length'),
        comma,
        word('pin', 'The height of the pin follows.'),
        ...plainQuantity('length'),
      ];
    default:
      return [slot('value', `As in ${codeMarkdown(example)}.`, () => true)];
  }
}

const arrow = slot('->', 'From old to new.', ({ kind }) => kind === 'arrow');

const choiceMeaning = (form: Extract<ValueForm, { kind: 'choice' }>): string =>
  form.choices.map((each) => `- ${codeMarkdown(each.word)}: ${each.meaning}`).join('\n');

function limitSlots(dimension: Dimension): Slot[] {
  const unit = unitSlot([dimension]);
  return [
    slot(
      'least',
      'Leave it out where only the most is limited.',
      (token) => /^[+\-\u2212.\d]/.test(token.text) && isWord(token),
      true,
    ),
    { ...unit, takes: isUnitWord, optional: true },
    slot('..', 'At least what stands before, at most what stands behind.', ({ kind }) => kind === 'range'),
    slot('most', 'Leave it out where only the least is limited.', isWord, true),
    { ...unit, takes: isUnitWord, optional: true },
  ];
}

function temperatureSlots(): Slot[] {
  return [
    numberSlot,
    unitSlot(['temperature']),
    ...uncertaintySlots('temperature', true),
    ...placeSlots(false),
  ];
}

function placeSlots(optional: boolean): Slot[] {
  return [
    word('cell | module', 'Of the cell, or of the back of the module.', optional),
    word('offset', 'Cell minus back of module at 1000 W/m2.', true),
    slot('number', 'Of the offset.', (token) => /^[+\-\u2212.\d]/.test(token.text), true),
    slot('K', 'A temperature difference.', isUnitWord, true),
  ];
}

function columnSlots(dimension: Dimension | undefined): Slot[] {
  const column = slot(
    '"header" | column number',
    'Text of the header, or the number of the column from 1.',
    () => true,
  );
  return dimension ? [column, { ...unitSlot([dimension]), takes: isUnitWord, optional: true }] : [column];
}

function headerSlots(form: HeaderForm, block: string): readonly Slot[] {
  const name = slot('name', `Name of the ${block}: letters, digits and \`. _ -\`.`);
  const title = quotedText('title', 'What people call it.', true);
  const address = (optional = false): Slot =>
    slot(
      'address',
      'A string `1.03`, one module of it `1.03/11` counted from the positive end, or a section `1.03/1-9`.',
      (token) => isWord(token) && token.text !== 'at',
      optional,
    );
  const time = (optional: boolean): Slot[] => [
    word('at', 'The time follows.', optional),
    slot('2026-05-14', 'Day, as year, month, day.', (token) => /^\d{4}-/.test(token.text), optional),
    slot(
      '11:42',
      'Time of the site; seconds and an offset where wanted.',
      (token) => /^\d\d:/.test(token.text),
      optional,
    ),
  ];
  switch (form) {
    case 'name':
      return [name, title];
    case 'run':
      return [
        name,
        slot('..', 'A run of equal strings.', ({ kind }) => kind === 'range', true),
        slot('last', 'Last name of the run.', isWord, true),
        title,
      ];
    case 'addressAtTime':
      return [address(), ...time(false)];
    case 'fromFile':
      return [word('from', 'The table follows.'), quotedText('path', 'Relative to this file.')];
    case 'note':
      return [address(true), ...time(true), quotedText('text', 'The words.')];
    case 'accept':
      return [
        address(),
        ...time(true),
        quotedText('reason', 'Why it is accepted.'),
        word('by', 'Who took the decision.', true),
        quotedText('role', 'Who took the decision.', true),
      ];
    case 'path':
      return [quotedText('path', 'Relative to this file.')];
  }
}
