/** The difference of two evaluated campaigns, traced to the inputs that changed. Pure: no file is read. */
import { stringOf } from '../campaign/names.js';
import type { CampaignEntry } from '../campaign/model.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { parseDocument } from '../syntax/document.js';
import type { FileProblem } from '../text/problem.js';
import { changesOf, type Change, type PairChanges } from './changes.js';
import type {
  CaseTurn,
  Cause,
  Difference,
  MovedSweep,
  Movement,
  SweepTurn,
  TestTurn,
  Turn,
} from './difference.js';
import { Mixtures } from './mixture.js';
import { isTold, movementsOf, summarised } from './movements.js';
import { isDefinition, pairUnits, type Pairing } from './pairUnits.js';
import { requirementsOf } from './requirements.js';
import { readOff, stateKey, stateOf, type Snapshot } from './snapshot.js';
import { tableChanges, Tables, type Side } from './tables.js';
import { Tracing } from './trace.js';
import { unitsOf, type Unit } from './units.js';

export type { Side } from './tables.js';

export interface CompareOptions {
  /** Least movement that is told, a fraction (default 0.0005: what the shown tenth of a percent can reveal; own choice). */
  readonly threshold?: number;
  /** As in `WorkbookOptions`; it may throw to give up. */
  readonly breathe?: () => Promise<void> | undefined;
}

export const defaultThreshold = 0.0005;

/** Each change costs an evaluation of the sweeps that it moves: of another campaign altogether one does not ask what did it. */
const mostTraced = 500;

/** Rejects only where `breathe` does. A campaign whose root cannot be read counts as one that says nothing. */
export async function compareCampaigns(
  before: Side,
  after: Side,
  { threshold = defaultThreshold, breathe = () => undefined }: CompareOptions = {},
): Promise<Difference> {
  const comparison = new Comparison(before, after, threshold);
  return comparison.run(breathe);
}

class Comparison {
  readonly #pairing: Pairing;
  readonly #pairs: readonly PairChanges[];
  readonly #tables: { readonly before: Tables; readonly after: Tables };
  readonly #before: Snapshot;
  readonly #after: Snapshot;
  readonly #sameSweep: ReadonlyMap<string, string>;
  readonly #pairOf = { before: new Map<CampaignEntry, number>(), after: new Map<CampaignEntry, number>() };

