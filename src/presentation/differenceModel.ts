/** The difference of two states of a campaign as plain JSON for the panel; see previewTypes.ts. */
import type { Change } from '../difference/changes.js';
import type { Difference, MovedSweep, SweepTurn } from '../difference/difference.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import { interpolated } from './betweenRows.js';
import type { BriefItem, BriefSection } from './brief.js';
import type { DifferenceRow } from './chartData.js';
import { campaignHead } from './campaignModel.js';
import { conditionRows } from './conditionRows.js';
import {
  changeText,
  moveText,
  otherMovements,
  placed,
  subjectText,
  summaryOf,
  sweepPlaces,
  wordSections,
  type DifferenceNames,
} from './differenceTexts.js';
import { formatToUncertainty, missing } from './formatNumber.js';
import { nameplateLine, overlayData, sweepLine, type OverlayLine } from './overlayData.js';
import { parameterRows } from './parameterRows.js';
import { summaryText } from './previewModel.js';
import type { ParameterRow } from './previewTypes.js';
import type { ChangedPlace } from './sourcePlace.js';
import type { OverlayData } from './stringTypes.js';
import { deviceText, parameterSymbols, timeText } from './sweepTexts.js';
import { verdictMark, type VerdictMark } from './verdictWords.js';

/** A sweep that moved, or whose verdict turned. */
export interface ComparedSweepItem {
  /** Of the sweep as it is now. */
  readonly id: string;
  readonly address: string;
  readonly time: string;
  readonly before: VerdictMark;
  readonly after: VerdictMark;
  /** Pmax at STC. */
  readonly pmaxBefore: string;
  readonly pmaxAfter: string;
  /** Of Pmax; `-` where it stays. */
  readonly change: string;
  /** A parameter moved by more than the expanded uncertainty. */
  readonly beyondUncertainty: boolean;
  /** What else moved: `Voc +0.5 %`. */
  readonly also: readonly string[];
  /** What brought it about, the strongest first: `beta of module KF108M`. */
  readonly causes: readonly string[];
  readonly at: ChangedPlace;
}

/** A text that two states have each in its own way. */
export interface ComparedText {
  readonly name: string;
  readonly before: string;
  readonly after: string;
}

export interface ComparedParameter {
  readonly symbol: string;
  readonly name: string;
  /** At STC. */
  readonly before: string;
  readonly after: string;
  readonly change: string;
  /** From nameplate. */
  readonly deviationBefore: string;
  readonly deviationAfter: string;
  /** Of the later deviation, expanded, with `±`. */
  readonly uncertainty: string;
  /** Absent: nothing was judged by it. */
  readonly outcomeBefore?: VerdictMark;
  readonly outcomeAfter?: VerdictMark;
}

export interface ComparedSweepModel {
  readonly id: string;
  readonly address: string;
  readonly time: string;
  readonly device: string;
  readonly at: ChangedPlace;
  readonly before: VerdictMark;
  readonly after: VerdictMark;
  /** The verdict and what decides it, in one sentence each. */
  readonly summaryBefore: string;
  readonly summaryAfter: string;
  /** What each change does to this sweep when it is made alone. */
  readonly because: readonly BriefItem[];
  /** Those that are not what they were. */
  readonly conditions: readonly ComparedText[];
  readonly parameters: readonly ComparedParameter[];
  /** Both curves and the nameplate, at STC. */
  readonly overlay: OverlayData;
  /** Current after less current before, over voltage. */
  readonly differences: readonly DifferenceRow[];
}

export interface DifferenceModel {
  /** Of the campaign. */
  readonly title: string;
  /** What it is compared with: `v1.0 (3f2a91c, 2026-11-20)`. */
  readonly revision: string;
  readonly summary: readonly string[];
  readonly sections: readonly BriefSection[];
  /** Those whose verdict turned first. */
  readonly sweeps: readonly ComparedSweepItem[];
  /** Absent where nothing moved. */
  readonly chosen?: ComparedSweepModel;
}

/** Everything of one sweep that both states have, as far as it differs. */
interface ComparedSweep {
  readonly before: EvaluatedSweep;
  readonly after: EvaluatedSweep;
  readonly turn?: SweepTurn;
  readonly moved?: MovedSweep;
}

/** @param choose which sweep is shown in full, of those that differ; undefined: the first */
export function differenceModel(
  difference: Difference,
  revision: string,
  names: DifferenceNames,
  choose: (sweeps: readonly EvaluatedSweep[]) => EvaluatedSweep | undefined,
): DifferenceModel {
  const { before, after } = difference;
  const sweeps = comparedSweeps(difference);
  const wanted = choose(sweeps.map((sweep) => sweep.after));
  const chosen = sweeps.find((sweep) => sweep.after === wanted) ?? sweeps[0];
  return {
    title: campaignHead(after).title,
    revision,
    summary: summaryOf(difference),
    sections: wordSections(difference, names),
    sweeps: sweeps.map(sweepItem),
    chosen: chosen && sweepModel(chosen, before, after, names),
  };
}

function comparedSweeps({ verdicts, moved, after }: Difference): ComparedSweep[] {
  const turns = new Map(verdicts.map((turn) => [turn.sweeps.after, turn]));
  const movements = new Map(moved.map((each) => [each.after, each]));
  const all = after.sweeps.flatMap((sweep): ComparedSweep[] => {
    const [turn, move] = [turns.get(sweep), movements.get(sweep)];
    const before = turn?.sweeps.before ?? move?.before;
    return before ? [{ before, after: sweep, turn, moved: move }] : [];
  });
  return [...all.filter(({ turn }) => turn), ...all.filter(({ turn }) => !turn)];
}

