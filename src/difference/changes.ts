/** What differs in the inputs of two campaigns: one change for each property, block and table. */
import { decodeValue } from '../campaign/decodeValue.js';
import type { CampaignEntry } from '../campaign/model.js';
import { ValueReader } from '../campaign/valueReader.js';
import { shiftRange, type Place } from '../text/place.js';
import { valueText, writtenWords, type Part } from './parts.js';
import { isDefinition, type RenamedThings, type UnitPair } from './pairUnits.js';
import { addressOf, type Unit } from './units.js';

/** Something as it is written in one of the campaigns. */
export interface Written {
  /** In one line; comments are left out. */
  readonly text: string;
  readonly place: Place;
}

export interface Change {
  readonly kind: 'added' | 'removed' | 'changed' | 'renamed';
  /** What it is a change of: the keyword of a block, or `table`, and its name in the later campaign, else in the earlier. */
  readonly subject: { readonly kind: string; readonly name: string };
  /** `beta`; `header` for name, address, time or title; absent where the whole block or table is meant. */
  readonly property?: string;
  readonly before?: Written;
  readonly after?: Written;
  /** Nothing is computed from it: titles, notes, names of people. */
  readonly wordsOnly: boolean;
  /** More about a table: how many of its lines differ. */
  readonly detail?: string;
}

/** One line or block of a thing in both campaigns; which of the two holds depends on the changes that are applied. */
export interface Slot {
  readonly before?: Part;
  readonly after?: Part;
  /** Absent where both say the same. */
  readonly change?: Change;
  /** Without a change: the later one is taken, since names in it were changed alike everywhere. */
  readonly takesAfter?: boolean;
}

export interface PairChanges extends UnitPair {
  /** Of the whole block: it was added or removed. */
  readonly change?: Change;
  /** Header first. Empty where the thing is in one campaign alone. */
  readonly slots: readonly Slot[];
}

/** @param sameTable do two paths, each in its own file, name the same table? */
export function changesOf(
  pair: UnitPair,
  names: RenamedThings,
  sameTable: (before: Unit, a: string, after: Unit, b: string) => boolean,
): PairChanges {
  const { before, after } = pair;
  if (before && after) return { ...pair, slots: slotsOf(before, after, names, sameTable) };
  const unit = (before ?? after)!;
  const written = wholeBlock(unit);
  const change: Change = {
    kind: after ? 'added' : 'removed',
    subject: { kind: unit.kind, name: unit.name },
    [after ? 'after' : 'before']: written,
    wordsOnly: unit.kind === 'note' || unit.kind === 'campaign' || unit.entry === undefined,
  };
  return { ...pair, change, slots: [] };
}

function wholeBlock(unit: Unit): Written {
  return { text: valueText(unit.header), place: placeOf(unit, unit.header) };
}

function placeOf({ file, startLine }: Unit, { lines }: Part): Place {
  const [first] = lines;
  const tokens = first!.tokens;
  const range = {
    start: { line: first!.number, character: tokens[0]!.start },
    end: { line: first!.number, character: tokens.at(-1)!.end },
  };
  return { file, range: shiftRange(range, startLine) };
}

function slotsOf(
  before: Unit,
  after: Unit,
  names: RenamedThings,
  sameTable: Parameters<typeof changesOf>[2],
): Slot[] {
  const later = new Map(after.parts.map((part) => [part.key, part]));
  const slots: Slot[] = [headerSlot(before, after, names, sameTable)];
  const slot = (a: Part | undefined, b: Part | undefined): Slot => {
    if (a && b) {
      if (writtenWords(a) === writtenWords(b)) return { before: a, after: b };
      if (writtenWords(withNewNames(a, names)) === writtenWords(b))
        return { before: a, after: b, takesAfter: true };
      if (isSameValue(a, b, before, after, sameTable)) return { before: a, after: b };
    }
    const part = (b ?? a)!;
    const change: Change = {
      kind: a && b ? 'changed' : b ? 'added' : 'removed',
      subject: { kind: after.kind, name: after.name },
      property: part.key,
      before: a && { text: valueText(a), place: placeOf(before, a) },
      after: b && { text: valueText(b), place: placeOf(after, b) },
      wordsOnly: isWords(after.kind, part),
    };
    return { before: a, after: b, change };
  };
  for (const part of before.parts) slots.push(slot(part, later.get(part.key)));
  const known = new Set(before.parts.map(({ key }) => key));
  for (const part of after.parts) if (!known.has(part.key)) slots.push(slot(undefined, part));
  return slots;
}

