import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeBlock } from '../../src/campaign/decodeBlock.js';
import { blockKeywords, propertiesOf } from '../../src/campaign/keywords.js';
import { formatEdits, formatText, formatTyped, type TextEdit } from '../../src/presentation/formatting.js';
import { parseDocument } from '../../src/syntax/document.js';

const examples = [
  'harrow-fen/campaign',
  'harrow-fen/array',
  'harrow-fen/modules',
  'harrow-fen-sample/campaign',
  'mistakes/campaign',
].map((name) => readFileSync(new URL(`../../examples/${name}.sweepbook`, import.meta.url), 'utf8'));

/** What a text says, without where it says it. */
function said(text: string) {
  const blocks = parseDocument(text).blocks.filter(({ block }) => block.text.trim() !== '');
  return blocks.map(({ block }) => {
    const { entry, include, problems, doubtfulNames } = decodeBlock(block);
    return {
      entry: entry && withoutPlaces(entry),
      include: include?.text,
      problems: problems.map(({ id, range }) => [id, range.start.line]),
      doubtfulNames,
      comments: block.lines.flatMap(({ number, comment }) =>
        comment ? [[number, comment.text.trimEnd()]] : [],
      ),
    };
  });
}

function withoutPlaces(value: unknown): unknown {
  if (value instanceof Map) return [...value.keys()];
  if (Array.isArray(value)) return value.map(withoutPlaces);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([key]) => !/range$/i.test(key))
      .map(([key, part]) => [key, withoutPlaces(part)]),
  );
}

function applied(text: string, edits: readonly TextEdit[]): string {
  const lines = text.split('\n');
  for (const { range, text: put } of [...edits].reverse()) {
    expect(range.start.line).toBe(range.end.line);
    const line = lines[range.start.line]!;
    lines[range.start.line] = line.slice(0, range.start.character) + put + line.slice(range.end.character);
  }
  return lines.join('\n');
}

describe('formatting', () => {
  it('puts values in one column, words one space apart, comments where they stood', () => {
    const text = [
      '#  As it comes.',
      'site   fen   "Fen"   # the site',
      '\tposition 52.4012 N ,0.2618 E',
      '    timezone\tEurope/London      # its clock',
      '',
      '# of the string',
      'string 1.01..1.12',
      ' modules 18 x KF108M    ',
      ' # out and back',
      ' cable 48 m,4 mm2,copper # measured',
      '',
    ].join('\n');
    expect(formatText(text)).toBe(
      [
        '#  As it comes.',
        'site fen "Fen"       # the site',
        '  position 52.4012 N, 0.2618 E',
        '  timezone Europe/London        # its clock',
        '',
        '# of the string',
        'string 1.01 .. 1.12',
        '  modules 18 x KF108M',
        '  # out and back',
        '  cable   48 m, 4 mm2, copper  # measured',
        '',
      ].join('\n'),
    );
  });

  it('lines up the decimal points of a table of points', () => {
    const text =
      'sweep 1 at 2026-05-14 11:42\n points V, A\n 0 8.5\n 12.25 8.45 # knee\n\n 100.5, 0\n remark "x"\n';
    expect(formatText(text)).toBe(
      [
        'sweep 1 at 2026-05-14 11:42',
        '  points V, A',
        '      0     8.5',
        '     12.25  8.45  # knee',
        '',
        '    100.5,   0',
        '  remark "x"',
        '',
      ].join('\n'),
    );
  });

  it('makes no two numbers of a decimal comma, and leaves a line that cannot be read', () => {
    expect(formatText('module M\n Pmax   408,4 W\n')).toBe('module M\n  Pmax 408,4 W\n');
    expect(formatText('module M\n note  "open  # "\n')).toBe('module M\n  note "open  # "\n');
    const broken = 'module M\n   note  "open\n';
    expect(formatText(broken)).toBe(broken);
  });

  it('keeps line ends, blank lines and the byte order mark', () => {
    expect(formatText('\uFEFFsite  s\r\n\r\n\r\n\televation 3 m\r\n')).toBe(
      '\uFEFFsite s\r\n\r\n\r\n  elevation 3 m\r\n',
    );
  });

  it('edits only the lines asked for', () => {
    const text = 'site  a\n   elevation 1 m\nsite  b\n   elevation 2 m\n';
    expect(applied(text, formatEdits(parseDocument(text), 3, 3))).toBe(
      'site  a\n   elevation 1 m\nsite  b\n  elevation 2 m\n',
    );
  });

  it('lays out the block above the cursor when a line is ended, and not the line of the cursor', () => {
    const text = 'sweep 1 at 2026-05-14 11:42\n  irradiance 812 W/m2\n  temperature 44 degC cell\n   ';
    expect(applied(text, formatTyped(parseDocument(text), 3))).toBe(
      'sweep 1 at 2026-05-14 11:42\n  irradiance  812 W/m2\n  temperature 44 degC cell\n   ',
    );
    expect(formatTyped(parseDocument(text), 0)).toEqual([]);
  });

  it('leaves the examples saying what they say', () => {
    for (const text of examples) {
      const formatted = formatText(text);
      expect(said(formatted)).toEqual(said(text));
      expect(formatText(formatted)).toBe(formatted);
    }
  });
});

describe('formatting any text', () => {
  const space = fc.constantFrom(' ', '  ', '\t', '\u00a0');
  const lines = [
    ...examples.join('\n').split('\n'),
    ...blockKeywords.flatMap((block) => [
      block.example,
      ...[...propertiesOf(block.name).values()].map((property) => `  ${property.example}`),
    ]),
    '  points V, A',
    '  0.0 8,5',
    '  12.5,8.4',
    '  1.5e2 -0.1 # end',
    '  nan 3',
    '  # a comment',
    '# another',
    '',
  ];
  /** A line of the notation with other white space, torn in places. */
  const line = fc
    .tuple(fc.constantFrom(...lines), fc.array(space, { minLength: 1, maxLength: 4 }), fc.nat(200), fc.nat(9))
    .map(([text, spaces, cut, doIt]) => {
      let count = 0;
      const spaced = text.replace(/ +/g, () => spaces[count++ % spaces.length]!);
      const at = cut % (spaced.length + 1);
      if (doIt === 0) return spaced.slice(0, at);
      if (doIt === 1) return `${spaced.slice(0, at)}"${spaced.slice(at)}`;
      if (doIt === 2) return `${spaced.slice(0, at)},${spaced.slice(at)}`;
      if (doIt === 3) return `${spaced.slice(0, at)}#${spaced.slice(at)}`;
      return doIt === 4 ? spaced.replace(/\s+/g, '') : spaced;
    });
  const text = fc
    .tuple(fc.array(line, { maxLength: 25 }), fc.constantFrom('\n', '\r\n', '\r'), fc.boolean())
    .map(([parts, end, open]) => parts.join(end) + (open ? '' : end));

  it('once is as good as twice, and says the same with the same comments', () => {
    fc.assert(
      fc.property(text, (given) => {
        const formatted = formatText(given);
        expect(formatText(formatted)).toBe(formatted);
        expect(said(formatted)).toEqual(said(given));
        if (!given.includes('\r')) expect(applied(given, formatEdits(parseDocument(given)))).toBe(formatted);
      }),
      { numRuns: 600 },
    );
  });

  it('survives characters of every kind', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 120 }), (given) => {
        const formatted = formatText(given);
        expect(formatText(formatted)).toBe(formatted);
        expect(said(formatted)).toEqual(said(given));
      }),
      { numRuns: 500 },
    );
  });
});
