/** Puts the parts of a report together; see document.ts for what it is made of. */
import { stringOf } from '../campaign/names.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { campaignModel } from '../presentation/campaignModel.js';
import { limitsPart, methodPart, signaturePart } from './closing.js';
import { contextOf, type ReportContext } from './context.js';
import { linesOf, spansOf, type Block, type ReportDocument } from './document.js';
import { faultPart } from './faultList.js';
import { namedFilesPart } from './namedFiles.js';
import { cautionPart, cover, instrumentsPart, needsCautions, nextPart, summary, titleOf } from './opening.js';
import type { Pictures } from './pictures.js';
import type { ReportOptions } from './reportOptions.js';
import { translatorTo } from './sentences/translator.js';
import { byUrgency, stringStandings, type StringStanding } from './standings.js';
import { stringPart } from './stringPart.js';
import {
  comparisonsPart,
  electricalPart,
  overviewPart,
  problemsPart,
  stringTable,
  sweepsPart,
} from './tables.js';

/**
 * @param pictures that notes name; one that is not among them is listed by its name alone
 * @param translateTo makes the translator; for who wants to know what was translated
 */
export function reportDocument(
  evaluation: Evaluation,
  options: ReportOptions,
  pictures: Pictures = new Map(),
  translateTo = translatorTo,
): ReportDocument {
  const context = contextOf(evaluation, options, pictures, translateTo);
  const { words } = context;
  return {
    language: options.language,
    paper: options.paper,
    title: titleOf(context),
    kind: options.string === undefined ? words.contents[options.content] : words.contents.string,
    author: evaluation.campaign.campaign?.record.operator ?? '',
    blocks: withNotice(blocksOf(context), words.englishSentences),
    pageText: words.page,
    colophon: words.colophon(options.version, evaluation.files.map(options.display).join(', ')),
  };
}

/** Says below the facts that some sentences are in English, if there is one. */
function withNotice(blocks: readonly Block[], notice: string): readonly Block[] {
  const isEnglish = blocks.some((block) =>
    linesOf(block).some((line) => spansOf(line).some(({ language }) => language === 'en')),
  );
  if (!isEnglish) return blocks;
  const behind = blocks.findIndex(({ kind }) => kind === 'facts') + 1;
  return [
    ...blocks.slice(0, behind),
    { kind: 'paragraph', text: notice, small: true },
    ...blocks.slice(behind),
  ];
}

function blocksOf(context: ReportContext): Block[] {
  const { content, string } = context.options;
  if (string !== undefined) return oneString(context, string);
  if (content === 'summary') return clientSummary(context);
  return content === 'faults' ? faults(context) : full(context);
}

const pageBreak: Block = { kind: 'page break' };

function full(context: ReportContext): Block[] {
  const { evaluation } = context;
  const model = campaignModel(evaluation);
  const rows = stringStandings(evaluation);
  const anchors = anchorsOf(rows);
  return [
    ...cover(context),
    ...summary(context),
    ...nextPart(context),
    ...(needsCautions(context) ? [cautionPart(context)] : []),
    ...instrumentsPart(context),
    ...overviewPart(context, model),
    ...stringTable(context, rows, anchors),
    ...sweepsPart(context),
    ...electricalPart(context),
    ...comparisonsPart(context, model),
    ...rows
      .filter(hasSection(evaluation))
      .flatMap((row, index) => [
        ...(index === 0 ? [pageBreak] : []),
        ...stringPart(context, row, model, anchors.get(row.string)!),
      ]),
    pageBreak,
    ...methodPart(context),
    ...namedFilesPart(context),
    ...problemsPart(context, model),
    ...limitsPart(context),
    ...(needsCautions(context) ? [] : [cautionPart(context)]),
    ...signaturePart(context, 'report'),
  ];
}

/** A declared string that nothing was measured on, and that nobody wrote of, is told by the table of strings alone. */
function hasSection({ sweeps, electricalTests, campaign }: Evaluation): (row: StringStanding) => boolean {
  const told = new Set([...sweeps, ...electricalTests].map(({ address }) => stringOf(address)));
  for (const { record } of campaign.entries)
    if ((record.kind === 'note' || record.kind === 'replace') && record.address)
      told.add(stringOf(record.address.text));
  return ({ string }) => told.has(string);
}

const anchorsOf = (rows: readonly StringStanding[]): Map<string, string> =>
  new Map(rows.map(({ string }, index) => [string, `string-${index + 1}`]));

function oneString(context: ReportContext, name: string): Block[] {
  const { evaluation } = context;
  const model = campaignModel(evaluation);
  const row = stringStandings(evaluation).find(({ string }) => string === name);
  const proposal = row?.case?.proposal;
  return [
    ...cover(context),
    ...(row ? stringPart(context, row, model, 'string-1') : []),
    ...(proposal?.disconnects ? [cautionPart(context)] : []),
    ...instrumentsPart(context),
    ...methodPart(context),
    ...limitsPart(context),
    ...(proposal?.disconnects ? [] : [cautionPart(context)]),
    ...signaturePart(context, 'report'),
  ];
}

/** What fits on the second of two pages. */
const mostRows = 24;
const mostSteps = 5;

function clientSummary(context: ReportContext): Block[] {
  const { evaluation, words } = context;
  const rows = byUrgency(stringStandings(evaluation));
  const left = rows.length - mostRows;
  return [
    ...cover(context),
    ...summary(context),
    ...nextPart(context, mostSteps),
    ...(needsCautions(context) ? [shortCaution(context)] : []),
    pageBreak,
    ...stringTable(context, rows.slice(0, mostRows)),
    ...(left > 0 ? [{ kind: 'paragraph', text: words.counts.moreInFull(left) } as const] : []),
    ...signaturePart(context, 'report'),
  ];
}

/** The first three: that strings are live, that the load is opened first, that arcs do not go out. */
function shortCaution(context: ReportContext): Block {
  const whole = cautionPart(context);
  return whole.kind === 'caution' ? { ...whole, items: whole.items.slice(0, 3) } : whole;
}

/** Without a fault there is nothing to take care of and nobody to sign. */
function faults(context: ReportContext): Block[] {
  const list = faultPart(context);
  const isEmpty = !list.some(({ kind }) => kind === 'table');
  return [
    ...cover(context),
    ...(isEmpty ? [] : [cautionPart(context)]),
    ...list,
    ...(isEmpty ? [] : signaturePart(context, 'repair')),
  ];
}
