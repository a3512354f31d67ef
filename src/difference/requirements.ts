/** Changes that only make sense with others: what names a thing that was added needs that thing. */
import type { Change, PairChanges } from './changes.js';
import { kindsNamed } from './changes.js';
import { isDefinition } from './pairUnits.js';
import type { Part } from './parts.js';
import { addressOf, isString, type Unit } from './units.js';

/** For each change all that have to be made with it, itself included. */
export function requirementsOf(pairs: readonly PairChanges[]): (change: Change) => ReadonlySet<Change> {
  const added = new Map<string, Change>();
  for (const { change, after } of pairs) {
    if (!change || !after || !isDefinition(after)) continue;
    const names = isString(after) ? after.entry.names : [after.name];
    for (const name of names) added.set(`${after.kind} ${name}`, change);
  }
  const direct = new Map<Change, readonly Change[]>();
  if (added.size > 0)
    for (const { change, after, slots } of pairs) {
      const named = (parts: readonly (Part | undefined)[]): Change[] =>
        [...parts.flatMap((part) => (part ? namesIn(part) : [])), ...stringOf(after)].flatMap(
          (name) => added.get(name) ?? [],
        );
      if (change && after) direct.set(change, named(after.parts));
      for (const slot of slots) if (slot.change) direct.set(slot.change, named([slot.after]));
    }
  return (change) => {
    const all = new Set([change]);
    for (const each of all) for (const needed of direct.get(each) ?? []) all.add(needed);
    return all;
  };
}

function namesIn(part: Part): string[] {
  const words = part.lines[0]!.tokens.slice(1).filter(({ kind }) => kind === 'word');
  return kindsNamed(part).flatMap((kind) => words.map(({ text }) => `${kind} ${text.normalize('NFC')}`));
}

/** The string that a sweep or a record is about. */
function stringOf(unit: Unit | undefined): string[] {
  const address = unit && addressOf(unit);
  return address ? [`string ${address.string}`] : [];
}
