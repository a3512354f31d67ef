/** The few texts that the sentences of a case are made of. */
import { signedPercent } from '../analysis/percentWords.js';
import type { CheckedSweep } from '../checks/check.js';

/** `-6.6 %`, `+0.7 %`; `?` where not known. */
export function percentText(fraction: number | undefined): string {
  return fraction === undefined || !Number.isFinite(fraction) ? '?' : signedPercent(fraction);
}

/** `2026-05-14 11:42`, as written; empty where no time is. */
export function momentText(time: string | undefined): string {
  return time === undefined ? '' : time.slice(0, 16).replace('T', ' ');
}

/** `1.03/10-18 at 2026-05-14 12:24`. */
export function sweepName({ address, time }: Pick<CheckedSweep, 'address' | 'time'>): string {
  return time === undefined ? address : `${address} at ${momentText(time)}`;
}

export const pmaxText = ({ analysis }: CheckedSweep): string =>
  `Pmax ${percentText(analysis.deviation.pmax)}`;

/** How many of a list are named. */
const named = 6;

/** `a, b and c`; of many the first few. */
export function listText(items: readonly string[]): string {
  const shown = items.length > named + 1 ? items.slice(0, named) : items;
  const others = items.length - shown.length;
  if (others > 0) return `${shown.join(', ')} and ${others} others`;
  return shown.length < 2 ? shown.join('') : `${shown.slice(0, -1).join(', ')} and ${shown.at(-1)!}`;
}
