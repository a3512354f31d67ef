/**
 * Which change moved what. Nothing is guessed from names: each change is made alone in the earlier campaign, which is then
 * evaluated, and what differs is its effect. Where no change alone brings a result about, each is left out of the later
 * campaign in turn: those without which the result is another one did it together.
 */
import type { Change } from './changes.js';
import type { Share, Traced } from './difference.js';
import type { Mixtures } from './mixture.js';
import { movementsOf } from './movements.js';
import { isDefinition } from './pairUnits.js';
import type { Snapshot } from './snapshot.js';

/** What one change does alone: from one state of the campaign to another that differs by it. */
interface Effect {
  readonly change: Change;
  readonly from: Snapshot;
  readonly to: Snapshot;
}

export interface TracingInput {
  readonly mixtures: Mixtures;
  /** Those from which something is computed. */
  readonly changes: readonly Change[];
  readonly requires: (change: Change) => ReadonlySet<Change>;
  /** Does the change take something away that others may name? Its effect is that of keeping it to the end. */
  readonly measuredLast: (change: Change) => boolean;
  readonly asShared: (snapshot: Snapshot) => Snapshot;
}

export class Tracing {
  readonly #effects: Effect[] = [];
  readonly #without = new Map<Change, Snapshot>();

  private constructor(readonly input: TracingInput) {}

  static async of(input: TracingInput): Promise<Tracing> {
    const tracing = new Tracing(input);
    await tracing.#measure();
    return tracing;
  }

  async #evaluate(made: ReadonlySet<Change>): Promise<Snapshot> {
    const { mixtures, asShared } = this.input;
    return asShared(await mixtures.evaluate(made));
  }

  async #measure(): Promise<void> {
    const { changes, requires, measuredLast } = this.input;
    const nothing = await this.#evaluate(new Set());
    const all = new Set(changes);
    const everything = changes.some(measuredLast) ? await this.#evaluate(all) : undefined;
    // What is remembered of a sweep is what was computed of it last: a change that moves many of them comes after those of one.
    const inTurn = [...changes].sort(
      (a, b) => Number(isDefinition(a.subject)) - Number(isDefinition(b.subject)),
    );
    const effects = new Map<Change, Effect>();
    for (const change of inTurn) {
      effects.set(
        change,
        everything && measuredLast(change)
          ? { change, from: await this.#leftOut(change), to: everything }
          : { change, from: nothing, to: await this.#evaluate(requires(change)) },
      );
    }
    this.#effects.push(...changes.map((change) => effects.get(change)!));
  }

  /** The later campaign without one change, and without what cannot be without it. */
  async #leftOut(change: Change): Promise<Snapshot> {
    let known = this.#without.get(change);
    if (!known) {
      const { changes, requires } = this.input;
      known = await this.#evaluate(new Set(changes.filter((each) => !requires(each).has(change))));
      this.#without.set(change, known);
    }
    return known;
  }

  /** What each change that reaches a sweep does to it by itself. */
  sharesOf(key: string): Share[] {
    return this.#effects.flatMap(({ change, from, to }): Share[] => {
      const [a, b] = [from.numbers.get(key), to.numbers.get(key)];
      const movements = a && b ? movementsOf(a, b) : [];
      return movements.length > 0 ? [{ change, movements }] : [];
    });
  }

  /** Sweeps, by key, that come or go with this change alone. */
  cameAndWent(change: Change): { readonly came: readonly string[]; readonly went: readonly string[] } {
    const effect = this.#effects.find((each) => each.change === change);
    if (!effect) return { came: [], went: [] };
    const only = (own: Snapshot, other: Snapshot): string[] =>
      [...own.sweeps.keys()].filter((key) => !other.sweeps.has(key));
    return { came: only(effect.to, effect.from), went: only(effect.from, effect.to) };
  }

  /** Which changes turned a state from `before` to `after`. */
  async turned(
    key: string,
    before: string,
    after: string,
  ): Promise<{ readonly traced: Traced; readonly changes: readonly Change[] }> {
    const alone = this.#effects.filter(
      ({ from, to }) => from.states.get(key) === before && to.states.get(key) === after,
    );
    if (alone.length > 0) return { traced: 'alone', changes: alone.map(({ change }) => change) };
    const together: Change[] = [];
    for (const { change } of this.#effects) {
      const without = await this.#leftOut(change);
      if (without.states.get(key) !== after) together.push(change);
    }
    return { traced: together.length > 0 ? 'together' : 'not traced', changes: together };
  }
}
