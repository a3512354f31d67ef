/** Breaks lines of a report at a width. Nothing is wider than it was told, however long a word is. */
import { spansOf, type Line, type Span } from '../document.js';

export type Weight = 'text' | 'bold';

/** Width of a text in points at a size. */
export type Measure = (text: string, weight: Weight, size: number) => number;

/** Characters of one look, to be drawn at once. */
export interface Segment {
  readonly text: string;
  readonly weight: Weight;
  readonly span: Span;
  readonly width: number;
}

export interface WrappedLine {
  readonly segments: readonly Segment[];
  readonly width: number;
}

interface Piece {
  readonly text: string;
  readonly span: Span;
}

/** What is never broken, as long as it fits: pieces without a space between them. */
type Word = readonly Piece[];

const shownText = ({ text, symbol }: Span): string =>
  symbol === undefined ? text : `${symbol}\u00a0${text}`;
const weightOf = ({ strong }: Span): Weight => (strong ? 'bold' : 'text');

function wordsOf(line: Line): Word[] {
  const words: Piece[][] = [];
  let open = false;
  for (const span of spansOf(line))
    for (const text of shownText(span).split(/([ \t\r\n]+)/)) {
      if (text === '') continue;
      if (/^[ \t\r\n]+$/.test(text)) open = false;
      else if (open) words.at(-1)!.push({ text, span });
      else {
        words.push([{ text, span }]);
        open = true;
      }
    }
  return words;
}

const widthOf = (word: Word, measure: Measure, size: number): number =>
  word.reduce((sum, { text, span }) => sum + measure(text, weightOf(span), size), 0);

/** Widths of the whole in one line, and of its longest word. */
export function naturalWidths(
  line: Line,
  measure: Measure,
  size: number,
): { whole: number; longest: number } {
  const widths = wordsOf(line).map((word) => widthOf(word, measure, size));
  const space = measure(' ', 'text', size);
  return {
    whole: widths.reduce((sum, width) => sum + width, 0) + space * Math.max(0, widths.length - 1),
    longest: Math.max(0, ...widths),
  };
}

/** At least one line, perhaps an empty one. */
export function wrapLine(line: Line, within: number, size: number, measure: Measure): WrappedLine[] {
  const lines: Segment[][] = [[]];
  let width = 0;
  for (const word of wordsOf(line)) {
    for (const [index, part] of fitting(word, within, size, measure).entries()) {
      const partWidth = widthOf(part, measure, size);
      const space = width > 0 && index === 0 ? measure(' ', weightOf(part[0]!.span), size) : 0;
      const fits = width + space + partWidth <= within + 0.01;
      if (width > 0 && (index > 0 || !fits)) {
        lines.push([]);
        width = 0;
      } else if (space > 0) {
        append(lines.at(-1)!, ' ', part[0]!.span, measure, size);
        width += space;
      }
      for (const { text, span } of part) append(lines.at(-1)!, text, span, measure, size);
      width += partWidth;
    }
  }
  return lines.map((segments) => ({
    segments,
    width: segments.reduce((sum, segment) => sum + segment.width, 0),
  }));
}

/** Joins to the last segment of the same look. */
function append(segments: Segment[], text: string, span: Span, measure: Measure, size: number): void {
  const last = segments.at(-1);
  const joined = last?.span === span ? last.text + text : text;
  const segment = {
    text: joined,
    span,
    weight: weightOf(span),
    width: measure(joined, weightOf(span), size),
  };
  if (last?.span === span) segments[segments.length - 1] = segment;
  else segments.push(segment);
}

/** A word that is too long for a line is broken behind `/`, `-`, `.`, `_` or `,` where that serves, else anywhere. */
function fitting(word: Word, within: number, size: number, measure: Measure): Word[] {
  if (widthOf(word, measure, size) <= within) return [word];
  const parts: Piece[][] = [[]];
  let width = 0;
  for (const { text, span } of word)
    for (const unit of text.match(/[^/\-._,]*[/\-._,]+|[^/\-._,]+/g) ?? []) {
      const whole = measure(unit, weightOf(span), size);
      const units = whole <= within ? [unit] : [...unit];
      for (const each of units) {
        const own = measure(each, weightOf(span), size);
        if (width > 0 && width + own > within) {
          parts.push([]);
          width = 0;
        }
        const last = parts.at(-1)!;
        const former = last.at(-1);
        if (former?.span === span) last[last.length - 1] = { text: former.text + each, span };
        else last.push({ text: each, span });
        width += own;
      }
    }
  return parts;
}
