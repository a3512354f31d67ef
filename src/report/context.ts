/** What every part of a report is built from. */
import type { Evaluation } from '../evaluation/evaluation.js';
import { stateMark } from '../presentation/caseWords.js';
import type { StateMark } from '../presentation/caseWords.js';
import type { VerdictMark } from '../presentation/verdictWords.js';
import { verdictMark } from '../presentation/verdictWords.js';
import type { CaseState } from '../cases/stringCase.js';
import type { Verdict } from '../analysis/sweepAnalysis.js';
import type { Span } from './document.js';
import { localiser, withUnitSigns, type Localiser } from './localise.js';
import type { ReportOptions } from './reportOptions.js';
import type { Pictures } from './pictures.js';
import { wordsOf } from './words/index.js';
import { phrases, type Words } from './words/words.js';

export interface ReportContext {
  readonly evaluation: Evaluation;
  readonly options: ReportOptions;
  readonly pictures: Pictures;
  readonly words: Words;
  readonly local: Localiser;
  /** A sentence of the core, which is in English in every report. */
  readonly english: (text: string) => Span;
  readonly verdict: (mark: VerdictMark | Verdict) => Span;
  readonly state: (state: CaseState) => Span;
}

export function contextOf(evaluation: Evaluation, options: ReportOptions, pictures: Pictures): ReportContext {
  const words = wordsOf(options.language);
  const inEnglish = options.language === 'en';
  return {
    evaluation,
    options,
    pictures,
    words,
    local: localiser(words),
    english: (text) => ({ text: withUnitSigns(text), ...(inEnglish ? {} : { language: 'en' as const }) }),
    verdict: (given) => {
      const mark = typeof given === 'string' ? verdictMark(given) : given;
      return marked(mark, words.verdicts[mark.verdict]);
    },
    state: (state) => marked(stateMark(state), words.states[state]),
  };
}

export const marked = ({ symbol, tone }: Pick<StateMark, 'symbol' | 'tone'>, text: string): Span => ({
  text,
  symbol,
  tone,
  strong: true,
});

const known: ReadonlySet<string> = new Set(phrases);

/** A condition or its origin: fixed words in the language of the report, what is written or computed as it is. */
export function phraseText({ words, local }: ReportContext, text: string): string {
  if (known.has(text)) return words.phrases[text as keyof Words['phrases']];
  return local.time(
    withUnitSigns(text)
      .replace(/^calibrated /, `${words.columns.calibrated} `)
      .replace(/, serial (.*)$/s, (_, serial: string) => `, ${words.serialOf(serial)}`),
  );
}
