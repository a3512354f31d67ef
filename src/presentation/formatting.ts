/** Formatting of a file, of some lines, and of what was just typed. Line ends, blank lines and the order of things stay. */
import { parseDocument, type Document, type PlacedBlock } from '../syntax/document.js';
import { rangeOnLine, type Range } from '../text/place.js';
import { formattedLines } from './formatBlock.js';

export interface TextEdit {
  readonly range: Range;
  readonly text: string;
}

/** The edits that lay out the lines `first` to `last`; each within one line and as small as it can be. */
export function formatEdits(document: Document, first = 0, last = Infinity): TextEdit[] {
  return document.blocks
    .filter(({ block, startLine }) => startLine <= last && startLine + block.lineCount > first)
    .flatMap((placed) => editsOfBlock(placed, first, last));
}

/** After a line was ended at `line`: its block up to there. The line of the cursor is left alone. */
export function formatTyped(document: Document, line: number): TextEdit[] {
  const finished = document.blockAt(line - 1);
  return finished && line > 0 ? editsOfBlock(finished, finished.startLine, line - 1) : [];
}

export function formatText(text: string): string {
  const document = parseDocument(text);
  return (
    document.byteOrderMark +
    document.blocks
      .map(({ block }) => {
        const formatted = formattedLines(block);
        const ends = block.text.match(/\r\n|\r|\n/g) ?? [];
        return formatted.map((line, index) => line + (ends[index] ?? '')).join('');
      })
      .join('')
  );
}

function editsOfBlock({ block, startLine }: PlacedBlock, first: number, last: number): TextEdit[] {
  const formatted = formattedLines(block);
  const edits: TextEdit[] = [];
  for (const { number, text } of block.lines) {
    const line = startLine + number;
    if (line < first || line > last || text === formatted[number]) continue;
    edits.push(smallestEdit(line, text, formatted[number]!));
  }
  return edits;
}

function smallestEdit(line: number, from: string, to: string): TextEdit {
  const most = Math.min(from.length, to.length);
  let front = 0;
  while (front < most && from[front] === to[front]) front++;
  let back = 0;
  while (back < most - front && from[from.length - 1 - back] === to[to.length - 1 - back]) back++;
  return { range: rangeOnLine(line, front, from.length - back), text: to.slice(front, to.length - back) };
}
