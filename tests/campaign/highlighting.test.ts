/** The committed grammar, run by the tokenizer of the editor itself. */
import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import fc from 'fast-check';
import { createOnigScanner, createOnigString, loadWASM } from 'vscode-oniguruma';
import textmate, { type IGrammar, type IToken } from 'vscode-textmate';
import { beforeAll, describe, expect, it, test } from 'vitest';
import { blockKeywords, propertiesOf } from '../../src/campaign/keywords.js';
import { units } from '../../src/campaign/units.js';
import { namesOfBlock } from '../../src/presentation/nameOccurrences.js';
import { semanticTokens, type SemanticType } from '../../src/presentation/semanticTokens.js';
import { parseDocument } from '../../src/syntax/document.js';
import { lexLine } from '../../src/syntax/lexLine.js';

let grammar: IGrammar;

beforeAll(async () => {
  const wasm = createRequire(import.meta.url).resolve('vscode-oniguruma/release/onig.wasm');
  await loadWASM(readFileSync(wasm));
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({ createOnigScanner, createOnigString }),
    loadGrammar: () => {
      const file = 'syntaxes/sweepbook.tmLanguage.json';
      return Promise.resolve(textmate.parseRawGrammar(readFileSync(file, 'utf8'), file));
    },
  });
  grammar = (await registry.loadGrammar('source.sweepbook'))!;
});

/** The pieces of each line of a text, with what each is taken for. */
function tokenized(text: string): IToken[][] {
  let stack = textmate.INITIAL;
  return text.split(/\r\n|\r|\n/).map((line) => {
    const { tokens, ruleStack } = grammar.tokenizeLine(line, stack);
    stack = ruleStack;
    return tokens;
  });
}

/** The innermost scope of each piece that is not plain, without its ending: `812` -> `constant.numeric`. */
function shown(line: string): [string, string][] {
  const pieces: [string, string][] = [];
  for (const { startIndex, endIndex, scopes } of tokenized(line)[0]!) {
    const text = line.slice(startIndex, endIndex);
    const scope = scopes.at(-1)!.replace(/\.sweepbook$/, '');
    const last = pieces.at(-1);
    // The marks of a string are pieces of their own.
    if (last?.[1] === scope && scope !== 'source') last[0] += text;
    else pieces.push([text, scope]);
  }
  return pieces.filter(([, scope]) => scope !== 'source');
}

const scopesAt = (tokens: readonly IToken[], character: number): readonly string[] =>
  tokens.find(({ startIndex, endIndex }) => startIndex <= character && character < endIndex)?.scopes ?? [];

describe('each kind of line', () => {
  test.each<[string, [string, string][]]>([
    ['# 812 W/m2 "x"', [['# 812 W/m2 "x"', 'comment.line.number-sign']]],
    [
      'sweep 1.03/1-9 at 2026-05-14 11:42:10+02:00 # early',
      [
        ['sweep', 'keyword.control.block'],
        ['1.03/1-9', 'entity.name.section'],
        ['at', 'constant.language'],
        ['2026-05-14 11:42:10+02:00', 'constant.other.time'],
        ['# early', 'comment.line.number-sign'],
      ],
    ],
    [
      'string 1.01 .. 1.12 "Roof"',
      [
        ['string', 'keyword.control.block'],
        ['1.01', 'entity.name.section'],
        ['..', 'keyword.operator'],
        ['1.12', 'entity.name.section'],
        ['"Roof"', 'string.quoted.double'],
      ],
    ],
    [
      'sweeps from "all.csv"',
      [
        ['sweeps', 'keyword.control.block'],
        ['from', 'constant.language'],
        ['"all.csv"', 'string.quoted.double'],
      ],
    ],
    [
      'note at 2026-05-14 "rain"',
      [
        ['note', 'keyword.control.block'],
        ['at', 'constant.language'],
        ['2026-05-14', 'constant.other.time'],
        ['"rain"', 'string.quoted.double'],
      ],
    ],
    [
      '  irradiance 812 W/m2 ± 2 % k=1',
      [
        ['irradiance', 'support.type.property-name'],
        ['812', 'constant.numeric'],
        ['W/m2', 'keyword.other.unit'],
        ['±', 'keyword.operator'],
        ['2', 'constant.numeric'],
        ['%', 'keyword.other.unit'],
        ['k', 'variable.parameter'],
        ['=', 'keyword.operator'],
        ['1', 'constant.numeric'],
      ],
    ],
    [
      '  Pmax -5% .. # of the nameplate',
      [
        ['Pmax', 'support.type.property-name'],
        ['-5', 'constant.numeric'],
        ['%', 'keyword.other.unit'],
        ['..', 'keyword.operator'],
        ['# of the nameplate', 'comment.line.number-sign'],
      ],
    ],
    [
      '  modules 18 x KF108M',
      [
        ['modules', 'support.type.property-name'],
        ['18', 'constant.numeric'],
        ['x', 'keyword.operator'],
      ],
    ],
    [
      '  points V, A',
      [
        ['points', 'support.type.property-name'],
        ['V', 'keyword.other.unit'],
        ['A', 'keyword.other.unit'],
      ],
    ],
    [
      '    0.0 1.39e1',
      [
        ['0.0', 'constant.numeric'],
        ['1.39e1', 'constant.numeric'],
      ],
    ],
    [
      '  serial "a ""b"" # c" -> "d"',
      [
        ['serial', 'support.type.property-name'],
        ['"a ', 'string.quoted.double'],
        ['""', 'constant.character.escape'],
        ['b', 'string.quoted.double'],
        ['""', 'constant.character.escape'],
        [' # c"', 'string.quoted.double'],
        ['->', 'keyword.operator'],
        ['"d"', 'string.quoted.double'],
      ],
    ],
    ['sweeper 1.03', [['1.03', 'constant.numeric']]],
    ['  sweep 812', [['812', 'constant.numeric']]],
    ['irradiance 812', [['812', 'constant.numeric']]],
    ['  remarkable 1', [['1', 'constant.numeric']]],
  ])('%s', (line, expected) => {
    expect(shown(line)).toEqual(expected);
  });

  it('keeps an unclosed quote on its line', () => {
    const [open, next] = tokenized('  remark "never closed\nsweep 1.03 at 2026-05-14 11:42');
    expect(scopesAt(open!, 15)).toContain('string.quoted.double.sweepbook');
    expect(scopesAt(next!, 0)).toContain('keyword.control.block.sweepbook');
  });

  it.each(units.flatMap(({ forms }) => forms))('knows the unit %s, apart and joined', (unit) => {
    for (const gap of [' ', '']) {
      // Read from a number on: `1/K` behind a number stands apart.
      if (gap === '' && /^\d/.test(unit)) continue;
      expect(shown(`  beta -0.27${gap}${unit}`).slice(1)).toEqual([
        ['-0.27', 'constant.numeric'],
        [unit, 'keyword.other.unit'],
      ]);
    }
  });
});

