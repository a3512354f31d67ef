/** A wrong plane, clock or zone shows in every sweep of a plane on a day: such a thing is said once. */
import { groupBy } from '../text/groups.js';
import type { Place } from '../text/place.js';
import type { CheckedSweep } from './check.js';

/** Sweeps of one plane on one day, in reading order. Sweeps whose plane is not known are taken together. */
export interface SweepsOfPlaneAndDay {
  readonly first: CheckedSweep;
  readonly others: readonly CheckedSweep[];
}

/** The day is that of the time as written. */
export function byPlaneAndDay(sweeps: readonly CheckedSweep[]): SweepsOfPlaneAndDay[] {
  const byPlane = groupBy(sweeps, ({ target }) => target.plane);
  return [...byPlane.values()].flatMap((ofPlane) => {
    const byDay = groupBy(ofPlane, ({ time }) => time?.slice(0, 10));
    return [...byDay.values()].map(([first, ...others]) => ({ first: first!, others }));
  });
}

/** ` The same holds for 3 more sweeps of this plane on this day.`, or nothing. */
export function othersSentence(others: readonly CheckedSweep[]): string {
  if (others.length === 0) return '';
  return ` The same holds for ${others.length} more ${others.length === 1 ? 'sweep' : 'sweeps'} in this plane on this day.`;
}

/** The other sweeps, as places to go to; the first five of them. */
export function othersPlaces(
  others: readonly CheckedSweep[],
  rangeOf: (sweep: CheckedSweep) => Place['range'],
) {
  return others.slice(0, 5).map((other) => ({
    place: { file: other.block.file, range: rangeOf(other) },
    message: `Sweep ${other.address}.`,
  }));
}
