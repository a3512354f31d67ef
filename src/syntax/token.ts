import type { Problem } from '../text/problem.js';

export type TokenKind = 'word' | 'quoted' | 'comma' | 'range' | 'plusMinus' | 'arrow';

/** A piece of a line. Columns count UTF-16 code units from the start of the line. */
export interface Token {
  readonly kind: TokenKind;
  /** What it says: the text between the quotes of a quoted piece, the text itself of all others. */
  readonly text: string;
  readonly start: number;
  /** Behind the last character, closing quote included. */
  readonly end: number;
}

export interface Comment {
  /** With its `#`. */
  readonly text: string;
  readonly start: number;
}

/** One line, without its line end. */
export interface Line {
  /** Counted from the first line of the block. */
  readonly number: number;
  readonly text: string;
  /** Does it start with white space? */
  readonly indented: boolean;
  readonly tokens: readonly Token[];
  readonly comment?: Comment;
  /** What the line itself has wrong, whatever it means: an open quote, a stray character. At most one. */
  readonly problem?: Problem;
  /** Skipped, as part of a merge conflict: a formatter leaves it as it is. */
  readonly unread?: boolean;
}
