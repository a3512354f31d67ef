/** Names that nothing uses: a module of no string, a layout of no table, an instrument of no sweep. */
import type { Campaign, NamedKind } from '../campaign/model.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { shiftRange, type Range } from '../text/place.js';

export interface UnusedName {
  readonly id: 'name/unused';
  readonly file: string;
  readonly range: Range;
  readonly message: string;
  /** The lines of the block that gives the name, from 0. */
  readonly firstLine: number;
  readonly lastLine: number;
}

/**
 * Only names that the campaign's root file gives: what stands in an included file may serve another campaign. Nothing
 * is said while a campaign has no sweep or string at all, since then everything is still to come.
 */
export function unusedNames({ campaign, root }: Evaluation): UnusedName[] {
  const used = usedNames(campaign);
  const hasStrings = campaign.strings.size > 0;
  const hasSweeps = campaign.sweeps.length + campaign.sweepTables.length > 0;
  return campaign.entries.flatMap(({ record, block }): UnusedName[] => {
    if (block.file !== root || !('name' in record)) return [];
    const { kind, name } = record;
    const isAsked = kind === 'module' ? hasStrings : isUsedBySweeps(kind) && hasSweeps;
    if (!isAsked || used.has(name.text)) return [];
    const message = `No ${whatUses[kind as keyof typeof whatUses]} uses the ${kind} \`${name.text}\`.`;
    const { startLine: firstLine, endLine: lastLine, file } = block;
    return [
      { id: 'name/unused', file, range: shiftRange(name.range, firstLine), message, firstLine, lastLine },
    ];
  });
}

const whatUses = {
  module: 'string',
  layout: 'sweep',
  tracer: 'sweep or test',
  reference: 'sweep or test',
} as const;

function isUsedBySweeps(kind: string): kind is Exclude<NamedKind, 'module'> {
  return kind === 'layout' || kind === 'tracer' || kind === 'reference';
}

/** One set for all kinds: a name that two kinds share counts as used when either is, which is on the quiet side. */
function usedNames({ entries }: Campaign): ReadonlySet<string> {
  const used = new Set<string>();
  const add = (...names: readonly ({ readonly text: string } | undefined)[]): void => {
    for (const name of names) if (name) used.add(name.text);
  };
  for (const { record } of entries) {
    if (record.kind === 'string') add(record.modules?.type);
    if (record.kind === 'sweep' || record.kind === 'sweeps') add(record.layout);
    if ('with' in record) add(...record.with);
    if (record.kind === 'replace') add(record.type?.old, record.type?.new);
  }
  return used;
}
