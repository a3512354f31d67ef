/** What happened to each string, in order of time. */
import type {
  AcceptRecord,
  BlockPlace,
  Campaign,
  NoteRecord,
  Placed,
  ReplaceRecord,
  SiteRecord,
  StringRecord,
} from '../campaign/model.js';
import { momentOf, momentOfTime } from '../campaign/moment.js';
import { planeOf, siteOf } from '../campaign/sweepTarget.js';
import { stringOf } from '../campaign/names.js';
import type { CheckedSweep } from '../checks/check.js';
import { GroupedList, type Groups } from '../text/groupedList.js';

export type Happening =
  | { readonly kind: 'sweep'; readonly sweep: CheckedSweep }
  | {
      readonly kind: 'record';
      readonly record: HappeningRecord;
      readonly block: BlockPlace;
    };

export type HappeningRecord = ReplaceRecord | NoteRecord | AcceptRecord;

/**
 * What happened to the strings of a campaign: lists of one length, with an entry for each string. The entry of a string is the very same
 * list as before where nothing in it changed or moved.
 */
export interface Happenings {
  /** In the order of the campaign; the very same list as long as the declarations are. */
  readonly strings: readonly string[];
  readonly sweeps: readonly (readonly CheckedSweep[])[];
  readonly records: readonly (readonly Placed<HappeningRecord>[])[];
  /** Sweeps and records of one string together, in reading order. */
  readonly together: (at: number) => readonly Happening[];
}

/** What happened to each string of one campaign, again and again as few of its sweeps and records change. */
export class HappeningsByString {
  readonly #sweeps = new GroupedList(({ address }: CheckedSweep) => stringOf(address));
  readonly #records = new GroupedList(({ record }: Placed) =>
    isHappening(record) ? record.address?.string : undefined,
  );
  readonly #sweepsOf = new Aligned<CheckedSweep>();
  readonly #recordsOf = new Aligned<Placed>();
  #declarations: Campaign['declarations'] | undefined;
  #strings: readonly string[] = [];

  of(campaign: Campaign, all: readonly CheckedSweep[]): Happenings {
    if (campaign.declarations !== this.#declarations) {
      this.#declarations = campaign.declarations;
      this.#strings = [...campaign.strings.keys()];
    }
    const strings = this.#strings;
    const sweeps = this.#sweepsOf.of(strings, this.#sweeps.of(all));
    const records = this.#recordsOf.of(
      strings,
      this.#records.of(campaign.declarations),
    ) as readonly (readonly Placed<HappeningRecord>[])[];
    const order = new ReadingOrder(campaign);
    return { strings, sweeps, records, together: (at) => together(sweeps[at]!, records[at]!, order) };
  }
}

const none: readonly never[] = [];

/** Groups brought into the order of some keys. */
class Aligned<Item> {
  #keys: readonly string[] | undefined;
  #grouped: readonly string[] | undefined;
  /** For each of the keys the place of its group, -1 where there is none. */
  #places: readonly number[] = [];

  of(keys: readonly string[], groups: Groups<Item, string>): readonly (readonly Item[])[] {
    if (keys !== this.#keys || groups.keys !== this.#grouped) {
      const index = new Map(groups.keys.map((key, at) => [key, at]));
      this.#places = keys.map((key) => index.get(key) ?? -1);
      [this.#keys, this.#grouped] = [keys, groups.keys];
    }
    return this.#places.map((place) => (place < 0 ? none : groups.lists[place]!));
  }
}

const isHappening = (record: Placed['record']): record is HappeningRecord =>
  record.kind === 'replace' || record.kind === 'accept' || record.kind === 'note';

const keyOf = ({ file, startLine }: BlockPlace): string => `${startLine} ${file}`;

/** Which block stands where in the campaign, worked out when first asked for. */
class ReadingOrder {
  #places: ReadonlyMap<string, number> | undefined;

  constructor(readonly campaign: Campaign) {}

  of(block: BlockPlace): number {
    this.#places ??= new Map(this.campaign.entries.map((entry, at) => [keyOf(entry.block), at]));
    return this.#places.get(keyOf(block))!;
  }
}

function together(
  sweeps: readonly CheckedSweep[],
  records: readonly Placed<HappeningRecord>[],
  order: ReadingOrder,
): Happening[] {
  const all: Happening[] = [
    ...sweeps.map((sweep): Happening => ({ kind: 'sweep', sweep })),
    ...records.map(({ record, block }): Happening => ({ kind: 'record', record, block })),
  ];
  if (sweeps.length === 0 || records.length === 0) return all;
  const blockOf = (each: Happening): BlockPlace => (each.kind === 'sweep' ? each.sweep.block : each.block);
  return all
    .map((each) => ({ each, at: order.of(blockOf(each)) }))
    .sort((a, b) => a.at - b.at)
    .map(({ each }) => each);
}

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
