import { isBlank, isLineEnd } from './characters.js';
import { lexLine } from './lexLine.js';
import type { Line } from './token.js';

const nothing: ReadonlySet<number> = new Set();

/**
 * A header line at column 0 and the lines up to the next header: indented lines, blank lines, comments. What stands before
 * the first header of a file is a block without header. A block knows nothing of where it stands: lines count from its
 * own first line, so that an edit elsewhere leaves it the very same object.
 */
export class Block {
  #lines: readonly Line[] | undefined;
  readonly #derived: { readonly by: (block: Block) => unknown; readonly value: unknown }[] = [];

  constructor(
    /** The text, byte for byte, line ends included. */
    readonly text: string,
    /** A last line without line end counts. */
    readonly lineCount: number,
    /** Lines of the block that are skipped: marks and the second side of a merge conflict. */
    readonly unread: ReadonlySet<number> = nothing,
  ) {}

  /** Read when first asked for, then kept. */
  get lines(): readonly Line[] {
    this.#lines ??= linesOf(this.text, this.unread);
    return this.#lines;
  }

  /**
   * What `by` makes of the block, computed once and kept with it. (A WeakMap would do the same, but one with thousands of
   * keys makes every garbage collection slow.)
   */
  derive<T>(by: (block: Block) => T): T {
    for (const each of this.#derived) if (each.by === by) return each.value as T;
    const value = by(this);
    this.#derived.push({ by, value });
    return value;
  }

  /** Undefined before the first header of a file. */
  get header(): Line | undefined {
    return startsHeader(this.text, 0) && !this.unread.has(0) ? this.lines[0] : undefined;
  }

  /** Last line that says something or is indented; comments and blank lines at the end belong to what follows. */
  get endLine(): number {
    return this.derive(endLineOf);
  }
}

function endLineOf({ lines }: Block): number {
  let last = lines.length - 1;
  while (last > 0 && lines[last]!.tokens.length === 0 && !(lines[last]!.indented && lines[last]!.comment))
    last--;
  return Math.max(last, 0);
}

/** As a blank line is: nothing stands on it that says anything. */
function unreadLine(text: string, number: number): Line {
  return { number, text, indented: true, tokens: [], unread: true };
}

/** Does a block begin at `offset`, which is the start of a line? */
export function startsHeader(text: string, offset: number): boolean {
  if (offset >= text.length) return false;
  const code = text.charCodeAt(offset);
  return !isBlank(code) && code !== 0x23;
}

/** Offset of the next line; `text.length` behind the last. Lines end with LF, CR LF or CR. */
export function nextLine(text: string, offset: number, end: number): number {
  let at = offset;
  while (at < end && !isLineEnd(text.charCodeAt(at))) at++;
  if (at >= end) return end;
  return text.charCodeAt(at) === 0x0d && text.charCodeAt(at + 1) === 0x0a && at + 1 < end ? at + 2 : at + 1;
}

function linesOf(text: string, unread: ReadonlySet<number>): readonly Line[] {
  const lines: Line[] = [];
  for (let start = 0; start < text.length;) {
    const next = nextLine(text, start, text.length);
    let end = next;
    while (end > start && isLineEnd(text.charCodeAt(end - 1))) end--;
    const content = text.slice(start, end);
    const number = lines.length;
    lines.push(unread.has(number) ? unreadLine(content, number) : lexLine(content, number));
    start = next;
  }
  return lines;
}
