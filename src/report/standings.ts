/** How each string of a campaign stands: the sweep that counts for it, and what became of its case. */
import { byMoment } from '../campaign/moment.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { stringNames } from '../evaluation/stringNames.js';
import { isOpenState, isSettledState, type StringCase } from '../cases/stringCase.js';
import { groupBy } from '../text/groups.js';
import { standings, type Standing } from './words/words.js';

export interface StringStanding {
  readonly string: string;
  readonly standing: Standing;
  readonly case?: StringCase;
  /** The latest judged sweep of the whole string, else its latest one; absent where only parts of it were measured. */
  readonly sweep?: EvaluatedSweep;
}

/** Of every string, also of those that were measured without being declared. */
export function stringStandings(evaluation: Evaluation): StringStanding[] {
  const { sweeps, cases } = evaluation;
  // Those of parts have keys that name no string.
  const byAddress = groupBy(sweeps, ({ address }) => address);
  const caseOf = new Map(cases.map((each) => [each.string, each]));
  return stringNames(evaluation).map((string) => {
    const sweep = countingSweep(byAddress.get(string) ?? []);
    const found = caseOf.get(string);
    return { string, sweep, case: found, standing: standingOf(sweep, found) };
  });
}

/** Judged ones count before others, void ones last; of these the latest, and of one time the later in the text. */
function countingSweep(sweeps: readonly EvaluatedSweep[]): EvaluatedSweep | undefined {
  const rank = ({ analysis: { verdict } }: EvaluatedSweep): number =>
    verdict === 'void' ? 0 : verdict === 'not judged' ? 1 : 2;
  return sweeps.reduce<EvaluatedSweep | undefined>((best, sweep) => {
    if (!best || rank(sweep) > rank(best)) return sweep;
    return rank(sweep) === rank(best) && byMoment(sweep, best) >= 0 ? sweep : best;
  }, undefined);
}

function standingOf(sweep: EvaluatedSweep | undefined, found: StringCase | undefined): Standing {
  if (found && isSettledState(found.state)) return found.state;
  const verdict = sweep?.analysis.verdict ?? 'not judged';
  if (found && isOpenState(found.state) && !(verdict === 'conditional fail')) return 'fail';
  return verdict === 'void' ? 'not judged' : verdict;
}

/** In the order of `standings`; those that no string has are left out. */
export function standingCounts(rows: readonly StringStanding[]): { standing: Standing; count: number }[] {
  return standings.flatMap((standing) => {
    const count = rows.filter((row) => row.standing === standing).length;
    return count > 0 ? [{ standing, count }] : [];
  });
}

/** What asks for work first. */
export const byUrgency = (rows: readonly StringStanding[]): StringStanding[] => {
  const order: readonly Standing[] = [
    'fail',
    'conditional fail',
    'not judged',
    'waived',
    'verified',
    'conditional pass',
    'pass',
  ];
  return [...rows].sort((a, b) => order.indexOf(a.standing) - order.indexOf(b.standing));
};
