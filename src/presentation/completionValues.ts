/** What may stand behind a property keyword, at the cursor: names, words, units, columns, paths, signs. */
import type { PropertyKeyword } from '../campaign/keywords.js';
import type { NamedKind } from '../campaign/model.js';
import type { Dimension } from '../campaign/quantity.js';
import { dimensionNames, unitsOf } from '../campaign/units.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import type { Completion, CompletionKind } from './editorTypes.js';
import { quotedText } from '../syntax/quotedText.js';
import { namesOf } from './namedThings.js';
import type { TableColumn } from './tableColumns.js';

export type Offer = Omit<Completion, 'range'>;

/** What only the host can see, where `completionNeeds` asked for it. */
export interface CompletionSupplies {
  /** Paths relative to the file that is edited, with `/`. */
  readonly tables?: readonly string[];
  readonly campaignFiles?: readonly string[];
  /** Of the table that the block speaks of. */
  readonly columns?: readonly TableColumn[];
}

/** A number that is complete, with a space behind it. */
const afterNumber = /(^|[\s,±])[+\-\u2212]?(\d+\.?\d*|\.\d+)\s+$/;

/** @param before the line up to the word that is being typed */
export function valueOffers(
  evaluation: Evaluation | undefined,
  property: PropertyKeyword,
  before: string,
  supplies: CompletionSupplies,
): Offer[] {
  const { form } = property;
  const isAfterNumber = afterNumber.test(before);
  /** Nothing but the property keyword stands before the cursor. */
  const isFirst = /^\s+\S+\s+$/.test(before);
  const part = before.slice(before.lastIndexOf(',') + 1);
  switch (form.kind) {
    case 'choice':
      return isFirst ? form.choices.map(({ word, meaning }) => plain(word, meaning)) : [];
    case 'reference':
      return isFirst ? references(evaluation, form.to) : [];
    case 'references':
      return isFirst || /,\s*$/.test(before) ? instrumentsLeft(evaluation, form.to, before) : [];
    case 'typeChange':
      if (isFirst || /->\s*$/.test(before)) return references(evaluation, ['module']);
      return before.includes('->') ? [] : [plain('->', 'the new type follows')];
    case 'textChange':
      return isFirst || before.includes('->') ? [] : [plain('->', 'the new one follows')];
    case 'modules':
      if (isAfterNumber) return [plain('x', 'times')];
      return /\d\s*[x×*]\s+$/.test(before) ? references(evaluation, ['module']) : [];
    case 'quantity':
      if (isAfterNumber) return unitOffers(form.dimensions.flatMap((each) => withFraction(each, before)));
      return isFirst || before.includes('±') ? [] : [plusMinus];
    case 'limits':
      if (isAfterNumber) return unitOffers([form.dimension]);
      return before.includes('..') ? [] : [plain('..', 'open on the other side, or up to')];
    case 'uncertainty':
      if (isAfterNumber) return unitOffers(uncertaintyDimensions(form.dimension));
      if (isFirst) return [plusMinus];
      return before.includes('k=') ? [] : [plain('k=1', 'coverage factor, where it is not 2')];
    case 'temperature':
      return temperatureOffers(before, isAfterNumber);
    case 'columnOrTemperature':
      return isFirst
        ? [...columnOffers(supplies.columns, 'temperature'), plain('from Voc', 'equivalent cell temperature')]
        : temperatureOffers(before, isAfterNumber);
    case 'cable':
      return cableOffers(before, part, isAfterNumber);
    case 'delimiter':
      return isFirst
        ? ['comma', 'semicolon', 'tab', 'pipe', 'space'].map((name) => plain(name, 'delimiter'))
        : [];
    case 'months':
      return isAfterNumber ? [plain('months', ''), plain('years', '')] : [];
    case 'pinShadow':
      if (/,\s*$/.test(before)) return [plain('pin', 'the height of the pin follows')];
      return isAfterNumber ? unitOffers(['length']) : [];
    case 'mapPosition':
      return isAfterNumber ? unitOffers(['length']) : [];
    case 'points':
      return isFirst ? [plain('V, A', 'volts, then amperes')] : [];
    case 'coordinates':
      return afterNumber.test(part) ? sides(before.includes(',')) : [];
    case 'timezone':
      return isFirst ? Intl.supportedValuesOf('timeZone').map((zone) => plain(zone, 'IANA time zone')) : [];
    case 'column':
    case 'columnOrQuantity':
      if (isFirst) return columnOffers(supplies.columns, property.name);
      return form.dimension ? unitOffers([form.dimension]) : [];
    default:
      return [];
  }
}

