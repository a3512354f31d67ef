import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { blockKeywords, propertiesOf } from '../../src/campaign/keywords.js';
import type { Evaluation } from '../../src/evaluation/evaluation.js';
import { completionsAt } from '../../src/presentation/completions.js';
import { definitionAt } from '../../src/presentation/definition.js';
import { hoverAt } from '../../src/presentation/hoverText.js';
import { escapeMarkdown } from '../../src/presentation/markdownText.js';
import { outlineOf } from '../../src/presentation/outline.js';
import { sweepAt } from '../../src/presentation/previewModel.js';
import { at, evaluateMemory, library, openFile, root, rootText } from './memoryCampaign.js';

let evaluation: Evaluation;
beforeAll(async () => {
  evaluation = await evaluateMemory();
});

const open = openFile(root);
const hover = (before: string, piece: string) => hoverAt(evaluation, open, at(before, piece))?.markdown;
/** As a reader sees it: without the escapes. */
const seen = (markdown: string | undefined) => markdown?.replace(/\\(.)/g, '$1');

describe('a hover', () => {
  it('explains every block and property keyword', () => {
    for (const block of blockKeywords) {
      const header = openFile(root, `${block.example}\n`);
      const text = hoverAt(evaluation, header, { line: 0, character: 1 })?.markdown;
      expect(seen(text), block.name).toContain(block.source);
      for (const property of propertiesOf(block.name).values()) {
        const line = openFile(root, `${block.example}\n  ${property.example}\n`);
        const own = hoverAt(evaluation, line, { line: 1, character: 3 })?.markdown;
        expect(own, `${block.name} ${property.name}`).toContain(property.meaning);
        expect(own).toContain(property.example.replace(/\s+/g, ' '));
      }
    }
  });

  it('shows a quantity in its other units, with its standard uncertainty', () => {
    const text = seen(hover('irradiance ', '812 W/m2'));
    expect(text).toContain('= 0.812 kW/m2');
    // 2 % with k = 2 of 812 W/m2: 8.12 W/m2, by JCGM 100:2008, 2.3.5 and 6.2.1.
    expect(text).toContain('u = 8.1 W/m2 (1.0 %)');
  });

  it('shows a coefficient in the file that writes it', () => {
    const text = hoverAt(evaluation, openFile(library), { line: 9, character: 9 })?.markdown;
    expect(seen(text)).toContain('6.3 mA/K');
    expect(seen(text)).toContain('= 0.0063 A/K');
  });

  it('says what a reference names', () => {
    expect(seen(hover('18 x ', 'KF108M'))).toMatch(
      /module KF108M.*Kestrel Foundry[^]*Pmax 408\.4 W[^]*Voc 37\.2 V/,
    );
    expect(seen(hover('with T1, ', 'RC1'))).toMatch(/reference RC1[^]*irradiance ± 2\.0 %, k = 2/);
    expect(seen(hover('plane ', 'south\n\ntracer'))).toMatch(
      /plane south[^]*tilt 12 deg[^]*incidence \d+\.\d deg/,
    );
    expect(seen(hover('replace ', '1.03/11'))).toMatch(/string 1\.03[^]*nameplate Pmax at STC 7351 W/);
  });

  it('shows a sweep with its results at its address', () => {
    const text = seen(hover('sweep ', '1.03'));
    const { verdict } = evaluation.sweeps[0]!.analysis;
    expect(text).toContain(`**${verdict}**`);
    expect(text).toMatch(/\| Pmax \| \d+ W \| \d+ W \| 7351 W \| [+-]\d+\.\d % \|/);
    expect(text).toContain(evaluation.sweeps[0]!.analysis.reasons[0]!.text);
  });

  it('explains a word of choice, and nothing in comments or empty lines', () => {
    expect(hover('decision ', 'guarded')).toContain('guard band');
    expect(
      hoverAt(evaluation, openFile(root, 'site fen # sweep'), { line: 0, character: 12 }),
    ).toBeUndefined();
    expect(hoverAt(evaluation, openFile(root, ''), { line: 0, character: 0 })).toBeUndefined();
  });

  it('lets no text of the user become a link, an image, HTML or a table cell', () => {
    for (const text of [hover('campaign ', 'fen "'), hover('string ', '1.01')]) {
      const unescaped = text!.replace(/\\[!-/:-@[-`{-~]/g, '');
      expect(unescaped).not.toMatch(/[[\]<|]|command:/);
    }
  });
});

it('escapes every character that Markdown could take for its own', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', maxLength: 60 }), (text) => {
      const escaped = escapeMarkdown(text);
      expect(escaped).not.toMatch(/[\n\r]/);
      expect(escaped.replace(/\\[!-/:-@[-`{-~]/g, '')).not.toMatch(/[!-/:-@[-`{-~]/);
    }),
  );
  expect(escapeMarkdown('[a](command:b) <i> http://c')).toBe(
    '\\[a\\]\\(command\\:b\\) \\<i\\> http\\:\\/\\/c',
  );
});

describe('go to definition', () => {
  const target = (before: string, piece: string) => definitionAt(evaluation, open, at(before, piece));

  it('finds what a reference names, in the file that says it', () => {
    expect(target('18 x ', 'KF108M')).toMatchObject({
      file: library,
      range: { start: { line: 0, character: 7 } },
    });
    expect(target('with ', 'T1')?.range.start).toEqual(at('tracer ', 'T1'));
    expect(target('sweep ', '1.03')?.range.start).toEqual(at('string ', '1.01'));
    expect(target('replace ', '1.03/11')?.range.start).toEqual(at('string ', '1.01'));
  });

  it('opens the files that a path names, and none outside', () => {
    expect(target('data "', '1.03.csv')?.file).toBe('/fen/1.03.csv');
    expect(target('include "', 'modules')?.file).toBe(library);
    const outside = openFile(root, 'include "../secret"');
    expect(definitionAt(evaluation, outside, { line: 0, character: 12 })).toBeUndefined();
  });

  it('finds nothing for other words', () => {
    expect(target('purpose ', 'commissioning')).toBeUndefined();
    expect(target('client ', '"Fenside')).toBeUndefined();
  });
});

describe('completions', () => {
  /** Labels offered at the `|` of a text. */
  const labels = (marked: string) => {
    const before = marked.split('|')[0]!.split('\n');
    const position = { line: before.length - 1, character: before.at(-1)!.length };
    return completionsAt(evaluation, openFile(root, marked.replace('|', '')), position).map(
      (item) => item.label,
    );
  };

  it('offer blocks at column 0 and properties under them', () => {
    expect(labels('|')).toContain('sweep');
    expect(labels('swe|')).toContain('sweep');
    expect(labels('module X\n  |')).toContain('gamma');
    expect(labels('module X\n  Pmax 400 W\n  |')).not.toContain('Pmax');
    expect(labels('module X\n  Pm|')).toContain('Pmax');
    expect(labels('  |')).toEqual([]);
  });

  it('offer names, words and units that fit', () => {
    expect(labels('string 9\n  modules 18 x |')).toEqual(['KF108M']);
    expect(labels('sweep 1.03 at 2026-05-14 11:42\n  with T1, |')).toEqual(['RC1']);
    expect(labels('sweep |')).toEqual(['1.01', '1.02', '1.03']);
    expect(labels('sweep 1.03 |')).toEqual(['at']);
    expect(labels('module X\n  Pmax 400 |')).toContain('W');
    expect(labels('module X\n  Pmax 400 |')).not.toContain('V');
    expect(labels('campaign X\n  purpose |')).toContain('periodic');
    expect(labels('sweep 1.03\n  temperature 44 degC |')).toEqual(['cell', 'module']);
    expect(labels('site X\n  timezone Eu|')).toContain('Europe/London');
  });

  it('replace the word that is being typed', () => {
    const [first] = completionsAt(evaluation, openFile(root, 'module X\n  Pm'), { line: 1, character: 4 });
    expect(first!.range).toEqual({ start: { line: 1, character: 2 }, end: { line: 1, character: 4 } });
  });

  it('stay away from quotes and comments, and do without an evaluation', () => {
    expect(labels('campaign X "ti|tle"')).toEqual([]);
    expect(labels('campaign X # |')).toEqual([]);
    expect(completionsAt(undefined, openFile(root, 'sweep '), { line: 0, character: 6 })).toEqual([]);
  });
});

describe('the outline', () => {
  it('lists the blocks of a file, a sweep with its verdict', () => {
    const symbols = outlineOf(evaluation, root);
    expect(symbols.map((symbol) => symbol.name)).toEqual([
      'fen',
      'fen',
      'south',
      '1.01 .. 1.03',
      'T1',
      'RC1',
      'acceptance',
      '1.03',
      '1.03/11',
    ]);
    const sweep = symbols.find((symbol) => symbol.kind === 'sweep')!;
    expect(sweep.detail).toContain(evaluation.sweeps[0]!.analysis.verdict);
    // Something was replaced after it, and it was not swept since.
    expect(sweep.detail).toMatch(/, case ▲ replaced$/);
    expect(outlineOf(evaluation, library).map((symbol) => symbol.name)).toEqual(['KF108M']);
  });

  it('keeps selection inside range', () => {
    for (const { range, selectionRange } of outlineOf(evaluation, root)) {
      expect(range.start.line).toBeLessThanOrEqual(selectionRange.start.line);
      expect(range.end.line).toBeGreaterThanOrEqual(selectionRange.end.line);
    }
  });
});

it('follows the cursor to a sweep: its block, its table, its string, its replacement', () => {
  const id = evaluation.sweeps[0]!.id;
  expect(sweepAt(evaluation, root, at('  data ', '"1.03').line)).toBe(id);
  expect(sweepAt(evaluation, '/fen/1.03.csv', 40)).toBe(id);
  expect(sweepAt(evaluation, root, at('string ', '1.01').line)).toBe(id);
  expect(sweepAt(evaluation, root, at('replace ', '1.03').line)).toBe(id);
  expect(sweepAt(evaluation, root, 1)).toBeUndefined();
});

it('survives any position in any text', () => {
  fc.assert(
    fc.property(
      fc.array(fc.constantFrom(...rootText.split(/(?<=\s)/), '\n', '"', '#', '|', '±'), { maxLength: 40 }),
      fc.nat(12),
      fc.nat(40),
      (pieces, line, character) => {
        const torn = openFile(root, pieces.join(''));
        hoverAt(evaluation, torn, { line, character });
        definitionAt(evaluation, torn, { line, character });
        completionsAt(evaluation, torn, { line, character });
      },
    ),
    { numRuns: 300 },
  );
});
