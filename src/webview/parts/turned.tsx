import type { VerdictMark } from '../../presentation/verdictWords.js';
import { Verdict } from './basics.js';

/** A verdict, and the one it was before where that was another. */
export function Turned({ before, after }: { before: VerdictMark; after: VerdictMark }) {
  if (before.verdict === after.verdict) return <Verdict mark={after} />;
  return (
    <span class="turned">
      <Verdict mark={before} />
      <span class="arrow">
        <span aria-hidden="true">→</span>
        <span class="unseen"> turned to </span>
      </span>
      <Verdict mark={after} />
    </span>
  );
}
