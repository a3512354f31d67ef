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

/** The instruments of every sweep so far, where all name the same; else none. */
export function usualInstruments({ sweeps, sweepTables }: Campaign): readonly string[] {
  const lists = new Set(
    [...sweeps, ...sweepTables].map(({ record }) => record.with.map(({ text }) => text).join('\n')),
  );
  const [only = ''] = lists;
  return lists.size === 1 && only !== '' ? only.split('\n') : [];
}

/** Those, where the campaign has no other tracer and no other reference that could have been used: no guess is needed then. */
export function onlyInstruments(campaign: Campaign): readonly string[] {
  const kinds = [...campaign.instruments.values()].map(({ record }) => record.kind);
  return new Set(kinds).size === kinds.length ? usualInstruments(campaign) : [];
}
