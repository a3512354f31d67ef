import type { Line, Token, TokenKind } from '../syntax/token.js';
import { rangeOnLine, type Range } from '../text/place.js';
import type { Mend, Problem, Severity } from '../text/problem.js';

/** Reads the tokens of one line from left to right and keeps the first error: one mistake, one problem. */
export class ValueReader {
  #at: number;
  #failed = false;

  constructor(
    readonly line: Line,
    readonly problems: Problem[],
    from = 0,
  ) {
    this.#at = from;
    // A line the lexer could not read has had its one problem.
    this.#failed = line.problem !== undefined;
  }

  /** Has this line had an error? */
  get failed(): boolean {
    return this.#failed;
  }

  get position(): number {
    return this.#at;
  }

  get done(): boolean {
    return this.#at >= this.line.tokens.length;
  }

  peek(ahead = 0): Token | undefined {
    return this.line.tokens[this.#at + ahead];
  }

  take(): Token | undefined {
    const token = this.line.tokens[this.#at];
    if (token) this.#at++;
    return token;
  }

  takeKind(kind: TokenKind): Token | undefined {
    return this.peek()?.kind === kind ? this.take() : undefined;
  }

  /** The next token if it is one of these words. */
  takeWord(...words: readonly string[]): Token | undefined {
    const token = this.peek();
    return token?.kind === 'word' && words.includes(token.text) ? this.take() : undefined;
  }

  nextIs(kind: TokenKind, ahead = 0): boolean {
    return this.peek(ahead)?.kind === kind;
  }

  range(token: Token): Range {
    return rangeOnLine(this.line.number, token.start, token.end);
  }

  span(from: Token, to: Token): Range {
    return rangeOnLine(this.line.number, from.start, to.end);
  }

  /** From the next token to the end of the line's last; the last token where nothing follows. */
  rest(): Range {
    const { tokens } = this.line;
    const last = tokens.at(-1);
    const first = tokens[this.#at] ?? last;
    return first && last ? this.span(first, last) : rangeOnLine(this.line.number, 0, this.line.text.length);
  }

  /** From token number `from` to the one read last. */
  readSince(from: number): Range {
    const first = this.line.tokens[from];
    const last = this.line.tokens[Math.max(from, this.#at - 1)];
    return first && last ? this.span(first, last) : this.rest();
  }

  /** Right behind the last token: where something is missing. */
  get end(): Range {
    const column = this.line.tokens.at(-1)?.end ?? 0;
    return rangeOnLine(this.line.number, column, column);
  }

  /** Reports an error unless the line has had one. Always answers undefined, so that a decoder can return it. */
  fail(id: string, range: Range, message: string, mends?: readonly Mend[]): undefined {
    if (!this.#failed) this.problems.push(problem(id, 'error', range, message, mends));
    this.#failed = true;
    return undefined;
  }

  warn(id: string, range: Range, message: string, mends?: readonly Mend[]): void {
    if (!this.#failed) this.problems.push(problem(id, 'warning', range, message, mends));
  }

  /** Reports what is left over on the line. */
  finish(expected: string): void {
    if (this.done) return;
    const range = this.rest();
    const surplus = this.line.text.slice(range.start.character, range.end.character);
    this.fail('value/surplus', range, `\`${shorten(surplus)}\` is too much here. ${expected}`, [
      { title: 'Remove it', range, text: '' },
    ]);
  }
}

export function problem(
  id: string,
  severity: Severity,
  range: Range,
  message: string,
  mends?: readonly Mend[],
): Problem {
  return mends && mends.length > 0
    ? { id, severity, message, range, mends }
    : { id, severity, message, range };
}

/** For messages: long text cut. */
export function shorten(text: string): string {
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}

/** The mend that replaces a word by the one that was likely meant. */
export function replaceMend(range: Range, text: string | undefined): Mend[] | undefined {
  return text === undefined ? undefined : [{ title: `Write \`${text}\``, range, text }];
}

/** ` Did you mean \`X\`?`, or nothing. */
export function didYouMean(word: string | undefined): string {
  return word === undefined ? '' : ` Did you mean \`${word}\`?`;
}
