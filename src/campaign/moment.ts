/** One scale of time on which everything that a campaign says of one site can be put in order. */
import type { LocalTime, SiteRecord } from './model.js';
import { parseTime, resolveInstant } from './time.js';

export type WrittenTime = Pick<LocalTime, 'iso' | 'offsetMinutes'>;

/** What was measured at a time: a sweep, an electrical test. */
export interface Timed {
  /** ISO 8601, with offset where it is known; a row of a table may hold anything. */
  readonly time?: string;
  /** Milliseconds since 1970 UTC, where the zone or an offset is known. */
  readonly instant?: number;
  readonly target: { readonly site?: SiteRecord };
}

/**
 * Milliseconds since 1970 UTC, by the offset that is written, else by the zone of the site. Where that is not known, the clock of the
 * site is taken for UTC, and an offset does not count, since other times may stand without one. Of a time that the clock showed
 * twice or never, that by the offset before the change.
 */
export function momentOfTime(time: WrittenTime, site: SiteRecord | undefined): number {
  const asUtc = Date.parse(`${time.iso}Z`);
  if (site?.timezone === undefined) return asUtc;
  const found = resolveInstant(time, site.timezone);
  return found.kind === 'instant' ? found.instant : asUtc - found.offsetsMinutes[0] * 60_000;
}

/** On the same scale; -Infinity without a time that can be read. */
export function momentOf({ time, instant, target: { site } }: Timed): number {
  if (instant !== undefined && site?.timezone !== undefined) return instant;
  const local = time === undefined ? undefined : parseTime(time.slice(0, 19));
  return local ? momentOfTime(local, site) : -Infinity;
}

/** Whether something was done before, or at the very time of, a measurement; not where one of the two has no time. */
export const isDoneBefore = (done: WrittenTime | undefined, measured: Timed): boolean =>
  done !== undefined && momentOfTime(done, measured.target.site) <= momentOf(measured);

/** In order of time; what has no time comes first. */
export function byMoment(a: Timed, b: Timed): number {
  const [x, y] = [momentOf(a), momentOf(b)];
  return x === y ? 0 : x - y;
}

/** The last in time; of equal times, and without times, the last of the list. */
export const latestOf = <T extends Timed>(all: readonly T[]): T | undefined =>
  all.reduce<T | undefined>(
    (latest, each) => (latest && byMoment(each, latest) < 0 ? latest : each),
    undefined,
  );
