/** Says in another language what the core says in English, as far as the catalogue has it. */
import type { Localiser } from '../localise.js';
import type { Language } from '../reportOptions.js';
import { catalogue } from './catalogue/index.js';
import { gapKindOf, gapPatterns } from './gapKinds.js';
import type { Sentence } from './sentence.js';
import { parseTemplate, Pattern, written, type Part } from './template.js';

/** A stretch of a text, in the language of the report, or still in English. */
export interface Said {
  readonly text: string;
  readonly isEnglish: boolean;
}

export type Translate = (text: string) => readonly Said[];

interface Entry {
  readonly sentence: Sentence;
  readonly pattern: Pattern;
  /** Some text that it surely holds: quicker to look for than the pattern. */
  readonly holds: string;
}

/** The sentences by the word that they begin with; under '' those that begin with a gap. */
type Index = ReadonlyMap<string, readonly Entry[]>;

let index: Index | undefined;

/** Reading the catalogue is left to the first report that is not English. */
function theIndex(): Index {
  return (index ??= indexOf(catalogue));
}

function indexOf(sentences: readonly Sentence[]): Index {
  const found = new Map<string, Entry[]>([['', []]]);
  for (const sentence of sentences) {
    const parts = parseTemplate(sentence.en);
    const entry = {
      sentence,
      pattern: new Pattern(parts, (name) => gapPatterns[gapKindOf(name)]),
      holds: longest(parts.flatMap((part) => (part.kind === 'text' ? [part.text] : []))),
    };
    const words = firstWords(parts) ?? [''];
    for (const word of words) found.set(word, [...(found.get(word) ?? []), entry]);
  }
  return found;
}

const longest = (texts: readonly string[]): string =>
  texts.reduce((most, text) => (text.length > most.length ? text : most), '');

/** The first word with the space behind it, where every text that fits begins with one of them. */
function firstWords([first, second]: readonly Part[]): string[] | undefined {
  if (first?.kind === 'text') {
    const word = firstWord(first.text);
    return word === undefined ? undefined : [word];
  }
  if (first?.kind !== 'choice' || second?.kind !== 'text') return undefined;
  const words = first.words.map((each) => firstWord(each + second.text));
  return words.every((word) => word !== undefined) ? [...new Set(words)] : undefined;
}

function firstWord(text: string): string | undefined {
  const space = text.indexOf(' ');
  return space < 1 ? undefined : text.slice(0, space);
}

const hasWords = /\p{L}/u;
const sentenceEnd = /(?<=[.!?]) (?=\S)/;
const listSeparator = /(, | and )/;

/** A stretch of more pieces than this is no single sentence. */
const mostPieces = 8;

interface Tongue {
  readonly and: string;
  readonly semicolon: string;
  /** From what sweep of what time: `1.03 vom 14.05.2026 11:42`. */
  readonly of: string;
  /** Does a sentence behind a colon begin with a small letter? */
  readonly smallBehindColon: boolean;
}

const tongues: Readonly<Record<Exclude<Language, 'en'>, Tongue>> = {
  de: { semicolon: '; ', and: ' und ', of: ' vom ', smallBehindColon: false },
  es: { semicolon: '; ', and: ' y ', of: ' del ', smallBehindColon: true },
  it: { semicolon: '; ', and: ' e ', of: ' del ', smallBehindColon: true },
  fr: { semicolon: '\u00a0; ', and: ' et ', of: ' du ', smallBehindColon: true },
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
const small = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);

