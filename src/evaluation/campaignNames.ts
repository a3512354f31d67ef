import type { Campaign } from '../campaign/model.js';
import { Remembered } from './remembered.js';

const known = new Remembered<object>();

/**
 * Stands for all that the names of a campaign may mean: the very same object as long as every record but the sweeps is, in the
 * same order.
 */
export function namesOf({ entries }: Campaign): object {
  const records: object[] = [];
  for (const { record } of entries)
    if (record.kind !== 'sweep' && record.kind !== 'sweeps') records.push(record);
  const [first, ...others] = records;
  return first ? known.get(first, '', others, () => ({})) : {};
}
