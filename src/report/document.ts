/**
 * A report as plain data: what stands on the paper, in order, and nothing of how it is drawn. The writers of HTML, PDF, Markdown
 * and plain text read this and nothing else, so that they cannot disagree. Texts are not escaped.
 */
import type { TopLevelSpec } from 'vega-lite';
import type { VerdictTone } from '../presentation/verdictWords.js';
import type { Picture } from './pictures.js';
import type { Language, Paper } from './reportOptions.js';

/** A piece of a line. */
export interface Span {
  readonly text: string;
  readonly tone?: VerdictTone;
  /** A mark of its own shape before the text; the text says the same. */
  readonly symbol?: string;
  readonly strong?: boolean;
  readonly soft?: boolean;
  /** To the `anchor` of a heading. */
  readonly link?: string;
  /** In another language than the report: what the core says in English. */
  readonly language?: Language;
}

export type Line = string | Span | readonly (string | Span)[];

export interface HeadingBlock {
  readonly kind: 'heading';
  readonly level: 1 | 2 | 3;
  readonly text: Line;
  /** Unique in the document. */
  readonly anchor?: string;
}

export interface ParagraphBlock {
  readonly kind: 'paragraph';
  readonly text: Line;
  readonly small?: boolean;
}

export interface ListBlock {
  readonly kind: 'list';
  readonly items: readonly Line[];
}

/** Names and values, such as client and site. */
export interface FactsBlock {
  readonly kind: 'facts';
  readonly rows: readonly (readonly [name: string, value: Line])[];
}

/** Large numbers with a word each. */
export interface CountsBlock {
  readonly kind: 'counts';
  readonly title: string;
  readonly items: readonly { readonly count: number; readonly mark: Span }[];
}

export interface TableColumn {
  readonly title: string;
  /** Numbers stand at the right and are not broken. */
  readonly align: 'left' | 'right';
  /** Short words that should not be broken where there is room. */
  readonly whole?: boolean;
}

export interface TableBlock {
  readonly kind: 'table';
  readonly caption?: string;
  readonly columns: readonly TableColumn[];
  /** The first cell of a row is its head. */
  readonly rows: readonly (readonly Line[])[];
  /** Room to write by hand in empty cells. */
  readonly tall?: boolean;
}

/** Charts side by side. */
export interface FigureBlock {
  readonly kind: 'figure';
  readonly charts: readonly ReportChart[];
  /** The same in words, for who does not see it. */
  readonly description: string;
  readonly caption?: string;
}

export interface ReportChart {
  readonly key: string;
  readonly spec: TopLevelSpec;
}

export interface ShownPicture {
  readonly picture: Picture;
  /** Of its file, as the campaign writes it. */
  readonly name: string;
  /** What it shows, in the words of who named it. */
  readonly caption: string;
}

/** Photographs, two side by side. */
export interface PicturesBlock {
  readonly kind: 'pictures';
  readonly pictures: readonly ShownPicture[];
}

/** A framed warning. */
export interface CautionBlock {
  readonly kind: 'caution';
  readonly title: string;
  readonly items: readonly Line[];
}

/** Lines to be signed on. */
export interface SignatureBlock {
  readonly kind: 'signature';
  readonly lines: readonly { readonly who: string; readonly fields: readonly string[] }[];
}

/** On paper what follows begins a page. */
export interface PageBreakBlock {
  readonly kind: 'page break';
}

export type Block =
  | HeadingBlock
  | ParagraphBlock
  | ListBlock
  | FactsBlock
  | CountsBlock
  | TableBlock
  | FigureBlock
  | PicturesBlock
  | CautionBlock
  | SignatureBlock
  | PageBreakBlock;

export interface ReportDocument {
  readonly language: Language;
  readonly paper: Paper;
  readonly title: string;
  /** What kind of report it is; stands above the title and in the footer. */
  readonly kind: string;
  readonly author: string;
  /** Begins at the top of the first page. */
  readonly blocks: readonly Block[];
  /** Numbers a page of so many: `Page 3 of 12`. */
  readonly pageText: (page: number, pages: number) => string;
  /** One line at the end of the last page. */
  readonly colophon: string;
}

export const chartsOf = ({ blocks }: ReportDocument): ReportChart[] =>
  blocks.flatMap((block) => (block.kind === 'figure' ? block.charts : []));

/** Everything in it that is a line of words. */
export function linesOf(block: Block): readonly Line[] {
  switch (block.kind) {
    case 'heading':
    case 'paragraph':
      return [block.text];
    case 'list':
      return block.items;
    case 'facts':
      return block.rows.flat();
    case 'counts':
      return [block.title, ...block.items.map(({ mark }) => mark)];
    case 'table':
      return [block.caption ?? '', ...block.columns.map(({ title }) => title), ...block.rows.flat()];
    case 'figure':
      return [block.description, block.caption ?? ''];
    case 'pictures':
      return block.pictures.map(({ caption }) => caption);
    case 'caution':
      return [block.title, ...block.items];
    case 'signature':
      return block.lines.flatMap(({ who, fields }) => [who, ...fields]);
    case 'page break':
      return [];
  }
}

export const spansOf = (line: Line): readonly Span[] => {
  const parts = typeof line === 'string' || 'text' in line ? [line] : line;
  return parts.map((part) => (typeof part === 'string' ? { text: part } : part));
};

/** The words of a line, with the marks of its verdicts. */
export const plainText = (line: Line): string =>
  spansOf(line)
    .map(({ text, symbol }) => (symbol === undefined ? text : `${symbol} ${text}`))
    .join('');
