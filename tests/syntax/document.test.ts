import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseDocument, printDocument, type Document } from '../../src/syntax/document.js';

/** Texts made of the pieces that matter to the reader, and any other characters between them. */
const piece = fc.oneof(
  {
    weight: 3,
    arbitrary: fc.constantFrom('\n', '\r\n', '\r', '  ', '\t', ' ', '#', '"', '..', '±', ',', '->'),
  },
  {
    weight: 3,
    arbitrary: fc.constantFrom('sweep 1.03', 'module M', 'Isc 13.9 A', 'x', '\n  ', '\nplane p\n', '\u00a0'),
  },
  { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 4 }) },
  { weight: 1, arbitrary: fc.constantFrom('\0', '\uFEFF', '\u2028', '\u0085', '\ud800', '\u202e', '“') },
);
const text = fc.array(piece, { maxLength: 40 }).map((pieces) => pieces.join(''));

function shape(document: Document) {
  return {
    lineCount: document.lineCount,
    blocks: document.blocks.map(({ block, startLine }) => ({
      startLine,
      text: block.text,
      lines: block.lines,
    })),
  };
}

describe('printing what was read', () => {
  test('gives the text back, byte for byte', () => {
    fc.assert(
      fc.property(text, (x) => {
        expect(printDocument(parseDocument(x))).toBe(x);
      }),
      { numRuns: 1000 },
    );
  });

  test('whatever the characters', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 300 }), (x) => {
        const document = parseDocument(x);
        expect(printDocument(document)).toBe(x);
        for (const { block } of document.blocks) expect(block.lines.length).toBe(block.lineCount);
      }),
    );
  });
});

describe('reading after an edit', () => {
  test('gives what reading afresh gives, edit upon edit', () => {
    const edit = fc.record({ at: fc.nat(), length: fc.nat(30), insert: text });
    fc.assert(
      fc.property(text, fc.array(edit, { minLength: 1, maxLength: 6 }), (start, edits) => {
        let now = start;
        let document = parseDocument(now);
        for (const { at, length, insert } of edits) {
          const from = now.length === 0 ? 0 : at % (now.length + 1);
          now = now.slice(0, from) + insert + now.slice(from + length);
          document = parseDocument(now, document);
          expect(shape(document)).toEqual(shape(parseDocument(now)));
        }
      }),
      { numRuns: 500 },
    );
  });

  test('keeps every block that the edit did not touch, as the same object', () => {
    const block = (index: number) => `sweep ${index} at 2026-05-14 11:42\n  irradiance 8${index} W/m2\n\n`;
    const before = Array.from({ length: 200 }, (_, index) => block(index)).join('');
    const first = parseDocument(before);
    const second = parseDocument(before.replace('irradiance 850 W', 'irradiance 851 W\n  rear 1 W'), first);
    const changed = second.blocks.filter(({ block: now }, index) => now !== first.blocks[index]!.block);
    expect(changed.map(({ block: now }) => now.header!.text)).toEqual(['sweep 50 at 2026-05-14 11:42']);
    expect(second.blocks[199]!.startLine).toBe(first.blocks[199]!.startLine + 1);
    expect(second.blocks[10]).toBe(first.blocks[10]);
  });

  test('keeps blocks between two edits', () => {
    const before = 'a\n  1\nb\n  2\nc\n  3\nd\n  4\ne\n';
    const first = parseDocument(before);
    const second = parseDocument(before.replace('1', 'one').replace('4', 'four'), first);
    expect(second.blocks.map(({ block }, index) => block === first.blocks[index]!.block)).toEqual([
      false,
      true,
      true,
      false,
      true,
    ]);
  });

  test('never gives one object for two blocks', () => {
    const first = parseDocument('a\n  1\nb\n');
    const second = parseDocument('a\n  1\na\n  1\na\n  1\nb\n', first);
    const blocks = second.blocks.map(({ block }) => block);
    expect(new Set(blocks).size).toBe(blocks.length);
  });

  test('the same text is the same document', () => {
    const document = parseDocument('a\n');
    expect(parseDocument('a\n', document)).toBe(document);
  });
});

describe('lines', () => {
  test('count as an editor counts them', () => {
    expect(parseDocument('').lineCount).toBe(1);
    expect(parseDocument('a').lineCount).toBe(1);
    expect(parseDocument('a\n').lineCount).toBe(2);
    expect(parseDocument('a\r\n  b\r\n\r\nc').lineCount).toBe(4);
  });

  test('find their block', () => {
    const document = parseDocument('# first\na\n  1\n\nb\n  2\n');
    const at = (line: number) => document.blockAt(line)?.block.header?.text;
    expect([0, 1, 2, 3, 4, 5, 6, 99].map(at)).toEqual([undefined, 'a', 'a', 'a', 'b', 'b', 'b', 'b']);
    expect(parseDocument('').blockAt(0)).toBeUndefined();
  });

  test.each(['\n', '\r\n', '\r'])('columns do not depend on the line end %j or a byte order mark', (end) => {
    const [placed] = parseDocument(`\uFEFFmodule M1${end}  Isc 13.9 A # label${end}`).blocks;
    const [header, property] = placed!.block.lines;
    expect(header!.tokens.map(({ text: word, start }) => [word, start])).toEqual([
      ['module', 0],
      ['M1', 7],
    ]);
    expect(property!.tokens.map(({ text: word, start }) => [word, start])).toEqual([
      ['Isc', 2],
      ['13.9', 6],
      ['A', 11],
    ]);
    expect(property!.comment).toEqual({ text: '# label', start: 13 });
  });

  test('a block ends at its last line that says something', () => {
    const [placed] = parseDocument('a\n  1\n  # inner\n\n# of the next\nb\n').blocks;
    expect(placed!.block.endLine).toBe(2);
  });
});

describe('hostile texts', () => {
  test('a line of many words', () => {
    const document = parseDocument(`a\n  ${'x '.repeat(200_000)}\n`);
    expect(document.blocks[0]!.block.lines[1]!.tokens.length).toBe(200_000);
  });

  test('a hundred thousand quotes or marks', () => {
    for (const mark of ['"', '""', '..', '+-', '->', '“', '\0', '#', ','])
      expect(() => parseDocument(`a ${mark.repeat(100_000)}`).blocks[0]!.block.lines).not.toThrow();
  });
});
