import type { ReplaceRecord } from '../campaign/model.js';
import { ofDeclarations } from '../campaign/ofDeclarations.js';
import { groupBy } from '../text/groups.js';

/** The replacements of each string, in reading order. */
export const replacementsByString = ofDeclarations(
  ({ declarations }): ReadonlyMap<string, readonly ReplaceRecord[]> =>
    groupBy(
      declarations.flatMap(({ record }) => (record.kind === 'replace' ? [record] : [])),
      ({ address }) => address.string,
    ),
);
