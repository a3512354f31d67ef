import { momentOfTime, type WrittenTime } from './moment.js';
import type {
  Address,
  CampaignNames,
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
import { ofDeclarations } from './ofDeclarations.js';
import { groupBy } from '../text/groups.js';

export type AddressOnString = Pick<Address, 'string' | 'first' | 'last'>;

/**
 * What a sweep was taken on and judged by. A sweep of a table gives the address and the time of its row.
 * @param time to tell which module stood at a position that was re-equipped with another type
 */
export function targetOf(
  record: SweepRecord | SweepTableRecord,
  campaign: CampaignNames,
  address: AddressOnString | undefined = record.kind === 'sweep' ? record.address : undefined,
  time: WrittenTime | undefined = record.kind === 'sweep' ? record.time : undefined,
): SweepTarget {
  return resolveTarget(record, campaign, address, time);
}

/** What an electrical test was taken on and judged by. */
export function targetOfTest(record: ElectricalTestRecord, campaign: CampaignNames): SweepTarget {
  return resolveTarget(record, campaign, record.address, record.time);
}

function resolveTarget(
  record: Pick<SweepRecord, 'with'> & Partial<Pick<SweepRecord, 'criteria' | 'layout'>>,
  campaign: CampaignNames,
  address: AddressOnString | undefined,
  time: WrittenTime | undefined,
): SweepTarget {
  const string = address && campaign.strings.get(address.string)?.record;
  const plane = planeOf(string, campaign);
  const site = siteOf(plane, campaign);
  const instruments = record.with.map((name) => campaign.instruments.get(name.text)?.record);
  return {
    string,
    module: moduleOf(string, campaign, address, time && momentOfTime(time, site)),
    plane,
    site,
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
export function planeOf(string: StringRecord | undefined, campaign: CampaignNames): PlaneRecord | undefined {
  return string?.plane ? campaign.planes.get(string.plane.text)?.record : only(campaign.planes);
}

export function siteOf(plane: PlaneRecord | undefined, campaign: CampaignNames) {
  return plane?.site ? campaign.sites.get(plane.site.text)?.record : only(campaign.sites);
}

/** The nearest that is named, from the sweep outwards; else the only ones there are. */
export function criteriaOf(
  named: Name | undefined,
  string: StringRecord | undefined,
  campaign: CampaignNames,
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
  campaign: CampaignNames,
  address: AddressOnString | undefined,
  moment: number | undefined,
): ModuleRecord | undefined {
  let type = string?.modules?.type.text;
  if (
    moment !== undefined &&
    address?.first !== undefined &&
    (address.last ?? address.first) === address.first
  ) {
    for (const change of typeChanges(campaign).get(address.string) ?? []) {
      const { first, last = first } = change.record.address;
      if (first === undefined || address.first < first || address.first > last!) continue;
      if (change.moment <= moment) type = change.record.type!.new.text;
    }
  }
  return type === undefined ? undefined : campaign.modules.get(type)?.record;
}

/** A replacement by another type, and when it was done. */
interface TypeChange {
  readonly record: ReplaceRecord;
  readonly moment: number;
}

/** Those that have a time, by string, in the order of time. */
const typeChanges = ofDeclarations((campaign): ReadonlyMap<string, readonly TypeChange[]> => {
  const changes = campaign.declarations.flatMap(({ record }): TypeChange[] => {
    if (record.kind !== 'replace' || !record.type || !record.time) return [];
    const string = campaign.strings.get(record.address.string)?.record;
    return [{ record, moment: momentOfTime(record.time, siteOf(planeOf(string, campaign), campaign)) }];
  });
  changes.sort((a, b) => a.moment - b.moment);
  return groupBy(changes, ({ record }) => record.address.string);
});
