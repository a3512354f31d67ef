/** Times as written, and the instants they mean in the zone of the site. */
import { Temporal } from 'temporal-polyfill';
import type { LocalTime, Words } from './model.js';
import { nearest } from './nearest.js';
import type { Range } from '../text/place.js';
import { shorten, type ValueReader } from './valueReader.js';

const datePattern = /^(\d{4})-(\d{2})-(\d{2})$/;
const timePattern = /^(\d{2}):(\d{2})(?::(\d{2}))?(Z|[+\-\u2212]\d{2}:\d{2})?$/;
const offsetPattern = /^(Z|[+\-\u2212]\d{2}:\d{2})$/;

/** `2026-01-12`, a day that exists (proleptic Gregorian calendar, ISO 8601). */
export function readDate(reader: ValueReader): Words | undefined {
  const token = reader.take();
  if (!token) return reader.fail('value/missing', reader.rest(), 'A date is missing here: `2026-05-14`.');
  const range = reader.range(token);
  return checkDate(reader, token.text, range) ? { text: token.text, range } : undefined;
}

function checkDate(reader: ValueReader, text: string, range: Range): boolean {
  const match = datePattern.exec(text);
  if (!match) {
    reader.fail(
      'time/malformed',
      range,
      `\`${shorten(text)}\` is not a date: write year, month, day as \`2026-05-14\`.`,
    );
    return false;
  }
  const [year, month, day] = match.slice(1).map(Number) as [number, number, number];
  if (month >= 1 && month <= 12 && day >= 1 && day <= daysInMonth(year, month)) return true;
  reader.fail('time/impossible', range, `${text} is not in the calendar.`);
  return false;
}

function daysInMonth(year: number, month: number): number {
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return month === 2 ? (leap ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : 31;
}

/** `2026-05-14 11:42`, seconds and an offset (`Z`, `+02:00`) where wanted. */
export function readTime(reader: ValueReader): LocalTime | undefined {
  const from = reader.position;
  const date = reader.take();
  const example = 'write `2026-05-14 11:42`, with seconds and `Z` or `+02:00` where wanted';
  if (!date) return reader.fail('time/missing', reader.rest(), `The time is missing: ${example}.`);
  const joined = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2}.*)$/.exec(date.text);
  if (joined) {
    const range = reader.range(date);
    return reader.fail('time/malformed', range, 'A space stands between date and time.', [
      { title: 'Put a space', range, text: `${joined[1]} ${joined[2]}` },
    ]);
  }
  if (!checkDate(reader, date.text, reader.range(date))) return undefined;
  const clock = reader.nextIs('word') ? reader.take() : undefined;
  const match = clock && timePattern.exec(clock.text);
  if (!match) {
    const range = reader.readSince(from);
    return reader.fail(
      'time/malformed',
      range,
      `The time of day is ${clock ? 'malformed' : 'missing'}: ${example}.`,
    );
  }
  const [, hour, minute, second = '00', attached] = match as unknown as [
    string,
    string,
    string,
    string?,
    string?,
  ];
  const next = reader.peek();
  const offset =
    attached ?? (next?.kind === 'word' && offsetPattern.test(next.text) ? reader.take()!.text : undefined);
  const range = reader.readSince(from);
  if (Number(hour) > 23 || Number(minute) > 59 || Number(second) > 59)
    return reader.fail('time/impossible', range, `${clock!.text} is not a time of day: 00:00 to 23:59.`);
  const offsetMinutes = offset === undefined ? undefined : minutesOf(offset);
  if (offsetMinutes !== undefined && Math.abs(offsetMinutes) > 14 * 60)
    return reader.fail(
      'time/impossible',
      range,
      `${offset!} is not the offset of any zone: -12:00 to +14:00.`,
    );
  const iso = `${date.text}T${hour}:${minute}:${second}`;
  return offsetMinutes === undefined ? { iso, range } : { iso, offsetMinutes, range };
}

/**
 * A time as a table may write it: `2026-05-14 11:42[:30][Z|+02:00]`, with a space or `T` between; or with the day in points,
 * `14.05.2026`, which has the day first (common practice, no source). Undefined when it is anything else or no time that exists.
 */
export function parseTime(written: string): Omit<LocalTime, 'range'> | undefined {
  const text = written.replace(/^\s*(\d{2})\.(\d{2})\.(\d{4})(?=[T ])/, '$3-$2-$1');
  const match =
    /^(\d{4})-(\d{2})-(\d{2})[T ]+(\d{2}):(\d{2})(?::(\d{2})(?:[.,]\d+)?)?\s*(Z|[+-]\d{2}:\d{2})?$/.exec(
      text.trim(),
    );
  if (!match) return undefined;
  const [year, month, day, hour, minute, second] = match.slice(1, 7).map((part) => Number(part ?? 0));
  if (month! < 1 || month! > 12 || day! < 1 || day! > daysInMonth(year!, month!)) return undefined;
  if (hour! > 23 || minute! > 59 || second! > 59) return undefined;
  const iso = `${match[1]}-${match[2]}-${match[3]}T${match[4]}:${match[5]}:${match[6] ?? '00'}`;
  return match[7] === undefined ? { iso } : { iso, offsetMinutes: minutesOf(match[7]) };
}

