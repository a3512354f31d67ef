/** Would a reading that cannot be true at its time be plausible at another, which a wrong clock or zone would explain? */
import type { CheckedSweep } from './check.js';
import { boundAt, type BoundAtTime } from './sweepSun.js';

interface Shift {
  /** To be added to the time as it was understood. */
  readonly minutes: number;
  readonly explains: string;
}

const hour = 60;
const halfDay: readonly Shift[] = [
  { minutes: -12 * hour, explains: 'twelve hours earlier (am for pm)' },
  { minutes: 12 * hour, explains: 'twelve hours later (pm for am)' },
];

/**
 * A sentence that names every shift after which the sun stands above the horizon and `irradiance` (W/m2) is at most a fifth
 * more than a clear sky is expected to give (the bound itself is too generous to suggest by; common practice, no source); empty where there is none. Shifts tried: the time was written in UTC; the offset of the site was counted twice;
 * one hour either way (daylight saving); and where none of these fits, twelve hours.
 */
export function shiftSentence(sweep: CheckedSweep, irradiance: number | undefined): string {
  if (irradiance === undefined) return '';
  return sentenceOfShifts(sweep, ({ expected }) => irradiance <= 1.2 * expected);
}

/** The same for any reading: `fits` says whether it agrees with a sun that stands above the horizon. */
export function sentenceOfShifts(sweep: CheckedSweep, fits: (at: BoundAtTime) => boolean): string {
  const { instant } = sweep;
  if (instant === undefined) return '';
  const isPlausible = ({ minutes }: Shift): boolean => {
    const at = boundAt(sweep, instant + minutes * 60_000);
    return at !== undefined && at.sun.elevation > 0 && fits(at);
  };
  const near = shiftsOf(sweep.time).filter(isPlausible);
  const fitting = near.length > 0 ? near : halfDay.filter(isPlausible);
  if (fitting.length === 0) return '';
  const causes = fitting.map(({ explains }) => explains);
  const joined = causes.length > 1 ? `${causes.slice(0, -1).join(', ')}, or ${causes.at(-1)!}` : causes[0]!;
  return ` The reading would be plausible ${joined}: likely a wrong time zone or clock.`;
}

function shiftsOf(time: string | undefined): readonly Shift[] {
  const offset = offsetMinutes(time);
  const zone: Shift[] =
    offset === 0
      ? []
      : [
          { minutes: offset, explains: `if the time were UTC (${hoursText(offset)})` },
          {
            minutes: -offset,
            explains: `if the offset of the zone were counted twice (${hoursText(-offset)})`,
          },
        ];
  const known = new Set(zone.map(({ minutes }) => minutes));
  const clock = [hour, -hour]
    .filter((minutes) => !known.has(minutes))
    .map((minutes) => ({ minutes, explains: `one hour ${minutes > 0 ? 'later' : 'earlier'}` }));
  return [...zone, ...clock];
}

/** Of `2026-05-14T11:42:00+01:00`: 60. */
function offsetMinutes(time: string | undefined): number {
  const match = /([+-])(\d{2}):(\d{2})$/.exec(time ?? '');
  if (!match) return 0;
  const minutes = Number(match[2]) * 60 + Number(match[3]);
  return match[1] === '-' ? -minutes : minutes;
}

const hoursText = (minutes: number): string =>
  `${Number((Math.abs(minutes) / 60).toFixed(2))} h ${minutes > 0 ? 'later' : 'earlier'}`;
