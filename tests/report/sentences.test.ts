/** What the core says, in the languages of a report: nothing stays English, no number changes, and no entry is idle or half. */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { linesOf, spansOf } from '../../src/report/document.js';
import { localiser } from '../../src/report/localise.js';
import { reportDocument } from '../../src/report/reportDocument.js';
import { languages, reportContents, type Language } from '../../src/report/reportOptions.js';
import { catalogue } from '../../src/report/sentences/catalogue/index.js';
import type { Sentence } from '../../src/report/sentences/sentence.js';
import { flatParts, parseTemplate, type Part } from '../../src/report/sentences/template.js';
import { translatorTo, type Translate } from '../../src/report/sentences/translator.js';
import { wordsOf } from '../../src/report/words/index.js';
import { expectGolden } from '../presentation/goldenFile.js';
import { documentOf, example, options } from './campaigns.js';
import { corpus } from './corpus.js';

type Translated = Exclude<Language, 'en'>;
const others = languages.filter((language): language is Translated => language !== 'en');

const translator = (language: Translated, heard?: (sentence: Sentence) => void): Translate =>
  translatorTo(language, localiser(wordsOf(language)), heard);

/** Everything that the reports of the corpus have the core say. */
const said = new Set<string>();
const met = new Set<Sentence>();

beforeAll(async () => {
  for (const evaluation of await corpus())
    for (const content of reportContents) {
      const asked = { ...options, content, language: 'de' as const };
      reportDocument(evaluation, asked, new Map(), (language, local) => {
        const translate = translatorTo(language, local, (sentence) => met.add(sentence));
        return (text) => {
          said.add(text);
          return translate(text);
        };
      });
    }
}, 300_000);

const plain = (translate: Translate, text: string): string =>
  translate(text)
    .map((part) => part.text)
    .join('');

describe.each(others)('in %s', (language) => {
  it('no sentence stays English', () => {
    const translate = translator(language);
    const left = [...said].flatMap((text) => translate(text).filter(({ isEnglish }) => isEnglish));
    expect(left.map(({ text }) => text)).toEqual([]);
  });

  it('every number of a sentence is that of the English one', () => {
    const translate = translator(language);
    const changed = [...said]
      .map((text) => [text, plain(translate, text)] as const)
      .filter(([text, translated]) => numbersOf(text).join(' ') !== numbersOf(translated).join(' '));
    expect(changed).toEqual([]);
  });

  it('has a space where English has one, and no gap left open', () => {
    const translate = translator(language);
    const odd = [...said]
      .map((text) => plain(translate, text))
      .filter((text) => /[{}]|undefined| {2}|^ | [,)]| \.(?!\.)/.test(text));
    expect(odd).toEqual([]);
  });
});

/** Digits, with the decimal sign and the dates of every language made alike; the small 2 of a square is no number. */
function numbersOf(text: string): string[] {
  const alike = text
    .replace(/\b(W\/|m)m?2\b|m²/g, '')
    .replace(/(\d{2})[./](\d{2})[./](\d{4})/g, '$3-$2-$1')
    .replace(/(\d),(\d)/g, '$1.$2');
  return (alike.match(/\d+(?:\.\d+)?/g) ?? []).sort();
}

/** Gaps and numbered words: what a sentence has to tell. */
const tells = (parts: readonly Part[]): string[] => [
  ...new Set(
    flatParts(parts).flatMap((part) =>
      part.kind === 'gap'
        ? [part.name]
        : part.kind === 'choice'
          ? [`${part.id}: ${part.words.length} words`]
          : [],
    ),
  ),
];

