/** Links, folding, growing selections and semantic tokens: what is read from the text alone. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { writtenPaths } from '../../src/presentation/documentLinks.js';
import { foldingRegions } from '../../src/presentation/folding.js';
import { selectionRanges } from '../../src/presentation/selectionRanges.js';
import {
  encodeSemanticTokens,
  semanticTokens,
  semanticTypes,
} from '../../src/presentation/semanticTokens.js';
import { parseDocument } from '../../src/syntax/document.js';
import type { Range } from '../../src/text/place.js';
import { rootText } from './memoryCampaign.js';

const text = `# One
# Two

include "a.sweepbook"
include "b.sweepbook"
string 1.01 .. 1.03 "Roof"
  modules 18 x KF108M
  # three
  # four
  cable 48 m, 4 mm2, copper

sweep 1.03/11 at 2026-05-14 11:42
  irradiance 812 W/m2 ± 2 %
  temperature 44.1degC cell
  with T1, RC1
  points V, A
    0.0 8.5
    # a gap

    12.5 8.4
  remark "seen"
sweeps from "all.csv"
  voltage "U" mV
`;
const document = parseDocument(text);
const lines = text.split('\n');
const piece = ({ start, end }: Range) =>
  start.line === end.line
    ? lines[start.line]!.slice(start.character, end.character)
    : `${end.line - start.line + 1} lines`;

describe('links', () => {
  it('are the paths between the quotes', () => {
    expect([...writtenPaths(document)].map(({ path, range }) => [path, piece(range)])).toEqual([
      ['a.sweepbook', 'a.sweepbook'],
      ['b.sweepbook', 'b.sweepbook'],
      ['all.csv', 'all.csv'],
    ]);
    const unfinished = parseDocument(
      'sweep 1 at 2026-05-14 11:42\n  data "x/y.csv"\n  data ""\n  data "open\n',
    );
    expect([...writtenPaths(unfinished)]).toHaveLength(1);
  });
});

describe('folding', () => {
  it('takes in blocks, points, comments and includes', () => {
    expect(foldingRegions(document)).toEqual([
      { start: 0, end: 1, kind: 'comment' },
      { start: 3, end: 4, kind: 'imports' },
      { start: 5, end: 9 },
      { start: 7, end: 8, kind: 'comment' },
      { start: 11, end: 20 },
      { start: 15, end: 19 },
      { start: 21, end: 22 },
    ]);
  });
});

describe('a growing selection', () => {
  const grown = (line: number, character: number) =>
    selectionRanges(document, { line, character }).map(piece);
  it('takes in word, value, line, block, file', () => {
    expect(grown(12, 15)).toEqual([
      '812',
      '812 W/m2 ± 2 %',
      'irradiance 812 W/m2 ± 2 %',
      '  irradiance 812 W/m2 ± 2 %',
      '10 lines',
      '24 lines',
    ]);
    expect(grown(14, 12)).toEqual([
      'RC1',
      'T1, RC1',
      'with T1, RC1',
      '  with T1, RC1',
      '10 lines',
      '24 lines',
    ]);
    expect(grown(11, 7).slice(0, 2)).toEqual(['1.03', '1.03/11']);
    expect(grown(20, 12).slice(0, 2)).toEqual(['seen', '"seen"']);
    expect(grown(7, 6)[0]).toBe('three');
    expect(grown(10, 0)).toEqual(['24 lines']);
  });

  it('grows, and holds the position, wherever it starts', () => {
    fc.assert(
      fc.property(fc.nat(23), fc.nat(50), (line, reach) => {
        const character = Math.min(reach, lines[line]!.length);
        const ranges = selectionRanges(document, { line, character });
        expect(ranges.length).toBeGreaterThan(0);
      }),
    );
  });
});

describe('semantic tokens', () => {
  it('tell names given, references, addresses, quantities, units and words apart', () => {
    const of = (line: number) =>
      semanticTokens(document)
        .filter((token) => token.line === line)
        .map(
          ({ start, length, type, declares }) =>
            `${lines[line]!.slice(start, start + length)}:${type}${declares ? '!' : ''}`,
        );
    expect(of(5)).toEqual(['string:keyword', '1.01:campaignName!', '1.03:campaignName!', '"Roof":string']);
    expect(of(6)).toEqual(['modules:property', '18:quantity', 'KF108M:campaignName']);
    expect(of(11)).toEqual(['sweep:keyword', '1.03/11:deviceAddress']);
    expect(of(12)).toEqual([
      'irradiance:property',
      '812:quantity',
      'W/m2:quantityUnit',
      '2:quantity',
      '%:quantityUnit',
    ]);
    expect(of(13)).toEqual(['temperature:property', '44.1:quantity', 'degC:quantityUnit']);
    expect(of(14)).toEqual(['with:property', 'T1:campaignName', 'RC1:campaignName']);
    expect(of(15)).toEqual(['points:property', 'V:quantityUnit', 'A:quantityUnit']);
    expect(of(16)).toEqual(['0.0:quantity', '8.5:quantity']);
    expect(of(22)).toEqual(['voltage:property', '"U":string', 'mV:quantityUnit']);
  });

  it('take a unit that begins like a number for a unit', () => {
    const tokens = semanticTokens(parseDocument('module M\n  beta -0.0027 1/K\n'));
    expect(tokens.map(({ type }) => type).slice(2)).toEqual(['property', 'quantity', 'quantityUnit']);
  });

  it('are encoded as steps that lead to the same places, for any text', () => {
    const pieces = rootText.split(/(?<=\s)/);
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...pieces, '\n', '"', '#', '\t'), { maxLength: 60 }), (parts) => {
        const torn = parseDocument(parts.join(''));
        const data = encodeSemanticTokens(torn);
        let [line, start] = [0, 0];
        const decoded = Array.from({ length: data.length / 5 }, (_, index) => {
          const [down, right, length, type, bits] = data.subarray(5 * index, 5 * index + 5);
          if (down! > 0) [line, start] = [line + down!, 0];
          start += right!;
          return { line, start, length, type: semanticTypes[type!], declares: bits === 1 };
        });
        expect(decoded).toEqual(semanticTokens(torn));
        selectionRanges(torn, { line: 0, character: 0 });
        foldingRegions(torn);
      }),
    );
  });
});