function headerSlot(
  before: Unit,
  after: Unit,
  names: RenamedThings,
  sameTable: Parameters<typeof changesOf>[2],
): Slot {
  const [a, b] = [before.header, after.header];
  if (writtenWords(a) === writtenWords(b)) return { before: a, after: b };
  const renamed = isDefinition(after) && before.name !== after.name;
  const follows = !renamed && sameSubject(before, after, names, sameTable);
  const isCampaign = after.kind === 'campaign';
  if (follows && !isDefinition(after) && !isCampaign && withNewWords(a, names) === writtenWords(b))
    return { before: a, after: b, takesAfter: true };
  const change: Change = {
    kind: renamed ? 'renamed' : 'changed',
    subject: { kind: after.kind, name: after.name },
    property: 'header',
    before: { text: valueText(a), place: placeOf(before, a) },
    after: { text: valueText(b), place: placeOf(after, b) },
    wordsOnly: renamed || follows || isCampaign,
  };
  // A new name stands in the later header alone; with it go the words, from which nothing is computed.
  const isNewAddress = follows && addressOf(before)?.text !== addressOf(after)?.text;
  return { before: a, after: b, change, takesAfter: renamed || isNewAddress };
}

/** Do both headers speak of the same thing at the same time, and differ in words alone? */
function sameSubject(
  before: Unit,
  after: Unit,
  names: RenamedThings,
  sameTable: Parameters<typeof changesOf>[2],
): boolean {
  const [a, b] = [before.entry, after.entry];
  if (!a || !b || a.kind !== b.kind) return false;
  if (a.kind === 'sweeps' && b.kind === 'sweeps') return sameTable(before, a.data.text, after, b.data.text);
  return subjectOf(a, names) === subjectOf(b);
}

function subjectOf(entry: CampaignEntry, names?: RenamedThings): string {
  const address = 'address' in entry ? (entry.address?.text ?? '') : '';
  const { time } = 'time' in entry ? entry : { time: undefined };
  const name = 'name' in entry ? entry.name.text : '';
  return JSON.stringify([name, names?.address(address) ?? address, time?.iso, time?.offsetMinutes]);
}

/** Properties whose text is kept and shown, and nothing more: those in free words, but for what sets a sweep aside. */
function isWords(block: string, { property }: Part): boolean {
  // A misspelt property may stand for one that is needed.
  if (!property) return false;
  const { form, name } = property;
  // The earlier campaign is compared with; no sweep is computed from it.
  if (block === 'campaign') return name !== 'criteria';
  return (form.kind === 'text' && name !== 'void') || name === 'feeds' || name === 'formerly';
}

/** The part with the names that things have in the later campaign. */
function withNewNames(part: Part, names: RenamedThings): Part {
  const kinds = kindsNamed(part);
  if (names.isEmpty || kinds.length === 0) return part;
  const renamed = (text: string): string =>
    kinds.map((kind) => names.get(kind, text)).find((name) => name !== text) ?? text;
  return {
    ...part,
    lines: part.lines.map((line) => ({
      ...line,
      tokens: line.tokens.map((token, index) =>
        index > 0 && token.kind === 'word' ? { ...token, text: renamed(token.text) } : token,
      ),
    })),
  };
}

function withNewWords(header: Part, names: RenamedThings): string {
  const [line] = header.lines;
  const tokens = line!.tokens.map((token, index) =>
    index === 1 && token.kind === 'word' ? { ...token, text: names.address(token.text) } : token,
  );
  return writtenWords({ ...header, lines: [{ ...line!, tokens }] });
}

/** Kinds of things that the words of a property may name. */
export function kindsNamed({ property }: Part): readonly string[] {
  const form = property?.form;
  if (form?.kind === 'reference' || form?.kind === 'references') return form.to;
  return form?.kind === 'modules' || form?.kind === 'typeChange' ? ['module'] : [];
}

/** `812 W/m2` and `812.0 W/m²` are the same; so are two ways to the same table. */
function isSameValue(
  a: Part,
  b: Part,
  before: Unit,
  after: Unit,
  sameTable: Parameters<typeof changesOf>[2],
): boolean {
  const { property } = b;
  if (!property || property.form.kind === 'points') return false;
  const [first, second] = [a, b].map(({ lines }) => {
    const problems: unknown[] = [];
    const reader = new ValueReader(lines[0]!, problems as [], 1);
    const value = decodeValue(reader, property);
    return problems.length > 0 ? undefined : value;
  });
  if (first === undefined || second === undefined) return false;
  if (property.name === 'data') {
    const [from, to] = [first, second] as { text: string }[];
    return sameTable(before, from!.text, after, to!.text);
  }
  return canonical(first) === canonical(second);
}

/** Where it stands says nothing of what is meant, nor does the unit of a quantity, which is kept in SI. */
function canonical(value: unknown): string {
  return JSON.stringify(value, function (this: object, key, each: unknown) {
    const asWritten = key === 'unit' || key === 'writtenValue';
    return key === 'range' || (asWritten && 'dimension' in this) ? undefined : each;
  });
}
