/** Names that nothing uses: a module of no string, criteria of no sweep, a layout of no table, an instrument of no sweep. */
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
  return campaign.entries.flatMap(({ record, block }): UnusedName[] => {
    if (block.file !== root || !('name' in record)) return [];
    const { kind, name } = record;
    const use = uses[kind];
    if (!use?.isAsked(campaign) || used.has(name.text)) return [];
    const message = `No ${use.by} uses the ${kind} \`${name.text}\`.`;
    const { startLine: firstLine, endLine: lastLine, file } = block;
    return [
      { id: 'name/unused', file, range: shiftRange(name.range, firstLine), message, firstLine, lastLine },
    ];
  });
}

interface Use {
  readonly by: string;
  readonly isAsked: (campaign: Campaign) => boolean;
}

const hasPlanes = ({ planes }: Campaign): boolean => planes.size > 0;
const hasStrings = ({ strings }: Campaign): boolean => strings.size > 0;
const hasSweeps = ({ sweeps, sweepTables }: Campaign): boolean => sweeps.length + sweepTables.length > 0;

const uses: Readonly<Partial<Record<NamedKind, Use>>> = {
  site: { by: 'plane', isAsked: hasPlanes },
  plane: { by: 'string', isAsked: hasStrings },
  module: { by: 'string', isAsked: hasStrings },
  criteria: { by: 'campaign, string or sweep', isAsked: hasSweeps },
  layout: { by: 'sweep', isAsked: hasSweeps },
  tracer: { by: 'sweep or test', isAsked: hasSweeps },
  reference: { by: 'sweep or test', isAsked: hasSweeps },
};

/** One set for all kinds: a name that two kinds share counts as used when either is, which is on the quiet side. */
function usedNames({ entries, sites, planes, criteria }: Campaign): ReadonlySet<string> {
  const used = new Set<string>();
  const add = (...names: readonly ({ readonly text: string } | undefined)[]): void => {
    for (const name of names) if (name) used.add(name.text);
  };
  // The only one there is holds without being named.
  for (const named of [sites, planes, criteria])
    if (named.size === 1) for (const { record } of named.values()) add(record.name);
  for (const { record } of entries) {
    if ('criteria' in record) add(record.criteria);
    if ('with' in record) add(...record.with);
    if (record.kind === 'plane') add(record.site);
    if (record.kind === 'string') add(record.modules?.type, record.plane);
    if (record.kind === 'sweep' || record.kind === 'sweeps') add(record.layout);
    if (record.kind === 'replace') add(record.type?.old, record.type?.new);
  }
  return used;
}
