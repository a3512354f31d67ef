import type { Check, CheckedSweep } from './check.js';

export const sweepRepeated: Check = {
  id: 'sweep/repeated',
  says: 'Two sweeps have the same address and time.',
  inCommon: ({ address, time }) => (time === undefined ? undefined : `${address} at ${time}`),
  run: ({ sweeps }) => {
    const firsts = new Map<string, CheckedSweep[]>();
    return sweeps.flatMap((sweep) => {
      if (sweep.time === undefined) return [];
      const ofAddress = firsts.get(sweep.address);
      const earlier = ofAddress?.find(({ time }) => time === sweep.time);
      if (!earlier) {
        if (ofAddress) ofAddress.push(sweep);
        else firsts.set(sweep.address, [sweep]);
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
