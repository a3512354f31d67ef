/** What to do next about a string; nothing where nothing is to be done. */
import type { CheckedSweep } from '../checks/check.js';
import type { Facts } from './facts.js';
import { leadingCause } from './outcome.js';
import {
  doubtfulModulesProposal,
  failedProposal,
  replaceProposal,
  settleProposal,
  type SearchContext,
} from './searchProposals.js';
import type { CaseState, Proposal } from './stringCase.js';
import { listText, pmaxText, sweepName } from './words.js';
import { runAddress } from './positions.js';

export interface ProposalContext extends SearchContext {
  readonly facts: Facts;
  readonly state: CaseState;
}

export function caseProposal(context: ProposalContext): Proposal | undefined {
  const { search, state, facts } = context;
  if (state === 'waived') return undefined;
  if (search.faulty.length > 0) return replaceProposal(context);
  if (search.contradictions.length > 0) return settleProposal(context);
  if (search.doubtful.length > 0) return doubtfulModulesProposal(context);
  if (search.failed) return failedProposal(context, search.failed);
  if (state === 'replaced') return counterCheckProposal(context);
  if (state === 'open') return withoutPositions(context);
  const latest = facts.latest?.sweep;
  if (!latest) return undefined;
  if (latest.analysis.verdict === 'not judged') return notJudgedProposal(latest);
  return latest.analysis.verdict === 'conditional pass' ? decideProposal(latest) : undefined;
}

function counterCheckProposal({ string, facts }: ProposalContext): Proposal {
  const { latest, replacements } = facts;
  const replaced = listText([
    ...new Set(replacements.filter(isAfterLast(facts)).map(({ run }) => runAddress(string, run))),
  ]);
  const unjudged =
    latest?.sweep.analysis.verdict === 'not judged' && latest.index > replacements.at(-1)!.index
      ? ` ${sweepName(latest.sweep)} was not judged. ${headline(latest.sweep)}`
      : '';
  return {
    kind: 'counter-check',
    addresses: [string],
    text: `Repeat the sweep of ${string} as counter-check of the replacement.${unjudged}`,
    why: `${replaced} was replaced, and no sweep of the whole string has passed since.`,
    disconnects: true,
  };
}

/** Replaced since the string last passed or failed. */
const isAfterLast =
  ({ wholes }: Facts) =>
  ({ index }: { readonly index: number }): boolean =>
    index > (wholes.at(-1)?.index ?? -1);

/** The string fails, and how many modules it has is not known. */
function withoutPositions({ string, facts, suspicion }: ProposalContext): Proposal {
  const { sweep } = facts.wholes.at(-1)!;
  const doubt = suspicion && !suspicion.searchFirst ? ` ${suspicion.text}` : '';
  return {
    kind: 'one by one',
    addresses: [string],
    text: `Find what pulls ${string} down (${pmaxText(sweep)}): sweep its modules one by one.${doubt}`,
    why: 'Halves need the number of modules; write it into the string.',
    disconnects: true,
  };
}

const headline = ({ analysis: { reasons } }: CheckedSweep): string =>
  (reasons.find(({ decisive }) => decisive) ?? reasons[0])?.text ?? '';

function notJudgedProposal(latest: CheckedSweep): Proposal {
  const { reasons } = latest.analysis;
  const reason = reasons.find(({ decisive }) => decisive) ?? reasons[0];
  const { code = '' } = reason ?? {};
  // What is not known can be written; only what was measured has to be measured again.
  const weather = code.startsWith('condition-') && !code.endsWith('-unknown');
  const what = weather
    ? `Repeat ${latest.address} under the conditions of the criteria.`
    : code === 'implausible'
      ? `Correct what is entered for ${latest.address}.`
      : `Complete ${latest.address}.`;
  return {
    kind: 'repeat',
    addresses: [latest.address],
    text: `${what} ${headline(latest)}`.trimEnd(),
    why: `${sweepName(latest)} was not judged.`,
    disconnects: weather,
  };
}

function decideProposal(latest: CheckedSweep): Proposal {
  const cause = leadingCause(latest);
  const shape = cause ? ` ${cause.text} ${cause.tellApart}` : '';
  return {
    kind: 'repeat',
    addresses: [latest.address],
    text: `Decide on ${latest.address}: within the limit by less than the uncertainty. More light, less drift or a better reference narrows it.${shape}`,
    why: `${sweepName(latest)} passed by less than its uncertainty.`,
    disconnects: true,
  };
}