/** @param heard is told every sentence and phrase that was found, with those inside others */
export function translatorTo(
  language: Exclude<Language, 'en'>,
  local: Localiser,
  heard: (sentence: Sentence) => void = () => undefined,
): Translate {
  const tongue = tongues[language];
  const plural = new Intl.PluralRules(language);
  const templates = new Map<Sentence, readonly Part[]>();
  const known = new Map<string, string | undefined>();

  const templateOf = (sentence: Sentence): readonly Part[] => {
    let parts = templates.get(sentence);
    if (!parts) templates.set(sentence, (parts = parseTemplate(sentence[language])));
    return parts;
  };

  /** One sentence or phrase as a whole. */
  function whole(text: string): string | undefined {
    if (!known.has(text)) known.set(text, translated(text));
    return known.get(text);
  }

  function translated(text: string): string | undefined {
    const entries = theIndex();
    for (const bucket of [entries.get(firstWord(text) ?? ''), entries.get('')])
      for (const { sentence, pattern, holds } of bucket ?? []) {
        const found = text.includes(holds) ? pattern.find(text) : undefined;
        const said = found && written(templateOf(sentence), found, write, formOf);
        if (said === undefined) continue;
        heard(sentence);
        return said;
      }
    return undefined;
  }

  const formOf = (number: string): 0 | 1 =>
    plural.select(Math.abs(Number.parseFloat(number))) === 'one' ? 0 : 1;

  function write(name: string, text: string): string | undefined {
    switch (gapKindOf(name)) {
      case 'value':
        return local.value(text);
      case 'time':
        return local.time(text);
      case 'sweep':
        return local.time(text.replace(' at ', tongue.of));
      case 'list':
        return list(text, item);
      case 'phrases':
        return list(text, whole);
      case 'phrase':
      case 'role':
        return whole(text);
      case 'opening':
        return whole(small(text));
      case 'sentence':
        return complete(sentences(text));
      case 'clause': {
        const said = complete(sentences(capital(text)));
        return said === undefined || !tongue.smallBehindColon ? said : small(said);
      }
      default:
        return text;
    }
  }

  /** Undefined as soon as there is an item that cannot be said. */
  function list(text: string, say: (text: string) => string | undefined): string | undefined {
    if (text.includes('; ')) {
      const said = text.split('; ').map((part) => say(part) ?? list(part, say));
      return said.every((part) => part !== undefined) ? said.join(tongue.semicolon) : undefined;
    }
    const pieces = text.split(listSeparator);
    let all = '';
    for (let at = 0; at < pieces.length;) {
      const [said, next] = longestKnown(pieces, at, 2, '', say);
      if (said === undefined) return undefined;
      all += said + (pieces[next] === ' and ' ? tongue.and : (pieces[next] ?? ''));
      at = next + 1;
    }
    return all;
  }

  /** An address, a sweep or a phrase. */
  function item(text: string): string | undefined {
    return /^\S+(?: at \S+(?: \S+)?)?$/.test(text) ? write('sweep', text) : whole(text);
  }

  /** The longest run of pieces from `at` on that is known as a whole, and the piece behind it. */
  function longestKnown(
    pieces: readonly string[],
    at: number,
    step: 1 | 2,
    between: string,
    say: (text: string) => string | undefined,
  ): readonly [said: string | undefined, next: number] {
    const furthest = at + 1 + (mostPieces - 1) * step;
    for (let end = Math.min(pieces.length, furthest); end > at; end -= step) {
      const said = say(pieces.slice(at, end).join(between));
      if (said !== undefined) return [said, end];
    }
    return [undefined, at + 1];
  }

  function sentences(text: string): Said[] {
    const first = whole(text);
    if (first !== undefined) return [{ text: first, isEnglish: false }];
    const pieces = text.split(sentenceEnd);
    const all: Said[] = [];
    for (let at = 0; at < pieces.length;) {
      const [said, next] = longestKnown(pieces, at, 1, ' ', whole);
      all.push(
        said === undefined ? { text: pieces[at]!, isEnglish: true } : { text: said, isEnglish: false },
      );
      at = next;
    }
    return all;
  }

  return (text) =>
    hasWords.test(text) ? joined(sentences(text)) : [{ text: local.value(text), isEnglish: false }];
}

const complete = (said: readonly Said[]): string | undefined =>
  said.some(({ isEnglish }) => isEnglish) ? undefined : said.map(({ text }) => text).join(' ');

/** Neighbours of one language together, with the space between two on the side of the first. */
function joined(said: readonly Said[]): Said[] {
  const all: { text: string; isEnglish: boolean }[] = [];
  for (const { text, isEnglish } of said) {
    const last = all.at(-1);
    if (last) last.text += ' ';
    if (last?.isEnglish === isEnglish) last.text += text;
    else all.push({ text, isEnglish });
  }
  return all;
}
