/**
 * Days and times of day as instruments and people write them. A day in points (`14.05.2026`) has the day first; one in slashes tells
 * by itself only where a number is above 12 (common practice, no source).
 */
import { parseTime } from '../campaign/time.js';

export type DateOrder = 'day-first' | 'month-first';

export interface WrittenTime {
  /** `2026-05-14`. */
  readonly date?: string;
  /** `11:42`, or with seconds that are not zero; an offset behind it where one was written. */
  readonly clock?: string;
  /** The order that this day shows, where it is written with slashes and shows one. */
  readonly order?: DateOrder;
  /** A day whose first two numbers could be exchanged, and no order was given. */
  readonly isDoubtful?: boolean;
}

const months = [
  /^(jan|ene|gen)/,
  /^(feb|fev)/,
  /^(mar|maer)/,
  /^(apr|abr|avr)/,
  /^(may|mai|mag)/,
  /^(jun|juin|giu)/,
  /^(jul|juil|lug)/,
  /^(aug|ago|aou)/,
  /^(sep|set)/,
  /^(oct|okt|ott)/,
  /^nov/,
  /^(dec|dez|dic)/,
];

/** Undefined for anything that is neither a day nor a time of day, or that no calendar and no clock has. */
export function readWrittenTime(text: string, order?: DateOrder): WrittenTime | undefined {
  const tidy = text.trim().replace(/\s+/g, ' ').replace(/,/g, ' ').replace(/ +/g, ' ');
  if (tidy === '' || tidy.length > 40) return undefined;
  const day = readDay(tidy, order);
  const rest = day ? tidy.slice(day.length).replace(/^(?:T| |_|-)/, '') : tidy;
  const clock = rest === '' ? undefined : readClock(rest);
  if (rest !== '' && clock === undefined) return undefined;
  if (day?.isDoubtful) return { clock, isDoubtful: true };
  if (day && !parseTime(`${day.date} 00:00`)) return undefined;
  return { date: day?.date, clock, order: day?.order };
}

interface Day {
  readonly date?: string;
  readonly length: number;
  readonly order?: DateOrder;
  readonly isDoubtful?: boolean;
}

function readDay(text: string, order: DateOrder | undefined): Day | undefined {
  const iso = /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})(?!\d)/.exec(text);
  if (iso) return dayOf(iso[0].length, iso[1]!, iso[3]!, iso[4]!);
  const dotted = /^(\d{1,2})\.(\d{1,2})\.(\d{4})(?!\d)/.exec(text);
  if (dotted) return dayOf(dotted[0].length, dotted[3]!, dotted[2]!, dotted[1]!);
  const named = /^(\d{1,2})[. -]+(\p{L}{3,12})[. -]+(\d{4})(?!\d)/u.exec(text);
  if (named) {
    const month = 1 + months.findIndex((each) => each.test(plainLetters(named[2]!)));
    return month === 0 ? undefined : dayOf(named[0].length, named[3]!, String(month), named[1]!);
  }
  const slashed = /^(\d{1,2})([/-])(\d{1,2})\2(\d{4})(?!\d)/.exec(text);
  if (!slashed) return undefined;
  const [all, first, , second, year] = slashed as unknown as [string, string, string, string, string];
  const shown = orderShown(Number(first), Number(second));
  const taken = shown ?? order;
  if (!taken && first !== second) return { length: all.length, isDoubtful: true };
  const [day, month] = taken === 'month-first' ? [second, first] : [first, second];
  return { ...dayOf(all.length, year, month, day), order: shown };
}

function dayOf(length: number, year: string, month: string, day: string): Day {
  return { length, date: `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}` };
}

function orderShown(first: number, second: number): DateOrder | undefined {
  if (first > 12 && second <= 12) return 'day-first';
  return second > 12 && first <= 12 ? 'month-first' : undefined;
}

const plainLetters = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase();

/** `11:42`, `11:42:30.5`, `2:05 PM`, `11.42 Uhr`, `11h42`; `Z` or `+02:00` behind it is kept. */
function readClock(text: string): string | undefined {
  const match =
    /^(\d{1,2})[:h.](\d{2})(?:[:.](\d{2})(?:[.,]\d+)?)? ?(?:(am|pm|a\.m\.|p\.m\.)|uhr|h)? ?(z|[+-]\d{2}:?\d{2})?$/i.exec(
      text.trim(),
    );
  if (!match) return undefined;
  const [, hours, minute, second = '00', half, offset] = match;
  let hour = Number(hours);
  if (half) {
    if (hour < 1 || hour > 12) return undefined;
    hour = (hour % 12) + (/^p/i.test(half) ? 12 : 0);
  }
  const clock = `${String(hour).padStart(2, '0')}:${minute!}${second === '00' ? '' : `:${second}`}`;
  const zone = offset === undefined ? '' : zoneOf(offset);
  return parseTime(`2026-01-01 ${clock}${zone}`) ? clock + zone : undefined;
}

function zoneOf(offset: string): string {
  return /^z$/i.test(offset) ? 'Z' : `${offset.slice(0, 3)}:${offset.slice(-2)}`;
}