describe('every word of the notation', () => {
  test.each(blockKeywords)('of the block $name', (keyword) => {
    expect(shown(keyword.example)[0]).toEqual([keyword.name, 'keyword.control.block']);
    for (const [name, { example, form }] of propertiesOf(keyword.name)) {
      const line = `  ${example}`;
      expect(shown(line)[0]).toEqual([name, 'support.type.property-name']);
      if (form.kind !== 'choice') continue;
      for (const { word } of form.choices)
        expect(shown(`  ${name} ${word}`)[1]).toEqual([word, 'constant.language']);
    }
  });

  const free = new Set(['label', 'name', 'timezone', 'typeChange']);
  const properties = blockKeywords.flatMap((keyword) =>
    [...propertiesOf(keyword.name).values()].map((property) => ({ keyword, property })),
  );
  test.each(properties)('in `$property.example` is taken for something', ({ keyword, property }) => {
    const line = `  ${property.example}`;
    const [placed] = parseDocument(`${keyword.example}\n${line}\n`).blocks;
    const names = namesOfBlock(placed!.block).map(({ range }) => range.start);
    const tokens = tokenized(line)[0]!;
    const plain = lexLine(line, 1).tokens.filter(
      ({ kind, start }) =>
        kind !== 'comma' &&
        scopesAt(tokens, start).length === 1 &&
        !names.some((name) => name.line === 1 && name.character === start),
    );
    if (!free.has(property.form.kind)) expect(plain.map(({ text }) => text)).toEqual([]);
  });
});

describe('tokenizer and reader agree', () => {
  const scopes: Readonly<Record<SemanticType, RegExp>> = {
    keyword: /^keyword\.control\.block/,
    property: /^support\.type\.property-name/,
    // Which word of a value is a name, only the reader knows; a name that begins like a number looks like one.
    campaignName: /^(entity\.name|constant\.numeric|source)/,
    deviceAddress: /^(entity\.name|constant\.numeric|source)/,
    quantity: /^constant\.numeric/,
    quantityUnit: /^keyword\.other\.unit/,
    string: /^string\.quoted/,
    enumMember: /^constant\.language/,
  };
  const examples = readdirSync('examples', { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.sweepbook'))
    .map((name) => `examples/${name}`);

  test.each(examples)('%s', (file) => {
    const text = readFileSync(file, 'utf8');
    const lines = text.split(/\r\n|\r|\n/);
    const tokens = tokenized(text);
    for (const { line, start, length, type } of semanticTokens(parseDocument(text))) {
      const piece = lines[line]!.slice(start, start + length);
      expect(scopesAt(tokens[line]!, start).at(-1), `${line + 1}: ${piece}`).toMatch(scopes[type]);
    }
  });

  const pieces = [
    '"',
    '""',
    '#',
    ' ',
    '\t',
    '\n',
    'sweep ',
    '  data ',
    '1.03/1',
    '812 W/m2',
    '2026-05-14',
    '..',
    '±',
  ];
  it('on where comments and quotes begin, whatever the text', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...pieces), { maxLength: 40 }), (parts) => {
        const lines = parts.join('').split('\n');
        for (const [index, tokens] of tokenized(lines.join('\n')).entries()) {
          const read = lexLine(lines[index]!, index);
          const begun = tokens.find(({ scopes: all }) => all.includes('comment.line.number-sign.sweepbook'));
          expect(begun?.startIndex).toBe(read.comment?.start);
          for (const { start } of read.tokens.filter(({ kind }) => kind === 'quoted'))
            expect(scopesAt(tokens, start)).toContain('string.quoted.double.sweepbook');
        }
      }),
    );
  });
});
