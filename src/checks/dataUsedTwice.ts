import { shiftRange } from '../text/place.js';
import type { Check, CheckedSweep } from './check.js';

/** A file copied into a second sweep is mostly a line that was copied and not changed. */
export const dataUsedTwice: Check = {
  id: 'sweep/data-used-twice',
  says: 'Two sweeps name the same data file.',
  inCommon: ({ record, dataFile }) => (record.kind === 'sweep' && record.data ? dataFile : undefined),
  run: ({ sweeps }) => {
    const first = new Map<string, CheckedSweep>();
    return sweeps.flatMap((sweep) => {
      const { record, dataFile } = sweep;
      if (record.kind !== 'sweep' || !record.data || dataFile === undefined) return [];
      const earlier = first.get(dataFile);
      if (!earlier) {
        first.set(dataFile, sweep);
        return [];
      }
      return [
        {
          id: dataUsedTwice.id,
          severity: 'warning' as const,
          file: sweep.block.file,
          range: shiftRange(record.data.range, sweep.block.startLine),
          message: `"${record.data.text}" is also the data of sweep ${earlier.address}; each sweep has its own points.`,
          related: [{ place: earlier.place, message: `Sweep ${earlier.address} names it first.` }],
        },
      ];
    });
  },
};
