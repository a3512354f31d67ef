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
import { translatorTo, type Translate } from './sentences/translator.js';
import { wordsOf } from './words/index.js';
import type { Words } from './words/words.js';

export interface ReportContext {
  readonly evaluation: Evaluation;
  readonly options: ReportOptions;
  readonly pictures: Pictures;
  readonly words: Words;
  readonly local: Localiser;
  /** What the core says, in the language of the report; what the catalogue does not have stays English and is marked so. */
  readonly said: (text: string, look?: Pick<Span, 'soft' | 'strong'>) => readonly Span[];
  /** The same where there is no room for marks. */
  readonly saidText: (text: string) => string;
  readonly verdict: (mark: VerdictMark | Verdict) => Span;
  readonly state: (state: CaseState) => Span;
}

/** @param translateTo makes the translator; for who wants to know what was translated */
export function contextOf(
  evaluation: Evaluation,
  options: ReportOptions,
  pictures: Pictures,
  translateTo = translatorTo,
): ReportContext {
  const words = wordsOf(options.language);
  const local = localiser(words);
  const translate: Translate =
    options.language === 'en'
      ? (text) => [{ text: withUnitSigns(text), isEnglish: false }]
      : translateTo(options.language, local);
  return {
    evaluation,
    options,
    pictures,
    words,
    local,
    said: (text, look) =>
      translate(text).map((part) =>
        part.isEnglish
          ? { text: withUnitSigns(part.text), language: 'en', ...look }
          : { text: part.text, ...look },
      ),
    saidText: (text) =>
      translate(text)
        .map((part) => part.text)
        .join(''),
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
