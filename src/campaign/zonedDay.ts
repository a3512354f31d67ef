/** Days and clock times of a zone, from instants. */
import { Temporal } from 'temporal-polyfill';
import { formatOffset } from './time.js';

export interface ZonedDay {
  /** Milliseconds since 1970 UTC: the first moment of the day, and that of the next. 23, 24 or 25 hours apart, as a rule. */
  readonly start: number;
  readonly end: number;
}

/**
 * The day that a calendar shows in `zone` (an IANA name that `findTimeZone` knows). Undefined when `date` is not of the form
 * `2026-05-14` or not in the calendar.
 */
export function dayInZone(date: string, zone: string): ZonedDay | undefined {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date)) return undefined;
  try {
    const day = Temporal.PlainDate.from(date, { overflow: 'reject' });
    const start = day.toZonedDateTime(zone);
    return { start: start.epochMilliseconds, end: start.add({ days: 1 }).startOfDay().epochMilliseconds };
  } catch {
    return undefined;
  }
}

/** ISO 8601 with offset, whole seconds, as the clock of `zone` shows it. */
export function timeInZone(instant: number, zone: string): string {
  const zoned = Temporal.Instant.fromEpochMilliseconds(Math.round(instant)).toZonedDateTimeISO(zone);
  const plain = zoned.toPlainDateTime().round({ smallestUnit: 'second', roundingMode: 'trunc' });
  return (
    plain.toString({ smallestUnit: 'second' }) + formatOffset(Math.round(zoned.offsetNanoseconds / 6e10))
  );
}