const plusMinus = offer('±', 'value', 'uncertainty, k = 2');

const sides = (isSecond: boolean): Offer[] =>
  isSecond ? [plain('E', 'east'), plain('W', 'west')] : [plain('N', 'north'), plain('S', 'south')];

/** Behind `±` an uncertainty may be a fraction of the value. */
function withFraction(dimension: Dimension, before: string): readonly Dimension[] {
  return before.includes('±') ? uncertaintyDimensions(dimension) : [dimension];
}

function uncertaintyDimensions(dimension: Dimension): readonly Dimension[] {
  const difference = dimension === 'temperature' ? 'temperatureDifference' : dimension;
  return difference === 'fraction' ? ['fraction'] : ['fraction', difference];
}

function temperatureOffers(before: string, isAfterNumber: boolean): Offer[] {
  if (/\soffset\s+\S+\s+$/.test(before)) return unitOffers(['temperatureDifference']);
  if (isAfterNumber) return unitOffers(['temperature']);
  if (/(degC|°C|\u2103|")\s+$/.test(before)) {
    return [plain('cell', 'temperature of the cell'), plain('module', 'back of the module; then: offset')];
  }
  if (/\smodule\s+$/.test(before)) return [plain('offset', 'cell minus back of module at 1000 W/m2')];
  if (/^\s+\S+\s+$/.test(before)) return [plain('from Voc', 'equivalent cell temperature, IEC 60904-5')];
  return [];
}

function cableOffers(before: string, part: string, isAfterNumber: boolean): Offer[] {
  const commas = before.split(',').length - 1;
  if (commas > 1) return [plain('copper', 'conductor'), plain('aluminium', 'conductor')];
  return isAfterNumber && afterNumber.test(part) ? unitOffers([commas === 0 ? 'length' : 'area']) : [];
}

/** One tracer and one reference serve a sweep: what is named leaves those of the other kind. */
function instrumentsLeft(
  evaluation: Evaluation | undefined,
  kinds: readonly NamedKind[],
  before: string,
): Offer[] {
  const written = new Set(before.split(/[\s,]+/));
  const left = kinds.filter(
    (kind) => !evaluation || !namesOf(evaluation.campaign, kind).some(([name]) => written.has(name)),
  );
  return references(evaluation, left);
}

export function references(evaluation: Evaluation | undefined, kinds: readonly NamedKind[]): Offer[] {
  if (!evaluation) return [];
  return kinds.flatMap((kind) =>
    namesOf(evaluation.campaign, kind).map(([name, { record }]) =>
      offer(name, 'reference', ('title' in record ? record.title : undefined) ?? kind),
    ),
  );
}

/** Columns that are read as `role` come first. */
function columnOffers(columns: readonly TableColumn[] | undefined, role: string): Offer[] {
  const sorted = [...(columns ?? [])].sort((a, b) => Number(b.role === role) - Number(a.role === role));
  const offers = sorted.map(({ header, number, role: own }) =>
    header === undefined
      ? offer(`column ${number}`, 'column', own ? `read as ${own}` : 'of the table')
      : offer(
          quotedText(header) ?? `column ${number}`,
          'column',
          `column ${number}${own ? `, read as ${own}` : ''}`,
        ),
  );
  return [...offers, plain('column', 'number of the column, from 1')];
}

/** Between the quotes of a column. */
export function headerOffers(columns: readonly TableColumn[] | undefined, role: string): Offer[] {
  return columnOffers(columns, role)
    .filter(({ label }) => label.startsWith('"'))
    .map((each) => {
      const text = each.label.slice(1, -1);
      return { ...each, label: text.replaceAll('""', '"'), insertText: text };
    });
}

function unitOffers(dimensions: readonly Dimension[]): Offer[] {
  return dimensions.flatMap((dimension) =>
    unitsOf(dimension).map((unit) => offer(unit, 'unit', dimensionNames[dimension])),
  );
}

export const plain = (word: string, detail: string): Offer => offer(word, 'value', detail);

export function offer(label: string, kind: CompletionKind, detail: string): Offer {
  return { label, kind, detail, insertText: label };
}
