import type { Check, CheckedSweep } from './check.js';

export const sweepRepeated: Check = {
  id: 'sweep/repeated',
  says: 'Two sweeps have the same address and time.',
  run: ({ sweeps }) => {
    const first = new Map<string, CheckedSweep>();
    return sweeps.flatMap((sweep) => {
      if (sweep.time === undefined) return [];
      const key = `${sweep.address}\n${sweep.time}`;
      const earlier = first.get(key);
      if (!earlier) {
        first.set(key, sweep);
        return [];
      }
      return [
        {
          id: sweepRepeated.id,
          severity: 'warning' as const,
          file: sweep.place.file,
          range: sweep.place.range,
          message: `Sweep ${sweep.address} at this time stands in the campaign already; a repeated sweep has its own time.`,
          related: [{ place: earlier.place, message: 'The first one stands here.' }],
        },
      ];
    });
  },
};
