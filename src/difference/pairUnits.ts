/** Which thing of one campaign is which of the other: by name, by address and time, or, where it was renamed, by what it says. */
import type { NamedKind } from '../campaign/model.js';
import { writtenWords } from './parts.js';
import { addressOf, isString, splitRun, type Unit } from './units.js';

/** One thing in both campaigns, or in one alone. */
export interface UnitPair {
  readonly before?: Unit;
  readonly after?: Unit;
}

export interface Pairing {
  /** In the order of the later campaign; what only the earlier one has stands where it stood among the others. */
  readonly pairs: readonly UnitPair[];
  readonly names: RenamedThings;
}

/** New names of things that were renamed. */
export class RenamedThings {
  readonly #names = new Map<string, string>();

  add(kind: string, before: string, after: string): void {
    this.#names.set(`${kind} ${before}`, after);
  }

  get(kind: string, name: string): string {
    return this.#names.get(`${kind} ${name}`) ?? name;
  }

  /** Of an address: the string may have another name. */
  address(text: string): string {
    const [string = text, ...place] = text.split('/');
    return [this.get('string', string), ...place].join('/');
  }

  get isEmpty(): boolean {
    return this.#names.size === 0;
  }
}

export interface PairingInput {
  readonly before: readonly Unit[];
  readonly after: readonly Unit[];
  /** What the path of a table means, the same word in both campaigns. */
  readonly tableOf: (unit: Unit, path: string) => string;
  /** Strings that rows of tables name: such a name is not changed by changing the text. */
  readonly inTables: ReadonlySet<string>;
}

const definitions: ReadonlySet<string> = new Set<NamedKind>([
  'site',
  'plane',
  'module',
  'string',
  'tracer',
  'reference',
  'layout',
  'criteria',
]);

/** Others may name it: one change of it may move many sweeps. */
export const isDefinition = ({ kind }: { readonly kind: string }): boolean => definitions.has(kind);

/** Likeness that makes two things of different names one: most of a definition, half of a sweep (own choices). */
const likeDefinition = 0.8;
const likeRecord = 0.5;
/** What more things than this have in common tells none of them from the others (own choice; it bounds the time). */
const mostSharing = 300;

export function pairUnits(input: PairingInput): Pairing {
  const [before, after] = splitChangedRuns(input.before, input.after);
  const matching = new Matching(before, after);
  const names = new RenamedThings();
  const rename = (pairs: readonly (readonly [Unit, Unit])[]): void => {
    for (const [old, now] of pairs) if (old.name !== now.name) names.add(old.kind, old.name, now.name);
  };
  matching.byKey(isDefinition, (unit) => `${unit.kind} ${unit.name}`);
  rename(matching.byFormerName());
  rename(matching.byLikeness(isDefinitionButString, likeDefinition, (unit) => unit.parts.map(factOf)));
  rename(matching.byLikeness(isString, likeRecord, stringEvidence(input)));
  const key = (unit: Unit, renamed: boolean): string => recordKey(unit, input, renamed ? names : undefined);
  matching.byKey((unit) => !isDefinition(unit), key);
  matching.byLikeness(
    (unit) => !isDefinition(unit) && unit.entry !== undefined,
    likeRecord,
    (unit, isBefore) => recordFacts(unit, isBefore ? names : undefined),
  );
  return { pairs: matching.inOrder(), names };
}

const isDefinitionButString = (unit: Unit): boolean => isDefinition(unit) && !isString(unit);

const factOf = (part: Unit['header']): string => `${part.key} ${writtenWords(part)}`;

/** Runs that both campaigns have stay whole; others are taken apart into their strings. */
function splitChangedRuns(before: readonly Unit[], after: readonly Unit[]): [Unit[], Unit[]] {
  const split = (units: readonly Unit[], others: readonly Unit[]): Unit[] => {
    const known = new Set(others.filter(isString).map(({ name }) => name));
    const several = (unit: Unit): boolean =>
      isString(unit) && unit.entry.names.length > 1 && !known.has(unit.name);
    return units.flatMap((unit) => (isString(unit) && several(unit) ? splitRun(unit) : [unit]));
  };
  // A run whose names another block gives now too is no longer the same run.
  return [split(before, after), split(after, before)];
}

/** By what was done on it: strings are alike when their sweeps are. */
function stringEvidence({ before, after, tableOf, inTables }: PairingInput) {
  const collect = (units: readonly Unit[]): Map<string, string[]> => {
    const facts = new Map<string, string[]>();
    for (const unit of units) {
      const address = addressOf(unit);
      if (!address || unit.entry!.kind === 'note' || unit.entry!.kind === 'accept') continue;
      const place = address.text.slice(address.string.length);
      const { entry } = unit;
      const time = entry && 'time' in entry ? entry.time?.iso : undefined;
      const data = entry?.kind === 'sweep' && entry.data ? tableOf(unit, entry.data.text) : '';
      const fact = JSON.stringify([unit.kind, place, time, data]);
      facts.set(address.string, [...(facts.get(address.string) ?? []), fact]);
    }
    return facts;
  };
  const facts = { before: collect(before), after: collect(after) };
  return ({ name }: Unit, isBefore: boolean): string[] =>
    inTables.has(name) ? [] : (facts[isBefore ? 'before' : 'after'].get(name) ?? []);
}

