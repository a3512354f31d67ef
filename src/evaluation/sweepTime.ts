import { formatOffset, resolveInstant } from '../campaign/time.js';
import type { LocalTime, SiteRecord } from '../campaign/model.js';

export interface SweepTime {
  /** ISO 8601, with offset when it is known. */
  readonly time?: string;
  /** Undefined where the clock of the site showed this time twice or never, which checkReferences.ts tells. */
  readonly instant?: number;
}

/** The moment of a sweep, from its written time and the zone of its site. */
export function sweepTime(
  local: Omit<LocalTime, 'range'> | undefined,
  site: SiteRecord | undefined,
): SweepTime {
  if (!local) return {};
  if (local.offsetMinutes !== undefined) {
    const time = local.iso + formatOffset(local.offsetMinutes);
    return { time, instant: Date.parse(time) };
  }
  if (site?.timezone === undefined) return { time: local.iso };
  const resolved = resolveInstant(local, site.timezone);
  return resolved.kind === 'instant'
    ? { time: resolved.iso, instant: resolved.instant }
    : { time: local.iso };
}
