/** What each word of a text is, beyond its shape: a name given or referred to, an address, a quantity, its unit. */
import { findBlockKeyword, findProperty, type PropertyKeyword } from '../campaign/keywords.js';
import { isPointRow } from '../campaign/readPoints.js';
import { unitsWritten } from '../campaign/units.js';
import type { Block } from '../syntax/block.js';
import type { Document } from '../syntax/document.js';
import type { Line, Token } from '../syntax/token.js';
import { finish, type Steps } from '../text/steps.js';
import { namesOfBlock, startsOtherBlock, type NameOccurrence } from './nameOccurrences.js';

export const semanticTypes = [
  'keyword',
  'property',
  'campaignName',
  'deviceAddress',
  'quantity',
  'quantityUnit',
  'string',
  'enumMember',
] as const;
export const semanticModifiers = ['declaration'] as const;

export type SemanticType = (typeof semanticTypes)[number];

export interface SemanticToken {
  readonly line: number;
  readonly start: number;
  readonly length: number;
  readonly type: SemanticType;
  readonly declares: boolean;
}

/** In the order of the text, with lines of the document. */
export function semanticTokens(document: Document): SemanticToken[] {
  return document.blocks.flatMap(({ block, startLine }) =>
    block.derive(tokensOfBlock).map((token) => ({ ...token, line: token.line + startLine })),
  );
}

/**
 * Five numbers a token, each place relative to the one before: line, start, length, number of the type, modifiers as
 * bits (Language Server Protocol 3.17, semantic tokens).
 */
export const encodeSemanticTokens = (document: Document): Uint32Array => finish(semanticTokenSteps(document));

/** The same, with a step for each block. */
export function* semanticTokenSteps(document: Document): Steps<Uint32Array> {
  const parts: { readonly tokens: readonly SemanticToken[]; readonly startLine: number }[] = [];
  for (const { block, startLine } of document.blocks) {
    parts.push({ tokens: block.derive(tokensOfBlock), startLine });
    yield;
  }
  const data = new Uint32Array(5 * parts.reduce((sum, { tokens }) => sum + tokens.length, 0));
  let at = 0;
  let lastLine = 0;
  let lastStart = 0;
  for (const { tokens, startLine } of parts) {
    for (const { line, start, length, type, declares } of tokens) {
      const absolute = line + startLine;
      data[at] = absolute - lastLine;
      data[at + 1] = absolute === lastLine ? start - lastStart : start;
      data[at + 2] = length;
      data[at + 3] = semanticTypes.indexOf(type);
      data[at + 4] = declares ? 1 : 0;
      at += 5;
      lastLine = absolute;
      lastStart = start;
    }
  }
  return data;
}

function tokensOfBlock(block: Block): readonly SemanticToken[] {
  const { header } = block;
  const keyword = header && findBlockKeyword(header.tokens[0]?.text ?? '');
  if (!keyword) return [];
  const names = namesOfBlock(block);
  // Names and tokens stand in the same order.
  let next = 0;
  const found: SemanticToken[] = [];
  for (const line of block.lines) {
    const isHeader = line === header;
    if (!isHeader && startsOtherBlock(keyword, line)) break;
    const property = isHeader ? undefined : findProperty(keyword.name, line.tokens[0]?.text ?? '');
    if (!isHeader && !property && !isPointRow(line)) continue;
    const add = (start: number, end: number, type: SemanticType, declares = false): void => {
      if (end > start) found.push({ line: line.number, start, length: end - start, type, declares });
    };
    for (const [index, token] of line.tokens.entries()) {
      const name = startsAt(names[next], line.number, token.start) ? names[next++] : undefined;
      if (index === 0 && (isHeader || property))
        add(token.start, token.end, isHeader ? 'keyword' : 'property');
      else if (name) {
        const isAddress = name.space === 'string' && !name.isGiven;
        add(token.start, token.end, isAddress ? 'deviceAddress' : 'campaignName', name.isGiven);
      } else if (isHeader && keyword.header === 'run' && index === 3 && line.tokens[2]!.kind === 'range')
        add(token.start, token.end, 'campaignName', true);
      else addValue(line, index, property, add);
    }
  }
  return found;
}

const startsAt = (name: NameOccurrence | undefined, line: number, start: number): boolean =>
  name !== undefined && name.range.start.line === line && name.range.start.character === start;

type Add = (start: number, end: number, type: SemanticType, declares?: boolean) => void;

const numberPattern = /^[+\-\u2212]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?(?![\p{L}\p{N}]*[-:/]\d)/u;

function addValue(line: Line, index: number, property: PropertyKeyword | undefined, add: Add): void {
  const { kind, text, start, end } = line.tokens[index]!;
  if (kind === 'quoted') return add(start, end, 'string');
  if (kind !== 'word') return;
  // First of all: `1/K` begins like a number.
  if (property && isUnitPlace(line.tokens, index, property) && unitsWritten(text).length > 0)
    return add(start, end, 'quantityUnit');
  const looksNumeric = /^[+\-\u2212.]?\d/.test(text);
  if (looksNumeric && isDateOrTime(text)) return;
  const number = looksNumeric && (property || isPointRow(line)) ? numberPattern.exec(text)?.[0] : undefined;
  if (number !== undefined) {
    add(start, start + number.length, 'quantity');
    if (unitsWritten(text.slice(number.length)).length > 0) add(start + number.length, end, 'quantityUnit');
    return;
  }
  if (property?.form.kind === 'choice' && property.form.choices.some(({ word }) => word === text))
    add(start, end, 'enumMember');
}

const isDateOrTime = (text: string): boolean => /^\d{4}-\d{2}|^\d{2}:\d{2}/.test(text);

/** Behind a number or a column, or on the line of units above a table of points. */
function isUnitPlace(tokens: readonly Token[], index: number, { form }: PropertyKeyword): boolean {
  const before = tokens[index - 1]!;
  return form.kind === 'points' || before.kind === 'quoted' || /^[+\-\u2212.]?\d/.test(before.text);
}
