/** What may be written at the cursor, from the keyword table and the names of the campaign. */
import { blockKeywords, propertiesOf, type PropertyKeyword } from '../campaign/keywords.js';
import type { NamedKind } from '../campaign/model.js';
import type { Dimension } from '../campaign/quantity.js';
import { dimensionNames, unitsOf } from '../campaign/units.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { rangeOnLine, type Position, type Range } from '../text/place.js';
import type { Completion, CompletionKind, OpenFile } from './editorTypes.js';
import { lineContext, propertiesWritten, type LineContext } from './lineContext.js';
import { codeMarkdown } from './markdownText.js';
import { namesAnAddress, namesOf } from './namedThings.js';

type Offer = Omit<Completion, 'range'>;

/**
 * Block keywords at column 0, property keywords at the start of an indented line, then what fits the property: names,
 * words, units. `evaluation` may be one of an older text: only names are taken from it.
 */
export function completionsAt(
  evaluation: Evaluation | undefined,
  open: OpenFile,
  position: Position,
): Completion[] {
  const context = lineContext(open, position);
  if (context.inComment || context.token?.kind === 'quoted') return [];
  const before = context.text.slice(0, position.character);
  const word = /[^\s,"]*$/.exec(before)![0];
  const range = rangeOnLine(position.line, position.character - word.length, position.character);
  return offers(evaluation, open, position, {
    ...context,
    before: before.slice(0, before.length - word.length),
  }).map((offer) => ({ ...offer, range: range satisfies Range }));
}

interface Before extends LineContext {
  /** The line up to the word that is being typed. */
  readonly before: string;
}

function offers(
  evaluation: Evaluation | undefined,
  open: OpenFile,
  position: Position,
  context: Before,
): readonly Offer[] {
  const { before, block, headerLine } = context;
  if (before === '') return blockOffers();
  if (!block || headerLine === undefined) return [];
  if (/^\s+$/.test(before)) {
    const written = propertiesWritten(open, headerLine, position.line);
    return propertyOffers(block.name, written);
  }
  if (context.isHeader) return headerOffers(evaluation, context);
  return context.property ? valueOffers(evaluation, context.property, before) : [];
}

function blockOffers(): Offer[] {
  return blockKeywords.map((block) => ({
    label: block.name,
    kind: 'keyword',
    detail: block.example,
    documentation: `${block.meaning}\n\n${codeMarkdown(block.example)}`,
    insertText: `${block.name} `,
  }));
}

function propertyOffers(block: string, written: ReadonlySet<string>): Offer[] {
  return [...propertiesOf(block).values()]
    .filter((property) => property.repeatable || !written.has(property.name))
    .map((property) => ({
      label: property.name,
      kind: 'property',
      detail: property.example,
      documentation: `${property.meaning}\n\n${codeMarkdown(property.example)}\n\nSource: ${property.source}`,
      insertText: `${property.name} `,
    }));
}

function headerOffers(evaluation: Evaluation | undefined, { block, before, tokens }: Before): Offer[] {
  if (!block) return [];
  const first = before.trim() === block.name;
  if (block.header === 'fromFile') return first ? [plain('from', 'the file follows')] : [];
  if (!namesAnAddress(block.header)) return [];
  if (first) return references(evaluation, ['string']);
  const said = tokens.some((token) => token.text === 'at');
  return block.header !== 'accept' && !said ? [plain('at', 'date and time follow')] : [];
}

function valueOffers(evaluation: Evaluation | undefined, property: PropertyKeyword, before: string): Offer[] {
  const { form } = property;
  const afterNumber = /(^|\s)[+-]?\d+(\.\d+)?\s+$/.test(before);
  switch (form.kind) {
    case 'choice':
      return form.choices.map(({ word, meaning }) => plain(word, meaning));
    case 'reference':
    case 'references':
      return references(evaluation, form.to);
    case 'typeChange':
      return references(evaluation, ['module']);
    case 'modules':
      if (afterNumber) return [plain('x', 'times')];
      return /\sx\s+$/.test(before) ? references(evaluation, ['module']) : [];
    case 'quantity':
      return afterNumber ? unitOffers(form.dimensions) : [];
    case 'limits':
    case 'uncertainty':
      return afterNumber ? [...unitOffers([form.dimension]), ...ofFraction(form.kind, form.dimension)] : [];
    case 'temperature':
    case 'columnOrTemperature':
      return temperatureOffers(before, afterNumber);
    case 'cable':
      return afterNumber
        ? unitOffers(['length', 'area'])
        : [plain('copper', 'conductor'), plain('aluminium', 'conductor')];
    case 'pinShadow':
      return afterNumber ? unitOffers(['length', 'angle']) : [plain('pin', 'length of the pin')];
    case 'delimiter':
      return ['comma', 'semicolon', 'tab', 'pipe', 'space'].map((name) => plain(name, 'delimiter'));
    case 'months':
      return afterNumber ? [plain('months', ''), plain('years', '')] : [];
    case 'mapPosition':
      return afterNumber ? unitOffers(['length']) : [];
    case 'timezone':
      return Intl.supportedValuesOf('timeZone').map((zone) => plain(zone, 'IANA time zone'));
    case 'column':
    case 'columnOrQuantity':
      return [
        plain('column', 'number of the column, from 1'),
        ...unitOffers(form.dimension ? [form.dimension] : []),
      ];
    default:
      return [];
  }
}

function temperatureOffers(before: string, afterNumber: boolean): Offer[] {
  if (afterNumber) return unitOffers(['temperature']);
  if (/(degC|°C)\s+$/.test(before)) {
    return [plain('cell', 'temperature of the cell'), plain('module', 'back of the module; then: offset')];
  }
  if (/\smodule\s+$/.test(before)) return [plain('offset', 'cell minus back of module at 1000 W/m2')];
  if (/^\s+\S+\s+$/.test(before)) return [plain('from Voc', 'equivalent cell temperature, IEC 60904-5')];
  return [];
}

/** An accuracy may be given as a fraction of the value. */
function ofFraction(kind: 'limits' | 'uncertainty', dimension: Dimension): Offer[] {
  return kind === 'uncertainty' && dimension !== 'fraction' ? unitOffers(['fraction']) : [];
}

function unitOffers(dimensions: readonly Dimension[]): Offer[] {
  return dimensions.flatMap((dimension) =>
    unitsOf(dimension).map((unit) => offer(unit, 'unit', dimensionNames[dimension])),
  );
}

function references(evaluation: Evaluation | undefined, kinds: readonly NamedKind[]): Offer[] {
  if (!evaluation) return [];
  return kinds.flatMap((kind) =>
    namesOf(evaluation.campaign, kind).map(([name, { record }]) =>
      offer(name, 'reference', ('title' in record ? record.title : undefined) ?? kind),
    ),
  );
}

const plain = (word: string, detail: string): Offer => offer(word, 'value', detail);

function offer(label: string, kind: CompletionKind, detail: string): Offer {
  return { label, kind, detail, insertText: label };
}
