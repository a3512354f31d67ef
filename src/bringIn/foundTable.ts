import type { CurveParameters } from '../physics/ivCurve.js';
import type { LayoutCandidate } from '../presentation/fixes/layoutCandidates.js';
import type { LayoutLines } from '../presentation/fixes/layoutText.js';
import type { RecognisedLayout } from '../sweeps/recogniseLayout.js';
import type { SweepReading } from '../sweeps/sweepReading.js';
import type { NamedLayout } from './layoutNeeded.js';
import { askedKinds, type Asked, type TableFacts } from './tableFacts.js';
import type { DateOrder } from './writtenTime.js';

export interface TableInput {
  /** Key of the file with the host. */
  readonly file: string;
  /** Relative to the campaign file, with `/`. */
  readonly path: string;
  readonly bytes: Uint8Array;
}

interface FoundCommon {
  /** Key of the file with the host. */
  readonly file: string;
  /** Relative to the campaign file, with `/`. */
  readonly path: string;
  readonly recognised: RecognisedLayout;
  readonly facts: TableFacts;
  readonly layout?: NamedLayout;
  /** What a reader should know, each a sentence. */
  readonly remarks: readonly string[];
}

/** A table of one sweep. */
export interface FoundSweep extends FoundCommon {
  readonly kind: 'sweep';
  readonly reading: SweepReading;
  readonly parameters: CurveParameters;
  /** Layouts that it reads with, where none is far likelier than the others: the first is taken for now. */
  readonly choices: readonly LayoutCandidate[];
  readonly order?: DateOrder;
  readonly isDayDoubtful: boolean;
}

/** A table of many sweeps. */
export interface FoundSweeps extends FoundCommon {
  readonly kind: 'sweeps';
  /** `address "String"` and the like. */
  readonly columns: LayoutLines;
  readonly count: number;
  readonly points: number;
  readonly addresses: readonly string[];
}

export type FoundTable = FoundSweep | FoundSweeps;

export interface LeftOut {
  readonly kind: 'left';
  readonly file: string;
  readonly path: string;
  readonly reason: string;
  /** The campaign names it already, so nothing is wrong. */
  readonly isNamed: boolean;
}

/** What only the user can tell. A table of many sweeps has address and time in its columns or not at all. */
export function missingOf(found: FoundTable): readonly Asked[] {
  return askedKinds.filter((asked) => {
    if (found.kind === 'sweeps' && (asked === 'address' || asked === 'time')) return false;
    return found.facts[asked].fact === undefined;
  });
}

/** With answers in the words of the notation; `cell` or `module` alone completes a temperature that lacks only its kind. */
export function withAnswers<T extends FoundTable>(found: T, answers: Partial<Record<Asked, string>>): T {
  const facts = { ...found.facts };
  for (const asked of askedKinds) {
    const answer = answers[asked]?.trim();
    if (answer === undefined || answer === '') continue;
    const { withoutKind } = found.facts[asked];
    const isKind = asked === 'temperature' && /^(?:cell|module)\b/.test(answer);
    // A kind says nothing where no value lacks one.
    if (isKind && withoutKind === undefined) continue;
    facts[asked] = { fact: { text: isKind ? `${withoutKind} ${answer}` : answer, source: 'as given' } };
  }
  return { ...found, facts };
}
