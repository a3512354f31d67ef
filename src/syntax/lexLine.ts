import { rangeOnLine } from '../text/place.js';
import type { Mend, Problem } from '../text/problem.js';
import { codePointName, isBlank, isStray } from './characters.js';
import type { Comment, Line, Token, TokenKind } from './token.js';

const quote = 0x22;
const comma = 0x2c;
const hash = 0x23;
/** Quotes that a word processor makes of straight ones. */
const typographicQuotes = new Set([0x201c, 0x201d, 0x201e, 0x201f, 0xab, 0xbb]);

const marks: readonly (readonly [string, TokenKind])[] = [
  ['..', 'range'],
  ['±', 'plusMinus'],
  ['+-', 'plusMinus'],
  ['+/-', 'plusMinus'],
  ['->', 'arrow'],
  ['→', 'arrow'],
];

/** Takes one line apart. Never throws; whatever it cannot read it reports and steps over. */
export function lexLine(text: string, number: number): Line {
  const lexer = new LineLexer(text, number);
  return lexer.run();
}

class LineLexer {
  readonly #tokens: Token[] = [];
  #comment: Comment | undefined;
  #problem: Problem | undefined;
  #at = 0;

  constructor(
    readonly text: string,
    readonly number: number,
  ) {}

  run(): Line {
    const { text } = this;
    while (this.#at < text.length) this.#step(text.charCodeAt(this.#at));
    const line: Line = {
      number: this.number,
      text,
      indented: text.length > 0 && isBlank(text.charCodeAt(0)),
      tokens: this.#tokens,
    };
    return this.#comment || this.#problem
      ? { ...line, comment: this.#comment, problem: this.#problem }
      : line;
  }

  #step(code: number): void {
    const start = this.#at;
    if (isBlank(code)) this.#at++;
    else if (code === hash) this.#readComment();
    else if (code === quote) this.#readQuoted();
    else if (typographicQuotes.has(code)) this.#readTypographic();
    else if (code === comma) this.#push('comma', start + 1);
    else if (isStray(code)) {
      this.#reportStray(start, code);
      this.#at++;
    } else {
      const mark = this.#markAt(start);
      if (mark) this.#push(mark[1], start + mark[0].length);
      else this.#push('word', this.#endOfWord(start));
    }
  }

  #push(kind: TokenKind, end: number, text = this.text.slice(this.#at, end)): void {
    this.#tokens.push({ kind, text, start: this.#at, end });
    this.#at = end;
  }

  #markAt(at: number): readonly [string, TokenKind] | undefined {
    return marks.find(([written]) => this.text.startsWith(written, at));
  }

  #endOfWord(start: number): number {
    let at = start + 1;
    for (; at < this.text.length; at++) {
      const code = this.text.charCodeAt(at);
      if (isBlank(code) || code === hash || code === quote || code === comma) break;
      if (isStray(code) || typographicQuotes.has(code)) break;
      // Every mark starts with one of `. + - ± →`.
      if (
        (code === 0x2e || code === 0x2b || code === 0x2d || code === 0xb1 || code === 0x2192) &&
        this.#markAt(at)
      )
        break;
    }
    return at;
  }

  #readComment(): void {
    this.#comment = { text: this.text.slice(this.#at), start: this.#at };
    this.#checkStray(this.#at, this.text.length);
    this.#at = this.text.length;
  }

  /** Between straight quotes; a quote within is written twice. */
  #readQuoted(): void {
    const start = this.#at;
    let close = this.text.indexOf('"', start + 1);
    while (close >= 0 && this.text.charCodeAt(close + 1) === quote) close = this.text.indexOf('"', close + 2);
    const end = close < 0 ? this.text.trimEnd().length : close + 1;
    const inner = this.text.slice(start + 1, close < 0 ? end : close).replaceAll('""', '"');
    this.#checkStray(start, end);
    if (close < 0) {
      const mend: Mend = {
        title: 'Close the quote at the end of the line',
        range: rangeOnLine(this.number, end, end),
        text: '"',
      };
      this.#report(
        'syntax/unclosed-quote',
        start,
        end,
        'This quote is not closed on its line. Close it with `"`.',
        [mend],
      );
    }
    this.#push('quoted', end, inner);
    if (close < 0) this.#at = this.text.length;
  }

  #readTypographic(): void {
    const start = this.#at;
    let close = start + 1;
    const isClose = (code: number) => code === quote || typographicQuotes.has(code);
    while (close < this.text.length && !isClose(this.text.charCodeAt(close))) close++;
    const end = Math.min(close + 1, this.text.length);
    const inner = this.text.slice(start + 1, close);
    this.#checkStray(start, end);
    this.#report('syntax/typographic-quote', start, end, 'Text stands between straight quotes: `"…"`.', [
      {
        title: 'Use straight quotes',
        range: rangeOnLine(this.number, start, end),
        text: `"${inner.trimEnd()}"`,
      },
    ]);
    this.#push('quoted', end, inner);
  }

  #checkStray(from: number, to: number): void {
    for (let at = from; at < to && !this.#problem; at++) {
      const code = this.text.charCodeAt(at);
      if (isStray(code)) this.#reportStray(at, code);
    }
  }

  #reportStray(at: number, code: number): void {
    const message = `The character ${codePointName(code)} does not show and has no place here. Remove it.`;
    const range = rangeOnLine(this.number, at, at + 1);
    this.#report('syntax/stray-character', at, at + 1, message, [
      { title: 'Remove the character', range, text: '' },
    ]);
  }

  #report(id: string, start: number, end: number, message: string, mends: readonly Mend[]): void {
    this.#problem ??= { id, severity: 'error', message, range: rangeOnLine(this.number, start, end), mends };
  }
}
