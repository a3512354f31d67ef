/**
 * What the sweeps of a string, its sections and its modules say of each position. A device that was replaced is another
 * one: sweeps before it say nothing of the new module, and a failed section with it says nothing any more.
 */
import type { CheckedSweep } from '../checks/check.js';
import { onceFor } from '../text/onceFor.js';
import { isDoubtful, outcomeOf, shapeFault } from './outcome.js';
import { holds, lengthOf, positionsOf, runAddress, type Run } from './positions.js';
import type { ModuleEvidence, ModuleStatus } from './stringCase.js';
import { listText, momentText, percentText, sweepName } from './words.js';

/** A judged sweep; `index` counts what happened to the string in order of time. */
export interface Test {
  readonly index: number;
  readonly sweep: CheckedSweep;
  readonly run: Run;
  readonly whole: boolean;
  readonly isGood: boolean;
}

export interface Replacement {
  readonly index: number;
  readonly run: Run;
  readonly time?: string;
  readonly serial?: { readonly old: string; readonly new: string };
}

export interface SearchInput {
  readonly string: string;
  readonly count: number;
  readonly tests: readonly Test[];
  /** Sweeps of modules and sections that were not judged: named, and believed nothing. */
  readonly unjudged: readonly Omit<Test, 'isGood'>[];
  readonly replacements: readonly Replacement[];
  /** Positions whose fault a person accepted. */
  readonly accepted: ReadonlySet<number>;
}

/** Measurements that cannot all be right, and what to sweep again to tell. */
export interface Contradiction {
  readonly addresses: readonly string[];
  readonly text: string;
  /** Every module passes and what holds them fails, twice: what lies between them is left. */
  readonly between?: boolean;
}

/** A failed sweep that no known fault explains, with the positions that are left of it. */
export interface FailedRun {
  readonly test: Test;
  readonly suspects: readonly number[];
  /** How often the same run failed, with the same modules in it. */
  readonly times: number;
}

export interface SearchState {
  readonly modules: readonly ModuleEvidence[];
  readonly faulty: readonly number[];
  /** Failed once, by less than the uncertainty. */
  readonly doubtful: readonly number[];
  readonly contradictions: readonly Contradiction[];
  /** The failed sweep to go on with: the one with the fewest suspects. */
  readonly failed?: FailedRun;
  /** A failed sweep stands in which a person accepted a module. */
  readonly acceptedFailure: boolean;
  /** Sweeps of the modules alone that stand, by position. */
  readonly own: ReadonlyMap<number, readonly Test[]>;
}

/** How far the other modules of a section may lie above the nameplate before its pass contradicts a failed module. The project's own. */
const margin = 0.02;

interface Found {
  readonly status: ModuleStatus;
  readonly because: string;
}

export function searchState(input: SearchInput): SearchState {
  return new Search(input).state();
}

class Search {
  /** Of each position, the index of its latest replacement; -1 without one. */
  readonly #replaced: Int32Array;
  readonly #latestReplacement = new Map<number, Replacement>();
  readonly #tests: readonly Test[];
  readonly #own: ReadonlyMap<number, readonly Test[]>;
  readonly #found = new Map<number, Found>();

  constructor(readonly input: SearchInput) {
    this.#replaced = new Int32Array(input.count + 1).fill(-1);
    for (const replacement of input.replacements)
      for (const position of positionsOf(replacement.run)) {
        if (position > input.count) break;
        this.#replaced[position] = replacement.index;
        this.#latestReplacement.set(position, replacement);
      }
    this.#tests = this.#standing();
    this.#own = this.#ownTests();
  }

