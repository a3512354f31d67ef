/** What the campaign asks for next, in words: errors to mend, what many strings have in common, one step a case. */
import { commonCauses } from '../cases/likelyCause.js';
import type { StringCase } from '../cases/stringCase.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { addressList } from './addressList.js';

export interface NextStep {
  readonly text: string;
  /** Why this and not something else; absent where the text says it. */
  readonly why?: string;
  /** Something has to be disconnected or opened for it, if only to connect a tracer: show the cautions. */
  readonly disconnects: boolean;
}

/**
 * Errors first, since they may be why something is not judged; then what many strings have in common; then what each
 * case proposes, in the order of the campaign, equal ones in one.
 */
export function nextSteps(evaluation: Evaluation): NextStep[] {
  const common = commonCauses(evaluation.sweeps).map(({ text }) => text);
  return [
    ...errorSteps(evaluation),
    ...common.map((text) => ({ text, disconnects: false })),
    ...caseSteps(evaluation.cases, new Set(common)),
    ...nothingYet(evaluation),
  ];
}

function nothingYet({ sweeps, problems }: Evaluation): NextStep[] {
  if (sweeps.length > 0 || problems.length > 0) return [];
  const text =
    'Write a sweep, such as `sweep 1.03 at 2026-05-14 11:42`, and under it what it was taken with: nothing is judged yet.';
  return [{ text, disconnects: false }];
}

function errorSteps({ problems }: Evaluation): NextStep[] {
  const errors = problems.filter((problem) => problem.severity === 'error').length;
  if (errors === 0) return [];
  const text = `Mend the ${errors === 1 ? 'error' : `${errors} errors`} listed as diagnostics; all else is computed already.`;
  return [{ text, disconnects: false }];
}

/** Steps that differ in the name of their string alone are said once. `said`: what stands above already. */
function caseSteps(cases: readonly StringCase[], said: ReadonlySet<string>): NextStep[] {
  const groups = new Map<string, { strings: string[]; before: string; behind: string; step: NextStep }>();
  for (const { string, proposal } of cases) {
    if (!proposal || said.has(proposal.text)) continue;
    const { text, why, disconnects } = proposal;
    const at = text.indexOf(string);
    const [before, behind] = at < 0 ? [text, ''] : [text.slice(0, at), text.slice(at + string.length)];
    const key = JSON.stringify([before, behind, at < 0]);
    const known = groups.get(key);
    if (known) known.strings.push(string);
    else groups.set(key, { strings: [string], before, behind, step: { text, why, disconnects } });
  }
  return [...groups.values()].map(({ strings, before, behind, step }) =>
    strings.length === 1
      ? step
      : { text: before + addressList(strings) + behind, disconnects: step.disconnects },
  );
}
