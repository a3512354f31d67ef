import type { Campaign, ReplaceRecord } from '../campaign/model.js';
import { groupBy } from '../text/groups.js';

/** The replacements of each string, in reading order. */
export function replacementsByString({ entries }: Campaign): ReadonlyMap<string, readonly ReplaceRecord[]> {
  const records = entries.flatMap(({ record }) => (record.kind === 'replace' ? [record] : []));
  return groupBy(records, ({ address }) => address.string);
}