  state(): SearchState {
    const { count } = this.input;
    for (let position = 1; position <= count; position++) {
      const found = this.#judge(position);
      if (found) this.#found.set(position, found);
    }
    const contradictions = this.#contradictions();
    const failures = this.#failures();
    const stuck = failures.find(({ suspects }) => suspects.length === 0);
    if (stuck) contradictions.push(this.#contradictionOf(stuck));
    const failed = failures.find(({ suspects }) => suspects.length > 0);
    this.#markSuspects(failures);
    const withStatus = (status: ModuleStatus): number[] =>
      [...this.#found].flatMap(([position, found]) => (found.status === status ? [position] : []));
    return {
      modules: Array.from({ length: count }, (_, index) => this.#evidence(index + 1)),
      faulty: withStatus('faulty').filter((position) => !this.input.accepted.has(position)),
      doubtful: [...this.#own].flatMap(([position, tests]) => (isOneDoubtful(tests) ? [position] : [])),
      contradictions,
      ...(failed ? { failed } : {}),
      acceptedFailure: this.#tests.some(
        ({ isGood, run }) =>
          !isGood && positionsOf(run).some((position) => this.input.accepted.has(position)),
      ),
      own: this.#own,
    };
  }

  /**
   * The sweeps that still say something. After the string passed and failed again, what passed up to then says nothing of
   * the new fault; and what failed in sections before the string passed is over.
   */
  #standing(): Test[] {
    const wholes = this.input.tests.filter(({ whole }) => whole);
    const passed = wholes.findLast(({ isGood }) => isGood)?.index ?? -1;
    const failsNow = wholes.at(-1)?.isGood === false;
    return this.input.tests.filter(({ index, run, whole, isGood }) => {
      const intact = (position: number): boolean => index > (this.#replaced[position] ?? -1);
      if (isGood) return (!failsNow || index > passed) && (!whole || index === passed);
      if ((whole || lengthOf(run) > 1) && index < passed) return false;
      return positionsOf(run).every(intact);
    });
  }

  #ownTests(): Map<number, Test[]> {
    const own = new Map<number, Test[]>();
    for (const test of this.#tests) {
      const { first, last } = test.run;
      if (first !== last || test.index < this.#replaced[first]!) continue;
      own.set(first, [...(own.get(first) ?? []), test]);
    }
    return own;
  }

  /** What its own sweeps say; else the sections that passed with it. */
  #judge(position: number): Found | undefined {
    const own = this.#own.get(position) ?? [];
    const good = own.filter(({ isGood }) => isGood);
    const bad = own.filter(({ isGood }) => !isGood);
    if (own.length > 0 && good.length === bad.length)
      return { status: 'contradictory', because: disagreeText(own) };
    if (bad.length > good.length) {
      const passed = this.#passedInSpiteOf(position, bad);
      if (passed) return { status: 'contradictory', because: spiteText(bad[0]!, passed) };
      const status = isOneDoubtful(own) ? 'suspect' : 'faulty';
      return { status, because: `${testText(bad.at(-1)!)}.` };
    }
    const by = good.at(-1) ?? this.#passingRun(position);
    return by && { status: 'cleared', because: `${testText(by)}.` };
  }

  #passingRun(position: number): Test | undefined {
    return this.#tests.findLast(
      (test) =>
        test.isGood &&
        holds(test.run, position) &&
        test.index > this.#replaced[position]! &&
        this.#votes(test.run).balance > 0,
    );
  }

