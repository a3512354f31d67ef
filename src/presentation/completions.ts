/** What may be written at the cursor, from the keyword table, the names of the campaign and the files beside it. */
import { stringOf } from '../campaign/names.js';
import { blockKeywords, propertiesOf } from '../campaign/keywords.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { rangeOnLine, type Position, type Range } from '../text/place.js';
import { blockSnippets } from './blockSnippets.js';
import {
  headerOffers,
  offer,
  plain,
  references,
  valueOffers,
  type CompletionSupplies,
  type Offer,
} from './completionValues.js';
import type { Completion, OpenFile } from './editorTypes.js';
import { lineContext, propertiesWritten, type LineContext } from './lineContext.js';
import { codeMarkdown } from './markdownText.js';
import { namesAnAddress } from './namedThings.js';
import { pathPlace, rankedTables } from './completionPaths.js';

export type { CompletionSupplies } from './completionValues.js';

/**
 * Block keywords at column 0, property keywords at the start of an indented line, then what fits the property: names,
 * words, units, columns, paths. `evaluation` may be one of an older text: only names are taken from it.
 */
export function completionsAt(
  evaluation: Evaluation | undefined,
  open: OpenFile,
  position: Position,
  supplies: CompletionSupplies = {},
): Completion[] {
  const context = lineContext(open, position);
  if (context.inComment) return [];
  if (context.token?.kind === 'quoted' && position.character > context.token.start)
    return quotedOffers(evaluation, open, position, context, supplies);
  const upTo = context.text.slice(0, position.character);
  const word = /[^\s,"]*$/.exec(upTo)![0];
  const range = rangeOnLine(position.line, position.character - word.length, position.character);
  const before = upTo.slice(0, upTo.length - word.length);
  return offers(evaluation, open, position, { ...context, before, word }, supplies).map((each) => ({
    ...each,
    range: range satisfies Range,
  }));
}

interface Before extends LineContext {
  /** The line up to the word that is being typed. */
  readonly before: string;
  readonly word: string;
}

function offers(
  evaluation: Evaluation | undefined,
  open: OpenFile,
  position: Position,
  context: Before,
  supplies: CompletionSupplies,
): readonly Offer[] {
  const { before, block, headerLine, property } = context;
  if (before === '') return blockOffers(evaluation, open, position.line);
  if (!block || headerLine === undefined) return [];
  if (/^\s+$/.test(before)) {
    const written = propertiesWritten(open, headerLine, position.line);
    return propertyOffers(block.name, written);
  }
  if (pathPlace(context)) return pathOffers(evaluation, open, context, supplies).map(inQuotes);
  if (context.isHeader) return offersOfHeader(evaluation, open, position.line, context);
  return property ? valueOffers(evaluation, property, before, supplies) : [];
}

function blockOffers(evaluation: Evaluation | undefined, open: OpenFile, line: number): Offer[] {
  const keywords = blockKeywords.map((block): Offer => ({
    label: block.name,
    kind: 'keyword',
    detail: block.example,
    documentation: `${block.meaning}\n\n${codeMarkdown(block.example)}`,
    insertText: `${block.name} `,
  }));
  const surroundings = { campaign: evaluation?.campaign, lastDay: lastDayAbove(open, line) };
  const wholes = blockSnippets(surroundings).map(({ block, detail, lines }): Offer => ({
    label: `${block} …`,
    kind: 'block',
    detail,
    insertText: lines.join('\n'),
    isSnippet: true,
    filterText: block,
  }));
  return [...keywords, ...wholes];
}

/** Far enough to find the record before; a line costs little. */
const reachUp = 400;

function lastDayAbove(open: OpenFile, line: number): string | undefined {
  for (let above = line - 1; above >= Math.max(0, line - reachUp); above--) {
    const day = /^\S.* at (\d{4}-\d{2}-\d{2})\b/.exec(open.lineAt(above))?.[1];
    if (day !== undefined) return day;
  }
  return undefined;
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

function offersOfHeader(
  evaluation: Evaluation | undefined,
  open: OpenFile,
  line: number,
  { block, before, word, tokens }: Before,
): Offer[] {
  if (!block) return [];
  const first = before.trim() === block.name;
  if (block.header === 'fromFile') return first ? [plain('from', 'the file follows')] : [];
  if (block.header === 'run')
    return /^\S+\s+\S+\s+$/.test(before) ? [plain('..', 'last name of a run of equal strings')] : [];
  if (!namesAnAddress(block.header)) return [];
  if (first) return word.includes('/') ? positions(evaluation, word) : references(evaluation, ['string']);
  if (/\sat\s+$/.test(before)) {
    const day = lastDayAbove(open, line);
    return day === undefined ? [] : [plain(day, 'the day of the record above')];
  }
  if (block.header === 'accept' && before.includes('"'))
    return /"\s+$/.test(before) ? [plain('by', 'who took the decision')] : [];
  return tokens.some((token) => token.text === 'at') ? [] : [plain('at', 'date and time follow')];
}

/** More than any string has in series. */
const mostPositions = 200;

/** The modules of a string, by their positions. */
function positions(evaluation: Evaluation | undefined, word: string): Offer[] {
  const string = stringOf(word);
  const record = evaluation?.campaign.strings.get(string)?.record;
  const count = Math.min(record?.modules?.count ?? 0, mostPositions);
  return Array.from({ length: count }, (_, index) =>
    offer(`${string}/${index + 1}`, 'reference', `module ${index + 1} of ${count}`),
  );
}

/** Inside quotes: a path, a column; nothing in free text. */
function quotedOffers(
  evaluation: Evaluation | undefined,
  open: OpenFile,
  { line }: Position,
  context: LineContext,
  supplies: CompletionSupplies,
): Completion[] {
  const { text, property } = context;
  const token = context.token!;
  const isClosed = token.end > token.start + 1 && text[token.end - 1] === '"';
  const range = rangeOnLine(line, token.start + 1, isClosed ? token.end - 1 : token.end);
  const isColumn =
    property?.form.kind.startsWith('column') === true &&
    context.index === 1 &&
    property.form.kind !== undefined;
  const found = pathPlace(context)
    ? pathOffers(evaluation, open, context, supplies)
    : isColumn
      ? headerOffers(supplies.columns, property.name)
      : [];
  return found.map((each) => ({
    ...each,
    insertText: isClosed ? each.insertText : `${each.insertText}"`,
    range,
  }));
}

function pathOffers(
  evaluation: Evaluation | undefined,
  open: OpenFile,
  context: LineContext,
  supplies: CompletionSupplies,
): Offer[] {
  const place = pathPlace(context);
  if (place === 'campaign')
    return (supplies.campaignFiles ?? []).map((path) => offer(path, 'file', 'campaign file'));
  const address = firstAddress(open, context);
  return rankedTables(supplies.tables ?? [], evaluation, open, address).map(({ path, detail }) =>
    offer(path, 'file', detail),
  );
}

function firstAddress(open: OpenFile, { headerLine }: LineContext): string | undefined {
  return headerLine === undefined ? undefined : /^sweep\s+([^\s"]+)/.exec(open.lineAt(headerLine))?.[1];
}

const inQuotes = (each: Offer): Offer => ({
  ...each,
  insertText: `"${each.insertText}"`,
  filterText: `"${each.label}`,
});