function recordKey(unit: Unit, { tableOf }: PairingInput, names: RenamedThings | undefined): string {
  const { entry, kind } = unit;
  if (!entry) return `unreadable ${writtenWords(unit.header)}`;
  if (entry.kind === 'campaign') return kind;
  if (entry.kind === 'sweeps') return `${kind} ${tableOf(unit, entry.data.text)}`;
  const address = addressOf(unit)?.text ?? '';
  const time = 'time' in entry ? (entry.time?.iso ?? '') : '';
  return JSON.stringify([kind, names?.address(address) ?? address, time]);
}

function recordFacts(unit: Unit, names: RenamedThings | undefined): string[] {
  const { entry } = unit;
  const address = addressOf(unit)?.text ?? '';
  const time = entry && 'time' in entry ? (entry.time?.iso ?? '') : '';
  return [`address ${names?.address(address) ?? address}`, `time ${time}`, ...unit.parts.map(factOf)];
}

class Matching {
  readonly #other = new Map<Unit, Unit>();

  constructor(
    readonly before: readonly Unit[],
    readonly after: readonly Unit[],
  ) {}

  #unmatched(units: readonly Unit[], isMeant: (unit: Unit) => boolean): Unit[] {
    return units.filter((unit) => !this.#other.has(unit) && isMeant(unit));
  }

  #match(old: Unit, now: Unit): readonly [Unit, Unit] {
    this.#other.set(old, now);
    this.#other.set(now, old);
    return [old, now];
  }

  /** Of several with one key, the first is the first. */
  byKey(isMeant: (unit: Unit) => boolean, key: (unit: Unit, isBefore: boolean) => string): void {
    const waiting = new Map<string, Unit[]>();
    for (const unit of this.#unmatched(this.before, isMeant)) {
      const own = key(unit, true);
      const known = waiting.get(own);
      if (known) known.push(unit);
      else waiting.set(own, [unit]);
    }
    for (const unit of this.#unmatched(this.after, isMeant)) {
      const old = waiting.get(key(unit, false))?.shift();
      if (old) this.#match(old, unit);
    }
  }

  /** A string says `formerly` what it was called; read from the later campaign to the earlier, or back. */
  byFormerName(): (readonly [Unit, Unit])[] {
    const found: (readonly [Unit, Unit])[] = [];
    const strings = {
      before: this.#unmatched(this.before, isString),
      after: this.#unmatched(this.after, isString),
    };
    const former = (unit: Unit): string | undefined =>
      isString(unit) ? unit.entry.formerly?.text : undefined;
    for (const now of strings.after) {
      const old = strings.before.find(
        (unit) => !this.#other.has(unit) && (former(now) === unit.name || former(unit) === now.name),
      );
      if (old) found.push(this.#match(old, now));
    }
    return found;
  }

  /** The likest first; likeness is the share of facts that both have. */
  byLikeness(
    isMeant: (unit: Unit) => boolean,
    least: number,
    facts: (unit: Unit, isBefore: boolean) => readonly string[],
  ): (readonly [Unit, Unit])[] {
    const news = this.#unmatched(this.after, isMeant).map((unit, order) => ({
      unit,
      order,
      facts: facts(unit, false),
    }));
    const sharing = new Map<string, (typeof news)[number][]>();
    for (const now of news)
      for (const fact of new Set(now.facts)) {
        const key = `${now.unit.kind} ${fact}`;
        const known = sharing.get(key);
        if (known) known.push(now);
        else sharing.set(key, [now]);
      }
    const found = this.#unmatched(this.before, isMeant).flatMap((unit) => {
      const own = facts(unit, true);
      const candidates = own.flatMap((fact) => {
        const those = sharing.get(`${unit.kind} ${fact}`) ?? [];
        return those.length > mostSharing ? [] : those;
      });
      return [...new Set(candidates)]
        .sort((a, b) => a.order - b.order)
        .map((now) => ({ old: unit, now: now.unit, like: likeness(own, now.facts) }))
        .filter(({ like }) => like >= least);
    });
    found.sort((a, b) => b.like - a.like);
    return found.flatMap(({ old, now }) =>
      this.#other.has(old) || this.#other.has(now) ? [] : [this.#match(old, now)],
    );
  }

  inOrder(): UnitPair[] {
    const gone = new Map<Unit | undefined, Unit[]>();
    let last: Unit | undefined;
    for (const old of this.before) {
      const now = this.#other.get(old);
      if (now) last = now;
      else gone.set(last, [...(gone.get(last) ?? []), old]);
    }
    const removedAfter = (unit: Unit | undefined): UnitPair[] =>
      (gone.get(unit) ?? []).map((before) => ({ before }));
    return [
      ...removedAfter(undefined),
      ...this.after.flatMap((after): UnitPair[] => {
        const before = this.#other.get(after);
        return [before ? { before, after } : { after }, ...removedAfter(after)];
      }),
    ];
  }
}

function likeness(a: readonly string[], b: readonly string[]): number {
  if (a.length === 0 || b.length === 0) return 0;
  const known = new Set(b);
  return a.filter((fact) => known.has(fact)).length / Math.max(a.length, b.length);
}
