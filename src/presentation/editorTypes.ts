import type { Range } from '../text/place.js';

/** Markdown with the user's text escaped: it needs no trust and carries no commands, HTML or links. */
export interface Hover {
  readonly markdown: string;
  readonly range: Range;
}

export type SymbolKind =
  | 'campaign'
  | 'site'
  | 'plane'
  | 'module'
  | 'string'
  | 'instrument'
  | 'layout'
  | 'criteria'
  | 'sweep'
  | 'event';

/** One line of the outline. Ranges are absolute in the file. */
export interface OutlineSymbol {
  readonly name: string;
  readonly detail: string;
  readonly kind: SymbolKind;
  readonly range: Range;
  /** The header line. */
  readonly selectionRange: Range;
  readonly children: readonly OutlineSymbol[];
}

export type CompletionKind =
  'keyword' | 'property' | 'reference' | 'unit' | 'value' | 'block' | 'file' | 'column';

export interface Completion {
  readonly label: string;
  readonly kind: CompletionKind;
  /** A few words behind the label. */
  readonly detail: string;
  /** Markdown, escaped. */
  readonly documentation?: string;
  readonly insertText: string;
  /** `insertText` holds tab stops: `$1`, `${2:text}`, `${3|one,other|}`; `$`, `}` and `\\` of its own are escaped. */
  readonly isSnippet?: boolean;
  /** What the typed letters are held against, where it is not the label. */
  readonly filterText?: string;
  /** What is replaced: the word up to the cursor; between quotes, all of it. */
  readonly range: Range;
}

/** What a feature needs of the host about the file in question, besides the evaluation. */
export interface OpenFile {
  readonly file: string;
  /** Text of a line without its end, from 0; empty beyond the file. */
  lineAt(line: number): string;
  /** The file that a path written in this file names; undefined when it would leave the workspace folder. */
  resolve(relative: string): string | undefined;
}
