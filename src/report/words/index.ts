import type { Language } from '../reportOptions.js';
import { de } from './de.js';
import { en } from './en.js';
import { es } from './es.js';
import { fr } from './fr.js';
import { it } from './it.js';
import type { Words } from './words.js';

const tables: Readonly<Record<Language, Words>> = { en, de, es, it, fr };

export const wordsOf = (language: Language): Words => tables[language];
