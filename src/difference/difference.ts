/** What differs between two evaluated campaigns: inputs, results, and which input moved which result by how much. */
import type { ParameterName } from '../campaign/model.js';
import type { StringCase } from '../cases/stringCase.js';
import type { ElectricalTest } from '../electricalTests/electricalTest.js';
import type { EvaluatedSweep, Evaluation } from '../evaluation/evaluation.js';
import type { FileProblem } from '../text/problem.js';
import type { Change } from './changes.js';

/** Parameters whose movement is told, at standard test conditions. */
export const comparedParameters = ['pmax', 'isc', 'voc', 'ff'] as const satisfies readonly ParameterName[];
export type ComparedParameter = (typeof comparedParameters)[number];

/** One parameter of one sweep. */
export interface Readings {
  /** At STC: W, A, V; FF as a fraction. */
  readonly value?: number | undefined;
  /** From nameplate, a fraction. */
  readonly deviation?: number | undefined;
  /** Expanded, as a fraction of the value. */
  readonly uncertainty?: number | undefined;
}

/** How far one parameter of one sweep moved. */
export interface Movement {
  readonly parameter: ComparedParameter;
  readonly before: Readings;
  readonly after: Readings;
  /** After over before, less 1; undefined where one of the two is not known. */
  readonly change?: number | undefined;
  /** Of the deviation from nameplate: after less before, a fraction. */
  readonly deviationChange?: number | undefined;
  /** Of the expanded uncertainty: after less before, a fraction. */
  readonly uncertaintyChange?: number | undefined;
  /** The value or its deviation moved by more than the expanded uncertainty of either campaign. */
  readonly beyondUncertainty: boolean;
}

/** What one change moves when it is made alone. */
export interface Share {
  readonly change: Change;
  readonly movements: readonly Movement[];
}

export interface MovedSweep {
  readonly before: EvaluatedSweep;
  readonly after: EvaluatedSweep;
  /** Of the parameters that moved by more than the threshold, or by more than their uncertainty. */
  readonly movements: readonly Movement[];
  /** By the changes that reach it, each made alone. */
  readonly shares: readonly Share[];
  /** Relative change of Pmax that no change explains alone: changes that act together. Undefined without Pmax. */
  readonly remainder?: number | undefined;
}

/**
 * `alone`: each of the changes does it by itself. `together`: none does, and without any one of them it does not come about.
 * `not traced`: neither.
 */
export type Traced = 'alone' | 'together' | 'not traced';

/** A result in words that is another one now. */
export interface Turn {
  readonly before: string;
  readonly after: string;
  readonly traced: Traced;
  readonly changes: readonly Change[];
}

export interface SweepTurn extends Turn {
  readonly sweeps: { readonly before: EvaluatedSweep; readonly after: EvaluatedSweep };
}

export interface CaseTurn extends Turn {
  readonly cases: { readonly before: StringCase; readonly after: StringCase };
}

export interface TestTurn extends Turn {
  readonly tests: { readonly before: ElectricalTest; readonly after: ElectricalTest };
}

/** Of several sweeps; fractions. */
export interface Spread {
  readonly median: number;
  readonly least: number;
  readonly most: number;
}

/** How one change moved one parameter, over the sweeps that it moved. */
export interface CauseMovement {
  readonly parameter: ComparedParameter;
  readonly sweeps: number;
  /** Relative change of the value at STC; absent where it stays. */
  readonly change?: Spread;
  /** Change of the deviation from nameplate; absent where it stays. */
  readonly deviationChange?: Spread;
  readonly uncertaintyChange?: Spread;
}

/** A change of the inputs with what it does to the results. */
export interface Cause {
  readonly change: Change;
  /** Beyond the threshold, in sweeps that moved in all. */
  readonly movements: readonly CauseMovement[];
  /** Verdicts that it turned, alone or with others. */
  readonly verdicts: readonly SweepTurn[];
  readonly diagnoses: readonly SweepTurn[];
  readonly cases: readonly CaseTurn[];
  readonly tests: readonly TestTurn[];
  /** Sweeps that are there by it alone, or gone. */
  readonly sweepsAdded: readonly EvaluatedSweep[];
  readonly sweepsRemoved: readonly EvaluatedSweep[];
  /** Sweeps that it moves when made alone and that stay in all, since other changes act against it. */
  readonly cancelled: number;
}

export interface Difference {
  readonly before: Evaluation;
  readonly after: Evaluation;
  /** Least movement that is told, a fraction. */
  readonly threshold: number;
  /** Every change of the inputs, those of words too. */
  readonly changes: readonly Change[];
  /** How many changes there are, where they are too many to be made one by one; else 0. There are no causes then. */
  readonly untraced: number;
  /** Those that moved or turned something, the strongest first. */
  readonly causes: readonly Cause[];
  /** Those that are no cause and still move sweeps when made alone, by less than is told. */
  readonly slight: readonly Change[];
  readonly verdicts: readonly SweepTurn[];
  readonly diagnoses: readonly SweepTurn[];
  readonly cases: readonly CaseTurn[];
  readonly tests: readonly TestTurn[];
  readonly moved: readonly MovedSweep[];
  /** Sweeps that moved by less than is told. */
  readonly movedLess: number;
  readonly sweepsAdded: readonly EvaluatedSweep[];
  readonly sweepsRemoved: readonly EvaluatedSweep[];
  readonly testsAdded: readonly ElectricalTest[];
  readonly testsRemoved: readonly ElectricalTest[];
  readonly problemsAdded: readonly FileProblem[];
  readonly problemsRemoved: readonly FileProblem[];
  /** Anything but the inputs and their words. */
  readonly isChanged: boolean;
}
