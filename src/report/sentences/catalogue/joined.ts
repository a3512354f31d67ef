/** What holds pieces and sentences together. These fit much, so they come last. */
import type { Sentence } from '../sentence.js';

export const joined: readonly Sentence[] = [
  {
    en: '{phrase} and {phrase2}',
    de: '{phrase} und {phrase2}',
    es: '{phrase} y {phrase2}',
    it: '{phrase} e {phrase2}',
    fr: '{phrase} et {phrase2}',
  },
  {
    en: '{phrase}, {phrase2}',
    de: '{phrase}, {phrase2}',
    es: '{phrase}, {phrase2}',
    it: '{phrase}, {phrase2}',
    fr: '{phrase}, {phrase2}',
  },
  {
    en: '{phrase}, or {phrase2}',
    de: '{phrase} oder {phrase2}',
    es: '{phrase} o {phrase2}',
    it: '{phrase} o {phrase2}',
    fr: '{phrase} ou {phrase2}',
  },
  {
    en: '{phrase} (nu = {count})',
    de: '{phrase} (nu = {count})',
    es: '{phrase} (nu = {count})',
    it: '{phrase} (nu = {count})',
    fr: '{phrase} (nu = {count})',
  },
  { en: '{phrases}.', de: '{phrases}.', es: '{phrases}.', it: '{phrases}.', fr: '{phrases}.' },
  {
    en: '{phrase}.',
    de: '{phrase}.',
    es: '{phrase}.',
    it: '{phrase}.',
    fr: '{phrase}.',
  },
  {
    en: '{file}: {sentence}',
    de: '{file}: {sentence}',
    es: '{file}: {sentence}',
    it: '{file}: {sentence}',
    fr: '{file} : {sentence}',
  },
];
