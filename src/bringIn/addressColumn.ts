import type { Campaign } from '../campaign/model.js';
import { addressNamed } from './addressNamed.js';
import type { TopOfTable } from './topOfTable.js';

/**
 * The column, from 0, of which every field is an address of the campaign, whatever its header; undefined where there is none or
 * more than one. Whole numbers do not count: a string named `2` is no reason to take a column of counts for it.
 */
export function addressColumn({ rows, columns }: TopOfTable, campaign: Campaign): number | undefined {
  const taken = new Set(Object.values(columns).map(({ index }) => index));
  const width = rows[0]?.length ?? 0;
  const filled = rows.filter((row) => row.some((field) => field.trim() !== ''));
  const known = new Map<string, boolean>();
  const isAddress = (field: string): boolean => {
    let answer = known.get(field);
    if (answer === undefined) {
      answer = !/^\s*\d*\s*$/.test(field) && addressNamed(field, campaign) !== undefined;
      known.set(field, answer);
    }
    return answer;
  };
  const found = Array.from({ length: width }, (_, index) => index).filter(
    (index) => !taken.has(index) && filled.length > 0 && filled.every((row) => isAddress(row[index] ?? '')),
  );
  return found.length === 1 ? found[0] : undefined;
}