function minutesOf(offset: string): number {
  if (offset === 'Z') return 0;
  const minutes = Number(offset.slice(1, 3)) * 60 + Number(offset.slice(4, 6));
  return offset.startsWith('+') ? minutes : -minutes;
}

/** The zone by its IANA name, spelt as the database does; undefined when there is none. Offsets are no zones. */
export function findTimeZone(name: string): string | undefined {
  if (!/^[A-Za-z][A-Za-z0-9_+/-]*$/.test(name)) return undefined;
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    const listed = Intl.supportedValuesOf('timeZone').find(
      (zone) => zone.toLowerCase() === name.toLowerCase(),
    );
    return listed ?? name;
  } catch {
    return undefined;
  }
}

export function nearestTimeZone(name: string): string | undefined {
  const zones = Intl.supportedValuesOf('timeZone');
  const city = name.split('/').at(-1)!.toLowerCase().replaceAll(' ', '_');
  return nearest(name, zones) ?? zones.find((zone) => zone.toLowerCase().endsWith(`/${city}`));
}

export type ResolvedInstant =
  | {
      readonly kind: 'instant';
      /** Milliseconds since 1970 UTC. */
      readonly instant: number;
      /** Minutes east of UTC. */
      readonly offsetMinutes: number;
      /** ISO 8601 with offset. */
      readonly iso: string;
    }
  /** The clock showed this time twice (end of daylight saving), or never (its start). Offsets before and after, in minutes. */
  | { readonly kind: 'ambiguous' | 'nonexistent'; readonly offsetsMinutes: readonly [number, number] };

/** The instant that a written time means in `zone`, an IANA name that `findTimeZone` knows. */
export function resolveInstant(local: Omit<LocalTime, 'range'>, zone: string): ResolvedInstant {
  const asUtc = Date.parse(`${local.iso}Z`);
  if (local.offsetMinutes !== undefined) return instantAt(local.iso, asUtc, local.offsetMinutes);
  const steady = steadyOffset(zone, local.iso.slice(0, 10));
  if (steady !== undefined) return instantAt(local.iso, asUtc, steady);
  const plain = Temporal.PlainDateTime.from(local.iso);
  const [earlier, later] = (['earlier', 'later'] as const).map((disambiguation) =>
    Math.round(plain.toZonedDateTime(zone, { disambiguation }).offsetNanoseconds / 6e10),
  ) as [number, number];
  if (earlier === later) return instantAt(local.iso, asUtc, earlier);
  // Clocks set back lower the offset: the earlier reading has the greater one.
  const exists = plain.toZonedDateTime(zone, { disambiguation: 'earlier' }).toPlainDateTime().equals(plain);
  return { kind: exists ? 'ambiguous' : 'nonexistent', offsetsMinutes: [earlier, later] };
}

function instantAt(iso: string, asUtc: number, offsetMinutes: number): ResolvedInstant {
  const instant = asUtc - offsetMinutes * 60_000;
  return { kind: 'instant', instant, offsetMinutes, iso: iso + formatOffset(offsetMinutes) };
}

/** `+01:00`. */
export function formatOffset(minutes: number): string {
  const [hours, rest] = [Math.floor(Math.abs(minutes) / 60), Math.abs(minutes) % 60];
  return `${minutes < 0 ? '-' : '+'}${String(hours).padStart(2, '0')}:${String(rest).padStart(2, '0')}`;
}

const steadyOffsets = new Map<string, Map<string, number | undefined>>();

/** Does the clock of the zone run on through the day of this time, so that every time of it is there exactly once? */
export function isSteadyDay(local: Pick<LocalTime, 'iso'>, zone: string): boolean {
  return steadyOffset(zone, local.iso.slice(0, 10)) !== undefined;
}

/** The zone's offset throughout a date and the days beside it; undefined where it changes. Remembered by date. */
function steadyOffset(zone: string, date: string): number | undefined {
  let ofZone = steadyOffsets.get(zone);
  if (!ofZone || ofZone.size > 10_000) steadyOffsets.set(zone, (ofZone = new Map()));
  const known = ofZone.get(date);
  if (known !== undefined || ofZone.has(date)) return known;
  const midnight = Date.parse(`${date}T00:00:00Z`);
  const offsets = [-1, 0, 1, 2].map((days) => {
    const instant = Temporal.Instant.fromEpochMilliseconds(midnight + days * 86_400_000);
    return instant.toZonedDateTimeISO(zone).offsetNanoseconds / 6e10;
  });
  const whole = offsets.every((offset) => offset === offsets[0]) && Number.isInteger(offsets[0]);
  const offset = whole ? offsets[0] : undefined;
  ofZone.set(date, offset);
  return offset;
}
