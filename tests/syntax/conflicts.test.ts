/** What a merge leaves in a campaign file: the marks are those that git-merge(1) describes. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findConflicts, textOfSecondSide } from '../../src/syntax/conflicts.js';
import { parseDocument, printDocument, type Document } from '../../src/syntax/document.js';
import { evaluateText } from '../evaluation/memoryFiles.js';
import { edited, harrowFen, evaluated } from '../difference/campaigns.js';

const headers = (document: Document): (string | undefined)[] =>
  document.blocks.map(({ block }) => block.header?.text);

const inBlock = `module M
<<<<<<< HEAD
  beta -0.27 %/K
=======
  beta -0.29 %/K
>>>>>>> other
  gamma -0.35 %/K
`;
const overBlocks = `module M
  Pmax 400 W
<<<<<<< HEAD
string A
  modules 2 x M
||||||| parent of 1234567
string Z
=======
string B
  modules 3 x M
string C
>>>>>>> other
  plane p
plane p
`;

describe('a conflict', () => {
  it('within a block: the first side is read, and what follows belongs to the block', () => {
    const document = parseDocument(inBlock);
    expect(headers(document)).toEqual(['module M']);
    const read = document.blocks[0]!.block.lines.flatMap(({ tokens }) => tokens[0]?.text ?? []);
    expect(read).toEqual(['module', 'beta', 'gamma']);
    expect(document.conflicts.conflicts).toEqual([
      { start: 1, middle: 3, end: 5, firstName: 'HEAD', secondName: 'other' },
    ]);
  });

  it('over several blocks, with what both sides came from', () => {
    expect(headers(parseDocument(overBlocks))).toEqual(['module M', 'string A', 'plane p']);
    expect(headers(parseDocument(textOfSecondSide(overBlocks)))).toEqual([
      'module M',
      'string B',
      'string C',
      'plane p',
    ]);
    expect(printDocument(parseDocument(overBlocks))).toBe(overBlocks);
  });

  it('on the second side: every other line keeps its number', () => {
    const lines = textOfSecondSide(inBlock.replaceAll('\n', '\r\n')).split('\r\n');
    expect(lines).toEqual(['module M', '', '', '', '  beta -0.29 %/K', '', '  gamma -0.35 %/K', '']);
  });

  it('is one problem at its place, whose mends keep one side or the other; the rest is computed', async () => {
    const text = edited(
      harrowFen,
      'modules.sweepbook',
      '  beta   -0.27 %/K\n',
      '<<<<<<< HEAD\n  beta   -0.27 %/K\n=======\n  beta   -0.29 %/K\n>>>>>>> other\n',
    );
    const { problems, sweeps, counts } = await evaluated(text);
    const clean = await evaluated(harrowFen);
    expect(problems.map(({ id, file, range }) => [id, file, range.start.line])).toEqual([
      ['syntax/merge-conflict', '/w/modules.sweepbook', 12],
    ]);
    expect(problems[0]!.message).toMatch(/lines 13 to 17.*\(HEAD\) is read.*\(other\) is not/);
    expect(problems[0]!.mends!.map(({ text: kept }) => kept)).toEqual([
      '  beta   -0.27 %/K',
      '  beta   -0.29 %/K',
    ]);
    expect(counts).toEqual(clean.counts);
    expect(sweeps.map(({ analysis }) => analysis.deviation)).toEqual(
      clean.sweeps.map(({ analysis }) => analysis.deviation),
    );
  });

  it('that is not whole: each mark is one problem, and the lines around it are read', async () => {
    for (const text of [
      'module M\n>>>>>>> other\n  cells 54\n',
      '<<<<<<< HEAD\nplane p\n',
      'plane p\n=======\n',
    ]) {
      const { problems } = await evaluateText(text);
      const found = problems.filter(({ id }) => id.startsWith('syntax/'));
      expect(found.map(({ id }) => id)).toEqual(['syntax/conflict-marker']);
    }
    expect(findConflicts('<<<<<<< a\n<<<<<<< b\n=======\n>>>>>>> c\n').leftOver).toEqual([0]);
  });

  it('is none where the signs stand in a text, in a comment, or are more or fewer', () => {
    const plain = [
      'note "<<<<<<< HEAD"',
      '# =======',
      '#=======',
      '  note "======="',
      '========',
      '<<<<<<<<< x',
      '======',
      '=======x',
    ].join('\n');
    expect(findConflicts(plain)).toEqual({ conflicts: [], leftOver: [] });
  });
});

describe('reading with conflicts', () => {
  const piece = fc.constantFrom(
    '<<<<<<< a\n',
    '||||||| b\n',
    '=======\n',
    '>>>>>>> c\r\n',
    'module M\n',
    '  Isc 9 A\n',
    'plane p\n',
    '# x\n',
    '\n',
    '=======',
  );
  const text = fc.array(piece, { maxLength: 20 }).map((pieces) => pieces.join(''));
  const shape = ({ blocks, conflicts, lineCount }: Document) => ({
    conflicts,
    lineCount,
    blocks: blocks.map(({ block, startLine }) => [startLine, block.text, block.lines]),
  });

  it('keeps every byte, and reads after an edit as afresh', () => {
    fc.assert(
      fc.property(fc.array(text, { minLength: 1, maxLength: 4 }), (texts) => {
        let document: Document | undefined;
        for (const now of texts) {
          document = parseDocument(now, document);
          expect(printDocument(document)).toBe(now);
          expect(shape(document)).toEqual(shape(parseDocument(now)));
          for (const { block } of document.blocks) expect(block.lines).toHaveLength(block.lineCount);
        }
      }),
      { numRuns: 1000 },
    );
  });

  it('leaves no conflict on the second side', () => {
    fc.assert(
      fc.property(text, (now) => {
        const second = textOfSecondSide(now);
        expect(findConflicts(second).conflicts).toEqual([]);
        expect(parseDocument(second).lineCount).toBe(parseDocument(now).lineCount);
      }),
    );
  });
});
