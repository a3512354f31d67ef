/** Hovers: what a word of the notation means, what a number is in other units, what a name names, how a sweep came out. */
import type { Choice } from '../campaign/valueForms.js';
import type { BlockKeyword, PropertyKeyword } from '../campaign/keywords.js';
import type { Placed } from '../campaign/model.js';
import type { Quantity } from '../campaign/quantity.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { contains, shiftRange, type Position } from '../text/place.js';
import type { Hover, OpenFile } from './editorTypes.js';
import { lineContext, tokenRange, type LineContext } from './lineContext.js';
import { codeMarkdown, escapeMarkdown } from './markdownText.js';
import { findNamed, referredKinds } from './namedThings.js';
import { electricalMarkdown } from './electricalHover.js';
import { quantityMarkdown } from './quantityHover.js';
import { recordMarkdown } from './recordHover.js';
import { sweepMarkdown, tableOfSweepsMarkdown } from './sweepHover.js';

/** The hover at a position; undefined where there is nothing to say. */
export function hoverAt(evaluation: Evaluation, open: OpenFile, position: Position): Hover | undefined {
  const context = lineContext(open, position);
  const { token, index, isHeader, block, property } = context;
  if (context.inComment || !token || !block) return undefined;
  const range = tokenRange(position.line, token);
  const placed = entryAt(evaluation, open.file, context);
  if (isHeader) {
    const markdown = headerMarkdown(evaluation, context, block, placed);
    return markdown === undefined ? undefined : { markdown, range };
  }
  if (index === 0) return property && { markdown: propertyMarkdown(property), range };
  const quantity = placed && quantityAt(placed, position);
  if (quantity) {
    const absolute = shiftRange(quantity.range, placed.block.startLine);
    return { markdown: quantityMarkdown(quantity), range: absolute };
  }
  const named = findNamed(evaluation.campaign, referredKinds(context), token.text);
  if (named) return { markdown: recordMarkdown(evaluation, named, token.text), range };
  const choice = property && choiceAt(property, token.text);
  return choice && { markdown: `${codeMarkdown(choice.word)}: ${choice.meaning}`, range };
}

function entryAt(evaluation: Evaluation, file: string, { headerLine }: LineContext): Placed | undefined {
  return evaluation.campaign.entries.find(
    ({ block }) => block.file === file && block.startLine === headerLine,
  );
}

/** The keyword explains itself; behind it stands what the header speaks of. */
function headerMarkdown(
  evaluation: Evaluation,
  context: LineContext,
  block: BlockKeyword,
  placed: Placed | undefined,
): string | undefined {
  const sweeps = placed ? sweepsOf(evaluation, placed) : [];
  const test = placed && evaluation.electricalTests.find((each) => each.record === placed.record);
  const results = sweeps.length > 0 ? sweepsMarkdown(placed!, sweeps) : test && electricalMarkdown(test);
  if (context.index === 0) {
    const own = blockMarkdown(block);
    const shown = placed?.record.kind === 'site' ? recordMarkdown(evaluation, placed, '') : results;
    return shown === undefined ? own : `${shown}\n\n---\n\n${own}`;
  }
  if (results !== undefined) return results;
  const text = context.token!.text;
  const named = findNamed(evaluation.campaign, referredKinds(context), text) ?? placed;
  return named && 'name' in named.record ? recordMarkdown(evaluation, named, text) : undefined;
}

function sweepsOf(evaluation: Evaluation, { block }: Placed): readonly EvaluatedSweep[] {
  return evaluation.sweeps.filter(
    (sweep) => sweep.block.file === block.file && sweep.block.startLine === block.startLine,
  );
}

const sweepsMarkdown = ({ record }: Placed, sweeps: readonly EvaluatedSweep[]): string =>
  record.kind === 'sweeps' ? tableOfSweepsMarkdown(sweeps) : sweepMarkdown(sweeps[0]!);

export function blockMarkdown(block: BlockKeyword): string {
  return keywordMarkdown(block.name, block.meaning, block.source, block.example);
}

function propertyMarkdown(property: PropertyKeyword): string {
  const needed = property.requiredFor ? `\n\nNeeded for ${property.requiredFor}.` : '';
  const { form } = property;
  const words = form.kind === 'choice' ? `\n\n${form.choices.map(choiceLine).join('\n')}` : '';
  return keywordMarkdown(property.name, property.meaning + words + needed, property.source, property.example);
}

const choiceLine = ({ word, meaning }: Choice): string => `- ${codeMarkdown(word)}: ${meaning}`;

function keywordMarkdown(name: string, meaning: string, source: string, example: string): string {
  return `**${escapeMarkdown(name)}**\n\n${meaning}\n\n${codeMarkdown(example)}\n\nSource: ${escapeMarkdown(source)}`;
}

function choiceAt({ form }: PropertyKeyword, text: string): Choice | undefined {
  return form.kind === 'choice' ? form.choices.find((choice) => choice.word === text) : undefined;
}

/** The quantity of a record whose number or unit is at a position of the file. */
export function quantityAt({ record, block }: Placed, position: Position): Quantity | undefined {
  const relative = { line: position.line - block.startLine, character: position.character };
  const search = (value: unknown): Quantity | undefined => {
    if (typeof value !== 'object' || value === null || value instanceof Map) return undefined;
    if (isQuantity(value)) return contains(value.range, relative) ? value : undefined;
    for (const part of Object.values(value)) {
      const found = typeof part === 'object' ? search(part) : undefined;
      if (found) return found;
    }
    return undefined;
  };
  return search(record);
}

function isQuantity(value: object): value is Quantity {
  return 'dimension' in value && 'writtenValue' in value;
}