describe('the catalogue', () => {
  it('has each sentence once, in every language, with the same gaps', () => {
    expect(new Set(catalogue.map(({ en }) => en)).size).toBe(catalogue.length);
    for (const sentence of catalogue) {
      const english = tells(parseTemplate(sentence.en)).sort();
      for (const language of others) {
        const template = sentence[language];
        expect(template, sentence.en).not.toBe('');
        expect(tells(parseTemplate(template)).sort(), `${language}: ${template}`).toEqual(english);
      }
    }
  });

  it('gives forms of words for a number that it has, one and other', () => {
    for (const sentence of catalogue)
      for (const language of languages) {
        const parts = flatParts(parseTemplate(sentence[language]));
        const gaps = parts.flatMap((part) => (part.kind === 'gap' ? [part.name] : []));
        for (const part of parts)
          if (part.kind === 'forms') {
            expect(part.words, sentence[language]).toHaveLength(2);
            expect(gaps, sentence[language]).toContain(part.of);
          }
      }
  });

  it('has no entry that nothing meets, save those that are listed', () => {
    const idle = catalogue.filter((sentence) => !met.has(sentence)).map(({ en }) => en);
    expectGolden('sentences-not-yet-met.txt', idle.join('\n') + '\n');
  });

  it('has no entry whose words the core has given up', () => {
    const sources = sourcesOf(fileURLToPath(new URL('../../src', import.meta.url)));
    const gone = catalogue.flatMap(({ en }) =>
      flatParts(parseTemplate(en)).flatMap((part) =>
        part.kind === 'text'
          ? part.text
              .split(/(?<=[.;:]) | \(|`/)
              .map((piece) => piece.replace(/^[\s,);]+|[\s.:;(]+$/g, ''))
              .filter((piece) => /\w+ \w+ \w+/.test(piece) && !isSaid(piece, sources))
          : [],
      ),
    );
    expect(gone).toEqual([]);
  });
});

/** As it stands, or in so many pieces that the code joins. */
function isSaid(piece: string, sources: string, pieces = 3): boolean {
  if (sources.includes(piece)) return true;
  const words = piece.split(' ');
  return (
    pieces > 1 &&
    words.some(
      (_, index) =>
        index > 0 &&
        sources.includes(
          words
            .slice(0, index)
            .join(' ')
            .replace(/[.,:;]$/, ''),
        ) &&
        isSaid(words.slice(index).join(' '), sources, pieces - 1),
    )
  );
}

/** What src/ says beside the report, with texts over several lines joined. */
function sourcesOf(folder: string): string {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts') && !entry.parentPath.includes('report'))
    .map((entry) => readFileSync(path.join(entry.parentPath, entry.name), 'utf8'))
    .join('\n')
    .replace(/['`]\s*\+\s*['`]/g, '')
    .replaceAll('\\', '');
}

describe('a report', () => {
  const languagesOf = (report: ReturnType<typeof documentOf>): (Language | undefined)[] =>
    report.blocks.flatMap((block) =>
      linesOf(block).flatMap((line) => spansOf(line).map(({ language }) => language)),
    );

  it('has no word of English and does not speak of any, where everything is in the catalogue', async () => {
    const report = documentOf(await example('harrow-fen'), { language: 'de' });
    expect(languagesOf(report)).not.toContain('en');
    expect(JSON.stringify(report.blocks)).not.toContain(wordsOf('de').englishSentences);
  });

  it('marks a sentence that is not, and says so', async () => {
    const evaluation = await example('harrow-fen-sample');
    const asked = { ...options, language: 'de' as const };
    const report = reportDocument(evaluation, asked, new Map(), () => (text) => [
      { text, isEnglish: text.startsWith('Translated to') },
    ]);
    expect(languagesOf(report)).toContain('en');
    expect(report.blocks[2]).toEqual({
      kind: 'paragraph',
      text: wordsOf('de').englishSentences,
      small: true,
    });
  });

  it('leaves of several sentences only the unknown one in English', () => {
    expect(translator('de')('Plus is plus. The moon is full. Plus and minus are exchanged.')).toEqual([
      { text: 'Plus ist Plus. ', isEnglish: false },
      { text: 'The moon is full. ', isEnglish: true },
      { text: 'Plus und Minus sind vertauscht.', isEnglish: false },
    ]);
  });

  it('leaves what people wrote and notation as they are', () => {
    const translate = translator('fr');
    expect(plain(translate, 'Accepted by A. Fen: 1.5 m of shade at noon, and 3.2 later.')).toBe(
      'Accepté par A. Fen\u00a0: 1.5 m of shade at noon, and 3.2 later.',
    );
    expect(plain(translate, 'The decimal sign is a point: `8.5`, not `8,5`.')).toContain('`8.5`');
  });
});
