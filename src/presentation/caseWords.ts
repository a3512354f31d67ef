/** States of a case and of a module as people see them: a word and a mark of its own shape, as in verdictWords.ts. */
import type { CaseState, ModuleStatus } from '../cases/stringCase.js';
import type { VerdictTone } from './verdictWords.js';

export interface StateMark {
  readonly word: string;
  /** One character, a different shape for each state. */
  readonly symbol: string;
  /** The same in ASCII, for terminals that show nothing else. */
  readonly ascii: string;
  readonly tone: VerdictTone;
  /** What it says, in one sentence. */
  readonly meaning: string;
}

const states: Readonly<Record<CaseState, StateMark>> = {
  sound: { word: 'sound', symbol: '●', ascii: '+', tone: 'good', meaning: 'No fault is known.' },
  open: {
    word: 'open',
    symbol: '■',
    ascii: '!',
    tone: 'bad',
    meaning: 'A fault is known, and not yet where it is.',
  },
  located: {
    word: 'located',
    symbol: '◆',
    ascii: '>',
    tone: 'bad',
    meaning: 'It is known which modules are at fault; they were not replaced yet.',
  },
  replaced: {
    word: 'replaced',
    symbol: '▲',
    ascii: '~',
    tone: 'doubtful',
    meaning: 'Something was replaced, and no counter-check has passed since.',
  },
  verified: {
    word: 'verified',
    symbol: '★',
    ascii: '*',
    tone: 'good',
    meaning: 'A sweep of the whole string passed after the fault was mended.',
  },
  waived: {
    word: 'waived',
    symbol: '⊘',
    ascii: '/',
    tone: 'neutral',
    meaning: 'The fault was accepted by a person, with a reason.',
  },
  'not known': {
    word: 'not known',
    symbol: '○',
    ascii: 'o',
    tone: 'neutral',
    meaning: 'Nothing of this string is judged yet.',
  },
};

export const stateMark = (state: CaseState): StateMark => states[state];

/** Every state, the ones that ask for work first. */
export const stateOrder: readonly CaseState[] = [
  'open',
  'located',
  'replaced',
  'not known',
  'waived',
  'verified',
  'sound',
];

const modules: Readonly<Record<ModuleStatus, StateMark>> = {
  untested: { word: 'untested', symbol: '○', ascii: 'o', tone: 'neutral', meaning: 'Not measured yet.' },
  cleared: {
    word: 'cleared',
    symbol: '●',
    ascii: '+',
    tone: 'good',
    meaning: 'Measured, and nothing is wrong.',
  },
  suspect: {
    word: 'suspect',
    symbol: '▲',
    ascii: '?',
    tone: 'doubtful',
    meaning: 'Lies in a part that failed, or is doubted by the curve.',
  },
  faulty: { word: 'faulty', symbol: '■', ascii: '!', tone: 'bad', meaning: 'Measured, and found at fault.' },
  replaced: {
    word: 'replaced',
    symbol: '★',
    ascii: '*',
    tone: 'good',
    meaning: 'Another module is there now.',
  },
  contradictory: {
    word: 'contradictory',
    symbol: '◆',
    ascii: '#',
    tone: 'doubtful',
    meaning: 'Measurements of it disagree.',
  },
};

export const moduleMark = (status: ModuleStatus): StateMark => modules[status];