  /**
   * Modules in series give no more than the sum of their own maxima, so a section whose module lacks d of its power lacks
   * at least d over its length, unless the others stand above the nameplate.
   */
  #passedInSpiteOf(position: number, bad: readonly Test[]): Test | undefined {
    const deviation = bad[0]!.sweep.analysis.deviation.pmax;
    if (bad.length > 1 || deviation === undefined) return undefined;
    return this.#tests.findLast(({ isGood, run, index, sweep }) => {
      const section = sweep.analysis.deviation.pmax;
      if (!isGood || lengthOf(run) < 2 || !holds(run, position) || section === undefined) return false;
      if (index < this.#replaced[position]!) return false;
      const room = margin + (sweep.analysis.uncertainty.pmax ?? 0);
      return section - deviation / lengthOf(run) > room;
    });
  }

  /** Passes less failures of one run with the same modules in it. Of the whole string only the latest counts. */
  readonly #votes = onceFor(({ first, last }: Run): { balance: number; tests: readonly Test[] } => {
    const replaced = Math.max(
      ...positionsOf({ first, last }).map((position) => this.#replaced[position] ?? -1),
    );
    const same = this.#tests.filter(({ run }) => run.first === first && run.last === last);
    const tests = same.some(({ whole }) => whole)
      ? same.slice(-1)
      : same.filter(
          ({ index, isGood }) => index > replaced || (isGood && !same.some((each) => !each.isGood)),
        );
    return { balance: tests.reduce((sum, { isGood }) => sum + (isGood ? 1 : -1), 0), tests };
  });

  /** Failed sections and strings that no faulty, contradictory or accepted module explains; fewest suspects first. */
  #failures(): FailedRun[] {
    const seen = new Set<string>();
    const failures = this.#tests.flatMap((test): FailedRun[] => {
      const { first, last } = test.run;
      const key = `${first} ${last}`;
      if (test.isGood || first === last || seen.has(key)) return [];
      seen.add(key);
      const { balance, tests } = this.#votes(test.run);
      const positions = positionsOf(test.run);
      const isExplained = positions.some((position) => {
        const status = this.#found.get(position)?.status;
        return (status !== undefined && status !== 'cleared') || this.input.accepted.has(position);
      });
      if (balance >= 0 || isExplained) return [];
      const suspects = positions.filter((position) => !this.#found.has(position));
      const times = this.#tests.filter(
        ({ run, isGood }) => !isGood && run.first === first && run.last === last,
      ).length;
      return [{ test: tests.findLast(({ isGood }) => !isGood)!, suspects, times }];
    });
    return failures.sort((a, b) => a.suspects.length - b.suspects.length || b.test.index - a.test.index);
  }

  #contradictions(): Contradiction[] {
    const { string } = this.input;
    const ofModules = [...this.#found].flatMap(([position, { status, because }]) =>
      status === 'contradictory' ? [{ addresses: [runAddress(string, only(position))], text: because }] : [],
    );
    const runs = new Map(this.#tests.map(({ run }) => [`${run.first} ${run.last}`, run]));
    const ofRuns = [...runs.values()].flatMap((run) => {
      const { balance, tests } = this.#votes(run);
      if (run.first === run.last || balance !== 0 || tests.length === 0) return [];
      return [{ addresses: [runAddress(string, run)], text: disagreeText(tests) }];
    });
    return [...ofModules, ...ofRuns];
  }

  #contradictionOf({ test, times }: FailedRun): Contradiction {
    const { sweep } = test;
    const text = `${sweepName(sweep)} failed, and every module in it was cleared.`;
    return { addresses: [sweep.address], text, ...(times > 1 ? { between: true } : {}) };
  }

  #markSuspects(failures: readonly FailedRun[]): void {
    for (const { test, suspects } of failures)
      for (const position of suspects)
        if (!this.#found.has(position)) {
          const alone = suspects.length === 1;
          const because = alone
            ? `Left alone by elimination: ${testText(test)}, and all others in it were cleared.`
            : `${testText(test)}; ${suspects.length} of its positions are not cleared.`;
          this.#found.set(position, { status: 'suspect', because });
        }
  }

  #evidence(position: number): ModuleEvidence {
    const found = this.#found.get(position);
    const replacement = this.#latestReplacement.get(position);
    const serial = replacement && lengthOf(replacement.run) === 1 ? replacement.serial?.new : undefined;
    const when = replacement?.time === undefined ? '' : ` at ${momentText(replacement.time)}`;
    const unjudged = this.input.unjudged.filter(
      ({ run, index }) => holds(run, position) && index > this.#replaced[position]!,
    );
    const unsaid = unjudged.length
      ? ` ${listText(unjudged.map(({ sweep }) => sweepName(sweep)))} ${unjudged.length === 1 ? 'was' : 'were'} not judged and does not count.`
      : '';
    const base = replacement
      ? { status: 'replaced' as const, because: `Replaced${when}, and not swept since.` }
      : { status: 'untested' as const, because: 'No judged sweep of it, or of a section with it.' };
    const { status, because } = found ?? base;
    const past = found && replacement ? ` It was replaced${when}.` : '';
    const accepted = this.input.accepted.has(position) ? ' Its fault was accepted.' : '';
    return {
      position,
      status,
      because: because + past + accepted + unsaid,
      ...(serial === undefined ? {} : { serial }),
    };
  }
}

const only = (position: number): Run => ({ first: position, last: position });

const isOneDoubtful = (tests: readonly Test[]): boolean =>
  tests.length === 1 && !tests[0]!.isGood && isDoubtful(tests[0]!.sweep);

/** `1.03/10-18 at 2026-05-14 12:24 failed (Pmax -12.9 %)`. */
export function testText({ sweep, isGood }: Test): string {
  const pmax = `Pmax ${percentText(sweep.analysis.deviation.pmax)}`;
  if (isGood) return `${sweepName(sweep)} passed (${pmax})`;
  const fault = shapeFault(sweep);
  const passes = outcomeOf(sweep) === 'bad' && sweep.analysis.verdict.endsWith('pass');
  return passes && fault
    ? `${sweepName(sweep)} passed its limits (${pmax}), and its shape shows a fault`
    : `${sweepName(sweep)} failed (${pmax})`;
}

function disagreeText(tests: readonly Test[]): string {
  return `Sweeps of the same device disagree: ${listText(tests.map(testText))}.`;
}

function spiteText(bad: Test, passed: Test): string {
  return `${testText(bad)}, but ${testText(passed)}: a module so weak would have pulled it down further.`;
}
