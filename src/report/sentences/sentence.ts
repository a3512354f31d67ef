import type { Language } from '../reportOptions.js';

/** One sentence, or piece of one, as the core says it and as the other languages do; see template.ts for the gaps. */
export type Sentence = Readonly<Record<Language, string>>;
