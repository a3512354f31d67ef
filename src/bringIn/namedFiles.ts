import type { Campaign } from '../campaign/model.js';

/** Keys of the tables that the campaign names, whether they can be read or not. */
export function namedFiles(
  { sweeps, sweepTables }: Campaign,
  resolve: (from: string, relative: string) => string | undefined,
): ReadonlySet<string> {
  const files = new Set<string>();
  for (const { record, block } of [...sweeps, ...sweepTables]) {
    const file = record.data && resolve(block.file, record.data.text);
    if (file !== undefined) files.add(file);
  }
  return files;
}

/** The instruments of every sweep so far, where all name the same; of a campaign without sweeps its only tracer and only reference. */
export function usualInstruments(campaign: Campaign): readonly string[] {
  const sweeps = [...campaign.sweeps, ...campaign.sweepTables];
  if (sweeps.length === 0) return hasChoice(campaign) ? [] : [...campaign.instruments.keys()];
  const lists = new Set(sweeps.map(({ record }) => record.with.map(({ text }) => text).join('\n')));
  const [only = ''] = lists;
  return lists.size === 1 && only !== '' ? only.split('\n') : [];
}

/** Those, where the campaign has no other tracer and no other reference that could have been used: no guess is needed then. */
export const onlyInstruments = (campaign: Campaign): readonly string[] =>
  hasChoice(campaign) ? [] : usualInstruments(campaign);

/** The campaign declares several tracers, or several references. */
function hasChoice({ instruments }: Campaign): boolean {
  const kinds = [...instruments.values()].map(({ record }) => record.kind);
  return new Set(kinds).size < kinds.length;
}