  constructor(
    readonly before: Side,
    readonly after: Side,
    readonly threshold: number,
  ) {
    const sides = { before: before.evaluation, after: after.evaluation };
    this.#tables = { before: tablesOf(before), after: tablesOf(after) };
    const { before: olds, after: news } = this.#tables;
    const units = { before: unitsOf(olds.sources), after: unitsOf(news.sources) };
    const isOld = new Set(units.before);
    this.#pairing = pairUnits({
      ...units,
      tableOf: (unit, path) => (isOld.has(unit) ? olds : news).nameOf(unit.file, path),
      inTables: namesInTables(sides),
    });
    const { pairs, names } = this.#pairing;
    const sameTable = (a: Unit, from: string, b: Unit, to: string): boolean =>
      olds.nameOf(a.file, from) === news.nameOf(b.file, to);
    this.#pairs = pairs.map((pair) => changesOf(pair, names, sameTable));
    for (const [index, pair] of pairs.entries()) {
      if (pair.before?.entry) this.#pairOf.before.set(pair.before.entry, index);
      if (pair.after?.entry) this.#pairOf.after.set(pair.after.entry, index);
    }
    this.#before = readOff(sides.before, (record) => this.#pairOf.before.get(record), names);
    const later = readOff(sides.after, (record) => this.#pairOf.after.get(record));
    this.#sameSweep = this.#sweepsOfOtherBlocks(later);
    this.#after = this.#asShared(later);
  }

  async run(breathe: () => Promise<void> | undefined): Promise<Difference> {
    const inTables = tableChanges(this.#tables.before, this.#tables.after);
    const changes = [
      ...this.#pairs.flatMap(({ change, slots }) => [
        ...(change ? [change] : []),
        ...slots.flatMap((slot) => slot.change ?? []),
      ]),
      ...inTables.map(({ change }) => change),
    ];
    const removed = new Set(
      this.#pairs.flatMap(({ change, before }) => (before && change && isDefinition(before) ? [change] : [])),
    );
    const turnedKeys = this.#turnedKeys();
    const moved = this.#movedKeys();
    const cameAndWent = this.#cameAndWent();
    const { sweepsAdded, sweepsRemoved } = cameAndWent;
    const asks = [turnedKeys, moved, sweepsAdded, sweepsRemoved].some((each) => each.length > 0);
    const computedFrom = asks ? changes.filter(({ wordsOnly }) => !wordsOnly) : [];
    const isTraced = computedFrom.length <= mostTraced;
    const tracing = await Tracing.of({
      mixtures: new Mixtures({ pairs: this.#pairs, tables: this.#tables, tableChanges: inTables, breathe }),
      changes: isTraced ? computedFrom : [],
      requires: requirementsOf(this.#pairs),
      measuredLast: (change) => removed.has(change),
      asShared: (snapshot) => this.#asShared(snapshot),
    });
    const turns = await this.#turns(turnedKeys, tracing);
    const told = moved.filter(({ movements }) => movements.length > 0);
    const movedSweeps = told.map(({ key, movements }) => this.#movedSweep(key, movements, tracing));
    const results = {
      ...turns,
      moved: movedSweeps,
      movedLess: moved.length - told.length,
      ...cameAndWent,
    };
    const { evaluation: before } = this.before;
    const { evaluation: after } = this.after;
    const causes = this.#causes(changes, results, tracing);
    const strong = new Set(causes.map(({ change }) => change));
    const shares = [...this.#after.sweeps.keys()].flatMap((key) => tracing.sharesOf(key));
    const moving = new Set(shares.map(({ change }) => change));
    return {
      before,
      after,
      threshold: this.threshold,
      changes,
      untraced: isTraced ? 0 : computedFrom.length,
      causes,
      slight: changes.filter((change) => moving.has(change) && !strong.has(change)),
      ...results,
      isChanged: Object.values(results).some((each) => Array.isArray(each) && each.length > 0),
    };
  }

  /** Sweeps that stood in a block of their own and stand in a table now, or in another table: told by address and time. */
  #sweepsOfOtherBlocks(later: Snapshot): ReadonlyMap<string, string> {
    const { names } = this.#pairing;
    const title = (address: string, time = ''): string => `${address} ${time.slice(0, 16)}`;
    const waiting = new Map<string, string>();
    for (const [key, { address, time }] of this.#before.sweeps)
      if (!later.sweeps.has(key)) waiting.set(title(names.address(address), time), key);
    const same = new Map<string, string>();
    for (const [key, { address, time }] of later.sweeps) {
      const known = this.#before.sweeps.has(key) ? undefined : waiting.get(title(address, time));
      if (known !== undefined) same.set(key, known);
    }
    return same;
  }

  #asShared(snapshot: Snapshot): Snapshot {
    if (this.#sameSweep.size === 0) return snapshot;
    const shared = (key: string): string => this.#sameSweep.get(key) ?? key;
    const sharedState = (key: string): string => {
      const { kind, key: own } = stateOf(key);
      return kind === 'verdict' || kind === 'diagnosis' ? stateKey(kind, shared(own)) : key;
    };
    return {
      states: new Map([...snapshot.states].map(([key, state]) => [sharedState(key), state])),
      numbers: new Map([...snapshot.numbers].map(([key, numbers]) => [shared(key), numbers])),
      sweeps: new Map([...snapshot.sweeps].map(([key, sweep]) => [shared(key), sweep])),
    };
  }

  #turnedKeys(): string[] {
    return [...this.#before.states].flatMap(([key, state]) => {
      const now = this.#after.states.get(key);
      return now === undefined || now === state || now === '' || state === '' ? [] : [key];
    });
  }

  /** Sweeps that moved at all, with the movements that are told. */
  #movedKeys(): { readonly key: string; readonly movements: readonly Movement[] }[] {
    return [...this.#before.numbers].flatMap(([key, numbers]) => {
      const now = this.#after.numbers.get(key);
      const movements = now ? movementsOf(numbers, now) : [];
      const told = movements.filter((movement) => isTold(movement, this.threshold));
      return movements.length > 0 ? [{ key, movements: told }] : [];
    });
  }

  async #turns(
    keys: readonly string[],
    tracing: Tracing,
  ): Promise<Pick<Difference, 'verdicts' | 'diagnoses' | 'cases' | 'tests'>> {
    const verdicts: SweepTurn[] = [];
    const diagnoses: SweepTurn[] = [];
    const cases: CaseTurn[] = [];
    const tests: TestTurn[] = [];
    for (const key of keys) {
      const [before, after] = [this.#before.states.get(key)!, this.#after.states.get(key)!];
      const turn: Turn = { before, after, ...(await tracing.turned(key, before, after)) };
      const { kind, key: own } = stateOf(key);
      if (kind === 'verdict' || kind === 'diagnosis') {
        const sweeps = { before: this.#before.sweeps.get(own)!, after: this.#after.sweeps.get(own)! };
        (kind === 'verdict' ? verdicts : diagnoses).push({ ...turn, sweeps });
      } else if (kind === 'case') cases.push({ ...turn, cases: this.#casesOf(own) });
      else tests.push({ ...turn, tests: this.#testsOf(Number(own)) });
    }
    return { verdicts, diagnoses, cases, tests };
  }

  #casesOf(string: string): CaseTurn['cases'] {
    const { names } = this.#pairing;
    const before = this.before.evaluation.cases.find((each) => names.address(each.string) === string)!;
    return { before, after: this.after.evaluation.cases.find((each) => each.string === string)! };
  }

  #testsOf(pair: number): TestTurn['tests'] {
    const of = ({ evaluation }: Side, pairs: ReadonlyMap<CampaignEntry, number>) =>
      evaluation.electricalTests.find(({ record }) => pairs.get(record) === pair)!;
    return { before: of(this.before, this.#pairOf.before), after: of(this.after, this.#pairOf.after) };
  }

  #movedSweep(key: string, movements: readonly Movement[], tracing: Tracing): MovedSweep {
    const shares = tracing.sharesOf(key);
    const pmax = (all: readonly Movement[]): number | undefined =>
      all.find(({ parameter }) => parameter === 'pmax')?.change;
    const total = pmax(movementsOf(this.#before.numbers.get(key)!, this.#after.numbers.get(key)!));
    const told = shares.reduce((sum, share) => sum + (pmax(share.movements) ?? 0), 0);
    return {
      before: this.#before.sweeps.get(key)!,
      after: this.#after.sweeps.get(key)!,
      movements,
      shares,
      remainder: total === undefined ? undefined : total - told,
    };
  }

  #causes(
    changes: readonly Change[],
    results: Pick<Difference, 'verdicts' | 'diagnoses' | 'cases' | 'tests' | 'moved'>,
    tracing: Tracing,
  ): Cause[] {
    const by = <T extends Turn>(turns: readonly T[], change: Change): T[] =>
      turns.filter((turn) => turn.changes.includes(change));
    const movedNow = new Set(results.moved.map(({ after }) => after));
    const still = [...this.#after.sweeps].filter(([, sweep]) => !movedNow.has(sweep));
    const quiet = still.map(([key]) => tracing.sharesOf(key));
    const toldBy = (shares: MovedSweep['shares'], change: Change): Movement[] =>
      shares
        .filter((share) => share.change === change)
        .flatMap(({ movements }) => movements.filter((movement) => isTold(movement, this.threshold)));
    const sweepsOf = (keys: readonly string[], own: Snapshot, other: Snapshot) =>
      keys.flatMap((key) => (other.sweeps.has(key) ? [] : (own.sweeps.get(key) ?? [])));
    const causes = changes.map((change): Cause => ({
      change,
      sweepsAdded: sweepsOf(tracing.cameAndWent(change).came, this.#after, this.#before),
      sweepsRemoved: sweepsOf(tracing.cameAndWent(change).went, this.#before, this.#after),
      movements: summarised(results.moved.flatMap(({ shares }) => toldBy(shares, change))),
      verdicts: by(results.verdicts, change),
      diagnoses: by(results.diagnoses, change),
      cases: by(results.cases, change),
      tests: by(results.tests, change),
      cancelled: quiet.filter((shares) => toldBy(shares, change).length > 0).length,
    }));
    return causes.filter(hasEffect).sort((a, b) => weight(b) - weight(a));
  }

  #cameAndWent() {
    const [before, after] = [this.before.evaluation, this.after.evaluation];
    const only = (own: Snapshot, other: Snapshot) =>
      [...own.sweeps].flatMap(([key, sweep]) => (other.sweeps.has(key) ? [] : [sweep]));
    const testsOnly = (own: Evaluation, pairs: ReadonlyMap<CampaignEntry, number>, other: Snapshot) =>
      own.electricalTests.filter(
        ({ record }) => !other.states.has(stateKey('test', String(pairs.get(record)))),
      );
    const problems = {
      before: this.#problemKeys(before.problems, 'before'),
      after: this.#problemKeys(after.problems, 'after'),
    };
    return {
      sweepsAdded: only(this.#after, this.#before),
      sweepsRemoved: only(this.#before, this.#after),
      testsAdded: testsOnly(after, this.#pairOf.after, this.#before),
      testsRemoved: testsOnly(before, this.#pairOf.before, this.#after),
      problemsAdded: beyond(problems.after, problems.before),
      problemsRemoved: beyond(problems.before, problems.after),
    };
  }

  /** A problem is the same as another of the same kind in the same block: its numbers may have moved. */
  #problemKeys(problems: readonly FileProblem[], side: 'before' | 'after'): [string, FileProblem][] {
    const { nameOf = (file: string) => file } = this[side];
    const blocks = this.#pairs.flatMap((pair, index) => {
      const unit = pair[side];
      return unit
        ? [{ index, file: unit.file, first: unit.startLine, last: unit.startLine + unit.block.lineCount }]
        : [];
    });
    return problems.map((problem) => {
      const { line } = problem.range.start;
      const at = blocks.find(
        ({ file, first, last }) => file === problem.file && line >= first && line < last,
      );
      return [`${problem.id} ${at?.index ?? nameOf(problem.file)}`, problem];
    });
  }
}

const nowhere: Tables['sources'] = {
  root: { file: '', document: parseDocument(''), includes: [] },
  tables: new Map(),
  resolve: () => undefined,
  displayName: (file) => file,
};

function tablesOf({ evaluation, nameOf }: Side): Tables {
  return new Tables(evaluation.sources ?? nowhere, nameOf);
}

/** Strings that are named by rows of tables in either campaign. */
function namesInTables(sides: {
  readonly before: Evaluation;
  readonly after: Evaluation;
}): ReadonlySet<string> {
  return new Set(
    [...sides.before.sweeps, ...sides.after.sweeps].flatMap(({ tableLine, address }) =>
      tableLine === undefined ? [] : [stringOf(address)],
    ),
  );
}

/** Those of `own` that `others` does not have as often. */
function beyond(
  own: readonly (readonly [string, FileProblem])[],
  others: readonly (readonly [string, FileProblem])[],
): FileProblem[] {
  const counts = new Map<string, number>();
  for (const [key] of others) counts.set(key, (counts.get(key) ?? 0) + 1);
  return own.flatMap(([key, problem]) => {
    const left = counts.get(key) ?? 0;
    counts.set(key, left - 1);
    return left > 0 ? [] : [problem];
  });
}

const hasEffect = (cause: Cause): boolean =>
  cause.cancelled > 0 || Object.values(cause).some((each) => Array.isArray(each) && each.length > 0);

/** Verdicts first, then how many sweeps moved how far. */
function weight({ verdicts, tests, cases, diagnoses, movements }: Cause): number {
  const farthest = movements.map(({ sweeps, change, deviationChange }) => {
    return sweeps * Math.max(Math.abs(change?.median ?? 0), Math.abs(deviationChange?.median ?? 0));
  });
  return (
    1e6 * (verdicts.length + tests.length) +
    1e4 * cases.length +
    1e3 * diagnoses.length +
    Math.max(0, ...farthest)
  );
}
