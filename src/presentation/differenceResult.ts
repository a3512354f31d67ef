import type { Change, Written } from '../difference/changes.js';
import type { Difference, MovedSweep, Movement, Readings, Spread, Turn } from '../difference/difference.js';
import type { EvaluatedSweep } from '../evaluation/evaluation.js';
import type { FileProblem } from '../text/problem.js';
import { diagnosisHeadline } from './diagnosisTexts.js';
import type { DifferenceResult } from './differenceResultSchema.js';
import { causeSentence, testTitle, type DifferenceNames } from './differenceTexts.js';
import { roundSignificant } from './formatNumber.js';
import { resultDigits } from './resultDigits.js';
import { sweepTitle } from './sweepTexts.js';

type CampaignResult = DifferenceResult['campaigns'][number];
type Display = (file: string) => string;

const rounded = (value: number | undefined): number | null => roundSignificant(value, resultDigits);

/** The difference of one campaign in the form of `differenceResultSchema`. */
export function differenceResult(
  difference: Difference,
  file: string,
  state: CampaignResult['state'],
  names: DifferenceNames,
): CampaignResult {
  const ids = new Map(difference.changes.map((change, id) => [change, id]));
  const id = (change: Change): number => ids.get(change)!;
  return {
    file,
    state,
    changes: difference.changes.map((change) => changeResult(change, id(change), names)),
    untraced: difference.untraced,
    causes: difference.causes.map((cause) => ({
      change: id(cause.change),
      movements: cause.movements.map(({ parameter, sweeps, ...spreads }) => ({
        parameter,
        sweeps,
        change: spreadResult(spreads.change),
        deviationChange: spreadResult(spreads.deviationChange),
        uncertaintyChange: spreadResult(spreads.uncertaintyChange),
      })),
      verdicts: cause.verdicts.length,
      cancelled: cause.cancelled,
      text: causeSentence(cause),
    })),
    turns: turnResults(difference, id),
    moved: difference.moved.map((moved) => movedResult(moved, id, names)),
    movedLess: difference.movedLess,
    sweepsAdded: difference.sweepsAdded.map((sweep) => sweepResult(sweep, names.after)),
    sweepsRemoved: difference.sweepsRemoved.map((sweep) => sweepResult(sweep, names.before)),
    testsAdded: difference.testsAdded.map(testTitle),
    testsRemoved: difference.testsRemoved.map(testTitle),
    problemsAdded: difference.problemsAdded.map((problem) => problemResult(problem, names.after)),
    problemsRemoved: difference.problemsRemoved.map((problem) => problemResult(problem, names.before)),
  };
}

function changeResult(change: Change, id: number, names: DifferenceNames): CampaignResult['changes'][number] {
  const { kind, subject, property, before, after, wordsOnly, detail } = change;
  return {
    id,
    kind,
    subject: { ...subject },
    property: property ?? null,
    before: before ? writtenResult(before, names.before) : null,
    after: after ? writtenResult(after, names.after) : null,
    wordsOnly,
    detail: detail ?? null,
  };
}

const writtenResult = ({ text, place }: Written, display: Display) => ({
  text,
  file: display(place.file),
  line: place.range.start.line + 1,
});

function turnResults(difference: Difference, id: (change: Change) => number): CampaignResult['turns'] {
  const result = (
    what: CampaignResult['turns'][number]['what'],
    subject: string,
    { before, after, traced, changes }: Turn,
  ) => ({ what, subject, before, after, traced, changes: changes.map(id) });
  const headline = ({ diagnosis }: EvaluatedSweep): string => diagnosisHeadline(diagnosis!);
  return [
    ...difference.verdicts.map((turn) => result('verdict', sweepTitle(turn.sweeps.after), turn)),
    ...difference.diagnoses.map(({ sweeps, ...turn }) =>
      result('diagnosis', sweepTitle(sweeps.after), {
        ...turn,
        before: headline(sweeps.before),
        after: headline(sweeps.after),
      }),
    ),
    ...difference.cases.map((turn) => result('case', turn.cases.after.string, turn)),
    ...difference.tests.map((turn) => result('electrical test', testTitle(turn.tests.after), turn)),
  ];
}

function movedResult(
  { before, after, movements, shares, remainder }: MovedSweep,
  id: (change: Change) => number,
  names: DifferenceNames,
): CampaignResult['moved'][number] {
  return {
    before: sweepResult(before, names.before),
    after: sweepResult(after, names.after),
    movements: movements.map(movementResult),
    shares: shares.map(({ change, movements: own }) => ({
      change: id(change),
      pmax: rounded(own.find(({ parameter }) => parameter === 'pmax')?.change),
    })),
    remainder: rounded(remainder),
  };
}

function movementResult(movement: Movement): CampaignResult['moved'][number]['movements'][number] {
  const { parameter, before, after, change, deviationChange, uncertaintyChange, beyondUncertainty } =
    movement;
  const readings = (each: Readings) => ({
    value: rounded(each.value),
    deviation: rounded(each.deviation),
    uncertainty: rounded(each.uncertainty),
  });
  return {
    parameter,
    before: readings(before),
    after: readings(after),
    change: rounded(change),
    deviationChange: rounded(deviationChange),
    uncertaintyChange: rounded(uncertaintyChange),
    beyondUncertainty,
  };
}

function sweepResult({ address, time, place, analysis }: EvaluatedSweep, display: Display) {
  const line = place.range.start.line + 1;
  return { address, time: time ?? null, file: display(place.file), line, verdict: analysis.verdict };
}

function spreadResult(spread: Spread | undefined) {
  if (!spread) return null;
  return {
    median: rounded(spread.median)!,
    least: rounded(spread.least)!,
    most: rounded(spread.most)!,
  };
}

function problemResult({ id, severity, message, file, range }: FileProblem, display: Display) {
  return { id, severity, message, file: display(file), line: range.start.line + 1 };
}
