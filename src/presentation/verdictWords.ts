/**
 * Verdicts as people see them: a word and a mark of its own shape, so that no reader depends on colour. Words follow the
 * binary statement with guard band of ILAC-G8:09/2019 (from memory, not confirmed).
 */
import type { Verdict } from '../analysis/sweepAnalysis.js';
import type { VerdictCounts } from '../evaluation/evaluation.js';

/** How loudly a host should say it. */
export type VerdictTone = 'good' | 'doubtful' | 'bad' | 'neutral';

export interface VerdictMark {
  readonly verdict: Verdict;
  /** For people, such as `conditional fail`. */
  readonly word: string;
  /** One character, a different shape for each verdict. */
  readonly symbol: string;
  /** The same in ASCII, for terminals that show nothing else. */
  readonly ascii: string;
  readonly tone: VerdictTone;
  /** What it says, in one sentence. */
  readonly meaning: string;
}

const marks: Readonly<Record<Verdict, VerdictMark>> = {
  pass: {
    verdict: 'pass',
    word: 'pass',
    symbol: '●',
    ascii: '+',
    tone: 'good',
    meaning: 'Within the limits by more than the uncertainty.',
  },
  'conditional pass': {
    verdict: 'conditional pass',
    word: 'conditional pass',
    symbol: '▲',
    ascii: '~',
    tone: 'doubtful',
    meaning: 'Within the limits, but nearer to one than the uncertainty.',
  },
  'conditional fail': {
    verdict: 'conditional fail',
    word: 'conditional fail',
    symbol: '◆',
    ascii: '?',
    tone: 'doubtful',
    meaning: 'Outside a limit, but by less than the uncertainty.',
  },
  fail: {
    verdict: 'fail',
    word: 'fail',
    symbol: '■',
    ascii: '!',
    tone: 'bad',
    meaning: 'Outside a limit by more than the uncertainty.',
  },
  'not judged': {
    verdict: 'not judged',
    word: 'not judged',
    symbol: '○',
    ascii: 'o',
    tone: 'neutral',
    meaning:
      'No verdict: something that it needs is missing, or the conditions of the criteria were not met.',
  },
  void: {
    verdict: 'void',
    word: 'void',
    symbol: '⊘',
    ascii: '/',
    tone: 'neutral',
    meaning: 'Set aside by the author, with a reason.',
  },
};

/** Every verdict, from best to worst, then those without one. */
export const verdictOrder: readonly Verdict[] = [
  'pass',
  'conditional pass',
  'conditional fail',
  'fail',
  'not judged',
  'void',
];

export function verdictMark(verdict: Verdict): VerdictMark {
  return marks[verdict];
}

const countOf: Readonly<Record<Verdict, keyof VerdictCounts>> = {
  pass: 'pass',
  'conditional pass': 'conditionalPass',
  'conditional fail': 'conditionalFail',
  fail: 'fail',
  'not judged': 'notJudged',
  void: 'void',
};

export interface VerdictCount {
  readonly mark: VerdictMark;
  readonly count: number;
}

/** In the order of `verdictOrder`, zeros included. */
export function verdictCounts(counts: VerdictCounts): readonly VerdictCount[] {
  return verdictOrder.map((verdict) => ({ mark: marks[verdict], count: counts[countOf[verdict]] }));
}

/** `12 sweeps: 9 pass, 2 fail, 1 not judged`. Verdicts that nobody got are left out. */
export function countsLine(counts: VerdictCounts): string {
  const rows = verdictCounts(counts);
  const total = rows.reduce((sum, row) => sum + row.count, 0);
  if (total === 0) return 'No sweeps';
  const parts = rows.filter((row) => row.count > 0).map((row) => `${row.count} ${row.mark.word}`);
  return `${total} ${total === 1 ? 'sweep' : 'sweeps'}: ${parts.join(', ')}`;
}

/** `● 9  ■ 2  ○ 1`, for places that have no room for words; those stand in `countsLine`. */
export function countsMarks(counts: VerdictCounts): string {
  const parts = verdictCounts(counts).filter(({ count }) => count > 0);
  return parts.length === 0
    ? 'No sweeps'
    : parts.map(({ mark, count }) => `${mark.symbol} ${count}`).join('  ');
}
