import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { blockKeywords, propertiesOf } from '../../src/campaign/keywords.js';
import { languageReference } from '../../src/campaign/languageReference.js';
import { resolveCampaign } from '../../src/campaign/resolveCampaign.js';
import { textMateGrammar } from '../../src/campaign/textMateGrammar.js';
import { decodeBlock } from '../../src/campaign/decodeBlock.js';
import { parseDocument } from '../../src/syntax/document.js';

describe('committed files are as `npm run generate` writes them', () => {
  test('language reference', () => {
    expect(languageReference()).toBe(readFileSync('syntaxes/language-reference.md', 'utf8'));
  });

  test('TextMate grammar', () => {
    expect(textMateGrammar()).toBe(readFileSync('syntaxes/sweepbook.tmLanguage.json', 'utf8'));
  });
});

describe('the examples of the table', () => {
  const block = (header: string, ...lines: string[]) =>
    [header, ...lines.map((line) => `  ${line}`), ''].join('\n');

  test.each(blockKeywords)('header of $name reads without a problem', ({ name, example }) => {
    const [placed] = parseDocument(block(example)).blocks;
    const problems = decodeBlock(placed!.block).problems.filter(({ id }) => !/incomplete|missing$/.test(id));
    expect(problems).toEqual([]);
    expect(example.startsWith(`${name} `)).toBe(true);
  });

  const properties = blockKeywords.flatMap((keyword) =>
    [...propertiesOf(keyword.name).values()].map((property) => ({
      keyword,
      property,
      name: `${keyword.name} ${property.name}`,
    })),
  );

  test.each(properties)('$name reads without a problem', ({ keyword, property }) => {
    const [placed] = parseDocument(block(keyword.example, property.example)).blocks;
    const { problems, entry } = decodeBlock(placed!.block);
    expect(problems.filter(({ range }) => range.start.line === 1)).toEqual([]);
    expect(entry?.propertyRanges.has(property.name)).toBe(true);
  });

  test.each(properties)('$name reaches the record', ({ keyword, property }) => {
    const read = (...lines: string[]) =>
      decodeBlock(parseDocument(block(keyword.example, ...lines)).blocks[0]!.block).entry;
    const plain = (entry: unknown) =>
      JSON.stringify(entry, (key, value: unknown) =>
        key === 'propertyRanges' || key === 'headerRange' ? undefined : value,
      );
    // A single-axis plane differs from the default; so do the other defaults from their examples but these.
    const other: Record<string, string> = { 'criteria decision': 'decision guarded' };
    const line = other[`${keyword.name} ${property.name}`] ?? property.example;
    // A relative coefficient needs its parameter to become absolute; as written it is there all the same.
    expect(plain(read(line))).not.toBe(plain(read()));
  });
});

describe('language configuration', () => {
  const configuration = JSON.parse(readFileSync('syntaxes/language-configuration.json', 'utf8')) as {
    wordPattern: { pattern: string; flags: string };
    comments: { lineComment: string };
    onEnterRules: { beforeText: string }[];
  };

  test.each([
    '1.03/11',
    '1.03/1-9',
    'INV2-S07',
    'KF108M',
    'mono-Si',
    'Europe/London',
    'W/m²',
    'harrow-fen-2026',
  ])('a word is %s', (word) => {
    const pattern = new RegExp(configuration.wordPattern.pattern, configuration.wordPattern.flags);
    expect(pattern.exec(`  ${word} "x"`)?.[0]).toBe(word);
  });

  test('a line under a block that has properties is indented', () => {
    const rule = new RegExp(configuration.onEnterRules[0]!.beforeText);
    for (const { name, example, properties } of blockKeywords)
      expect(rule.test(example), name).toBe(properties.length > 0);
  });
});

test('the sample reads without a problem', () => {
  const document = parseDocument(readFileSync('examples/harrow-fen-sample/campaign.sweepbook', 'utf8'));
  expect(resolveCampaign({ file: 'f', document, includes: [] }).problems).toEqual([]);
});
