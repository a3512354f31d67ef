/**
 * The table that drives the notation: decoding, hovers, completion, highlighting and the language reference all read it.
 * A new property is one entry here and one line in a record builder.
 *
 * `source` names the standard a term comes from. The standards are named from memory of their vocabulary, not confirmed
 * against licensed copies; "common practice, no source" marks facts of the trade; "this notation" marks words of our own.
 */
import { instrumentBlocks } from './keywords/instruments.js';
import { plantBlocks } from './keywords/plant.js';
import { judgementBlocks } from './keywords/judgement.js';
import { measurementBlocks } from './keywords/measurements.js';
import { recordBlocks } from './keywords/records.js';
import type { BlockKeyword, PropertyKeyword } from './keywords/types.js';

export type { BlockKeyword, HeaderForm, PropertyKeyword, RequiredFor } from './keywords/types.js';

export const blockKeywords: readonly BlockKeyword[] = [
  ...plantBlocks,
  ...instrumentBlocks,
  ...judgementBlocks,
  ...measurementBlocks,
  ...recordBlocks,
];

/** May stand in every block but `include` and `note`. */
export const noteProperty: PropertyKeyword = {
  name: 'note',
  meaning: "The analyst's words on this block. May be repeated.",
  form: { kind: 'text' },
  source: 'this notation',
  example: 'note "Before replacement."',
  repeatable: true,
};

const byName = new Map(blockKeywords.map((block) => [block.name, block]));

const properties = new Map(
  blockKeywords.map((block) => {
    const own = block.properties.map((property) => [property.name, property] as const);
    const all = block.takesNotes ? [...own, [noteProperty.name, noteProperty] as const] : own;
    return [block.name, new Map(all)];
  }),
);

export function findBlockKeyword(name: string): BlockKeyword | undefined {
  return byName.get(name);
}

/** Every property that may stand in the block, `note` included, by its name. */
export function propertiesOf(block: string): ReadonlyMap<string, PropertyKeyword> {
  return properties.get(block) ?? new Map<string, PropertyKeyword>();
}

export function findProperty(block: string, name: string): PropertyKeyword | undefined {
  return properties.get(block)?.get(name);
}

/** Blocks that have a property of this name. */
export function blocksWithProperty(name: string): readonly string[] {
  return blockKeywords.filter((block) => properties.get(block.name)!.has(name)).map((block) => block.name);
}