function sweepItem({ before, after, turn, moved }: ComparedSweep): ComparedSweepItem {
  const movements = moved?.movements ?? [];
  const pmax = movements.find(({ parameter }) => parameter === 'pmax');
  return {
    id: after.id,
    address: after.address,
    time: timeText(after.time),
    before: verdictMark(before.analysis.verdict),
    after: verdictMark(after.analysis.verdict),
    pmaxBefore: pmaxText(before),
    pmaxAfter: pmaxText(after),
    change: pmax?.change === undefined ? missing : moveText(pmax.change),
    beyondUncertainty: movements.some((each) => each.beyondUncertainty),
    also: otherMovements(movements),
    causes: [...new Set([...(turn?.changes ?? []), ...sharesByWeight(moved)])].map(subjectText),
    at: sweepPlaces(before, after),
  };
}

function pmaxText({ analysis }: EvaluatedSweep): string {
  return formatToUncertainty(analysis.translated?.parameters.pmax, analysis.uncertainty.pmax, 'W');
}

function sharesByWeight(moved: MovedSweep | undefined): Change[] {
  const weight = ({ movements }: MovedSweep['shares'][number]): number =>
    Math.max(...movements.map(({ change, deviationChange }) => Math.abs(change ?? deviationChange ?? 0)));
  return [...(moved?.shares ?? [])].sort((a, b) => weight(b) - weight(a)).map(({ change }) => change);
}

function sweepModel(
  compared: ComparedSweep,
  earlier: Evaluation,
  later: Evaluation,
  names: DifferenceNames,
): ComparedSweepModel {
  const { before, after } = compared;
  const overlay = overlayData(
    [...ofState(before, 'before'), ...ofState(after, 'after'), ...nameplateLine(after)],
    `${after.address} at STC`,
  );
  return {
    id: after.id,
    address: after.address,
    time: timeText(after.time),
    device: deviceText(after),
    at: sweepPlaces(before, after),
    before: verdictMark(before.analysis.verdict),
    after: verdictMark(after.analysis.verdict),
    summaryBefore: summaryText(before),
    summaryAfter: summaryText(after),
    because: becauseItems(compared, names),
    conditions: comparedConditions(before, after),
    parameters: comparedParameters(
      parameterRows(earlier, before),
      parameterRows(later, after),
      (parameter) => {
        const [a, b] = [before, after].map(({ analysis }) => analysis.translated?.parameters[parameter]);
        return a && b !== undefined ? moveText(b / a - 1) : missing;
      },
    ),
    overlay,
    differences: differenceRows(overlay),
  };
}

const ofState = (sweep: EvaluatedSweep, state: 'before' | 'after'): OverlayLine[] =>
  sweepLine(sweep, state).map((line) => ({ ...line, role: state }));

function becauseItems({ turn, moved }: ComparedSweep, names: DifferenceNames): BriefItem[] {
  const shares = new Map(moved?.shares.map(({ change, movements }) => [change, movements]));
  const changes = new Set([...(turn?.changes ?? []), ...sharesByWeight(moved)]);
  return [...changes].map((change) => {
    const movements = shares.get(change) ?? [];
    const effects = [
      ...movements.flatMap((each) =>
        each.change === undefined ? [] : [`${parameterSymbols[each.parameter]} ${moveText(each.change)}`],
      ),
      ...(turn?.changes.includes(change) ? [turnText(turn)] : []),
    ];
    const text = changeText(change);
    return { text: effects.length === 0 ? text : `${text}: ${effects.join(', ')}`, ...placed(change, names) };
  });
}

function turnText({ before, after, traced }: SweepTurn): string {
  return `turns ${before} to ${after}${traced === 'together' ? ' together with others' : ''}`;
}

function comparedConditions(before: EvaluatedSweep, after: EvaluatedSweep): ComparedText[] {
  const former = new Map(conditionRows(before).map(({ name, value }) => [name, value]));
  const now = new Map(conditionRows(after).map(({ name, value }) => [name, value]));
  return [...new Set([...former.keys(), ...now.keys()])]
    .map((name) => ({ name, before: former.get(name) ?? missing, after: now.get(name) ?? missing }))
    .filter((row) => row.before !== row.after);
}

function comparedParameters(
  before: readonly ParameterRow[],
  after: readonly ParameterRow[],
  change: (parameter: ParameterRow['parameter']) => string,
): ComparedParameter[] {
  const former = new Map(before.map((row) => [row.parameter, row]));
  const now = new Map(after.map((row) => [row.parameter, row]));
  return [...new Set([...now.keys(), ...former.keys()])].map((parameter) => {
    const [old, row] = [former.get(parameter), now.get(parameter)];
    const { symbol, name } = (row ?? old)!;
    return {
      symbol,
      name,
      before: old?.translated ?? missing,
      after: row?.translated ?? missing,
      change: change(parameter),
      deviationBefore: old?.deviation ?? missing,
      deviationAfter: row?.deviation ?? missing,
      uncertainty: row?.uncertainty ?? missing,
      outcomeBefore: old?.outcome,
      outcomeAfter: row?.outcome,
    };
  });
}

/** Where both curves have a current. */
function differenceRows({ rows }: OverlayData): DifferenceRow[] {
  const [before, after] = (['before', 'after'] as const).map((role) =>
    rows.filter((row) => row.role === role),
  );
  return before!.flatMap(({ voltage, current }) => {
    const now = voltage < 0 ? undefined : interpolated(after!, voltage, 'current');
    return now === undefined ? [] : [{ voltage, difference: Number((now - current).toPrecision(6)) }];
  });
}
