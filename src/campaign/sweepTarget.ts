import type {
  Address,
  Campaign,
  CriteriaRecord,
  ElectricalTestRecord,
  ModuleRecord,
  Name,
  Placed,
  PlaneRecord,
  ReplaceRecord,
  StringRecord,
  SweepRecord,
  SweepTableRecord,
  SweepTarget,
} from './model.js';
import { compareTimes } from './time.js';
import { groupBy } from '../text/groups.js';

export type AddressOnString = Pick<Address, 'string' | 'first' | 'last'>;

/**
 * What a sweep was taken on and judged by. A sweep of a table gives the address and the time of its row.
 * @param time ISO local time, to tell which module stood at a position that was re-equipped with another type
 */
export function targetOf(
  record: SweepRecord | SweepTableRecord,
  campaign: Campaign,
  address: AddressOnString | undefined = record.kind === 'sweep' ? record.address : undefined,
  time: string | undefined = record.kind === 'sweep' ? record.time?.iso : undefined,
): SweepTarget {
  return resolveTarget(record, campaign, address, time);
}

/** What an electrical test was taken on and judged by. */
export function targetOfTest(record: ElectricalTestRecord, campaign: Campaign): SweepTarget {
  return resolveTarget(record, campaign, record.address, record.time?.iso);
}

function resolveTarget(
  record: Pick<SweepRecord, 'with'> & Partial<Pick<SweepRecord, 'criteria' | 'layout'>>,
  campaign: Campaign,
  address: AddressOnString | undefined,
  time: string | undefined,
): SweepTarget {
  const string = address && campaign.strings.get(address.string)?.record;
  const plane = planeOf(string, campaign);
  const instruments = record.with.map((name) => campaign.instruments.get(name.text)?.record);
  return {
    string,
    module: moduleOf(string, campaign, address, time),
    plane,
    site: siteOf(plane, campaign),
    criteria: criteriaOf(record.criteria, string, campaign),
    layout: record.layout && campaign.layouts.get(record.layout.text)?.record,
    tracer: instruments.find((each) => each?.kind === 'tracer'),
    reference: instruments.find((each) => each?.kind === 'reference'),
    wholeString: address !== undefined && address.first === undefined,
    seriesModules: seriesModules(string, address),
    parallelStrings: address?.first === undefined ? (string?.parallel ?? 1) : 1,
  };
}

/** The string's count, 1, or the length of the section; undefined where it reaches beyond the string. */
function seriesModules(
  string: StringRecord | undefined,
  address: AddressOnString | undefined,
): number | undefined {
  const count = string?.modules?.count;
  if (address?.first === undefined) return count;
  const last = address.last ?? address.first;
  return count !== undefined && last > count ? undefined : last - address.first + 1;
}

/** The plane it names, or the only one there is. */
export function planeOf(string: StringRecord | undefined, campaign: Campaign): PlaneRecord | undefined {
  return string?.plane ? campaign.planes.get(string.plane.text)?.record : only(campaign.planes);
}

export function siteOf(plane: PlaneRecord | undefined, campaign: Campaign) {
  return plane?.site ? campaign.sites.get(plane.site.text)?.record : only(campaign.sites);
}

/** The nearest that is named, from the sweep outwards; else the only ones there are. */
export function criteriaOf(
  named: Name | undefined,
  string: StringRecord | undefined,
  campaign: Campaign,
): CriteriaRecord | undefined {
  const name = named ?? string?.criteria ?? campaign.campaign?.record.criteria;
  return name ? campaign.criteria.get(name.text)?.record : only(campaign.criteria);
}

function only<T extends Placed['record']>(records: ReadonlyMap<string, Placed<T>>): T | undefined {
  if (records.size !== 1) return undefined;
  for (const placed of records.values()) return placed.record;
  return undefined;
}

/** The string's type; for one module, the type it was replaced with before the sweep. */
function moduleOf(
  string: StringRecord | undefined,
  campaign: Campaign,
  address: AddressOnString | undefined,
  time: string | undefined,
): ModuleRecord | undefined {
  let type = string?.modules?.type.text;
  if (address?.first !== undefined && (address.last ?? address.first) === address.first) {
    for (const replaced of typeChanges(campaign).get(address.string) ?? []) {
      const { first, last = first } = replaced.address;
      if (first === undefined || address.first < first || address.first > last!) continue;
      if (time !== undefined && replaced.time && replaced.time.iso <= time) type = replaced.type!.new.text;
    }
  }
  return type === undefined ? undefined : campaign.modules.get(type)?.record;
}

const typeChangesOf = new WeakMap<Campaign, ReadonlyMap<string, readonly ReplaceRecord[]>>();

/** Replacements by another type, by string, in the order of time. */
function typeChanges(campaign: Campaign): ReadonlyMap<string, readonly ReplaceRecord[]> {
  let known = typeChangesOf.get(campaign);
  if (!known) {
    const records = campaign.entries.map(({ record }) => record);
    const changes = records.filter((record) => record.kind === 'replace').filter((record) => record.type);
    changes.sort((a, b) => compareTimes(a.time?.iso ?? '', b.time?.iso ?? ''));
    known = groupBy(changes, ({ address }) => address.string);
    typeChangesOf.set(campaign, known);
  }
  return known;
}
