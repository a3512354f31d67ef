/** What happened to each string, in order of time. */
import type {
  AcceptRecord,
  BlockPlace,
  Campaign,
  NoteRecord,
  ReplaceRecord,
  SiteRecord,
  StringRecord,
} from '../campaign/model.js';
import { momentOf, momentOfTime } from '../campaign/moment.js';
import { planeOf, siteOf } from '../campaign/sweepTarget.js';
import { stringOf } from '../campaign/names.js';
import type { CheckedSweep } from '../checks/check.js';

export type Happening =
  | { readonly kind: 'sweep'; readonly sweep: CheckedSweep }
  | {
      readonly kind: 'record';
      readonly record: ReplaceRecord | NoteRecord | AcceptRecord;
      readonly block: BlockPlace;
    };

/** By string, in reading order. Strings that the campaign does not describe are left out. */
export function happeningsByString(
  campaign: Campaign,
  sweeps: readonly CheckedSweep[],
): ReadonlyMap<string, readonly Happening[]> {
  const byString = new Map<string, Happening[]>();
  const add = (name: string, happening: Happening): void => {
    const known = byString.get(name);
    if (known) known.push(happening);
    else byString.set(name, [happening]);
  };
  // Both lists are in reading order.
  let at = 0;
  for (const { record, block } of campaign.entries) {
    if (record.kind === 'sweep' || record.kind === 'sweeps') {
      for (; at < sweeps.length && isOf(sweeps[at]!, block); at++)
        add(stringOf(sweeps[at]!.address), { kind: 'sweep', sweep: sweeps[at]! });
    } else if (record.kind === 'replace' || record.kind === 'accept' || record.kind === 'note') {
      if (record.address) add(record.address.string, { kind: 'record', record, block });
    }
  }
  for (const name of byString.keys()) if (!campaign.strings.has(name)) byString.delete(name);
  return byString;
}

const isOf = ({ block }: CheckedSweep, { file, startLine }: BlockPlace): boolean =>
  block.startLine === startLine && block.file === file;

/**
 * In order of time; equal times in reading order. What has no time keeps its place in the text behind what was read
 * before it, save an acceptance without one, which stands for the campaign as a whole and comes last.
 */
export function inTime(
  happenings: readonly Happening[],
  string: StringRecord,
  campaign: Campaign,
): Happening[] {
  const site = siteOf(planeOf(string, campaign), campaign);
  let before = -Infinity;
  const timed = happenings.map((happening) => {
    const isForAll =
      happening.kind === 'record' && happening.record.kind === 'accept' && !happening.record.time;
    const moment = isForAll ? Infinity : (momentOfHappening(happening, site) ?? before);
    if (!isForAll) before = Math.max(before, moment);
    return { happening, moment };
  });
  return timed
    .sort((a, b) => (a.moment === b.moment ? 0 : a.moment < b.moment ? -1 : 1))
    .map((each) => each.happening);
}

function momentOfHappening(happening: Happening, site: SiteRecord | undefined): number | undefined {
  if (happening.kind === 'sweep') {
    const moment = momentOf(happening.sweep);
    return Number.isFinite(moment) ? moment : undefined;
  }
  const { record } = happening;
  return record.time && momentOfTime(record.time, site);
}
