/** References: what a word at the cursor names, and where that was written. */
import { stringOf } from '../campaign/names.js';
import type { Campaign, CampaignEntry, NamedKind, Placed } from '../campaign/model.js';
import type { Place } from '../text/place.js';
import { shiftRange } from '../text/place.js';
import type { LineContext } from './lineContext.js';

/** Kinds that the token at the cursor may refer to; none when it is no reference. */
export function referredKinds({
  block,
  property,
  isHeader,
  index,
  token,
  tokens,
}: LineContext): readonly NamedKind[] {
  if (!block || !token || token.kind !== 'word') return [];
  if (isHeader) return index === 1 && namesAnAddress(block.header) ? ['string'] : [];
  if (!property || index < 1) return [];
  switch (property.form.kind) {
    case 'reference':
    case 'references':
      return property.form.to;
    case 'typeChange':
      return ['module'];
    case 'modules':
      return index === tokens.length - 1 && index > 1 ? ['module'] : [];
    default:
      return [];
  }
}

export function namesAnAddress(header: string): boolean {
  return header === 'addressAtTime' || header === 'note' || header === 'accept';
}

/** The record of that name and one of these kinds. An address finds its string. */
export function findNamed(campaign: Campaign, kinds: readonly NamedKind[], text: string): Placed | undefined {
  for (const kind of kinds) {
    const found = mapOf(campaign, kind).get(kind === 'string' ? stringOf(text) : text);
    if (found && (found.record.kind === kind || kind === 'string')) return found;
  }
  return undefined;
}

/** Every name of a kind, in reading order, with its record. */
export function namesOf(campaign: Campaign, kind: NamedKind): readonly (readonly [string, Placed])[] {
  return [...mapOf(campaign, kind)].filter(([, placed]) => placed.record.kind === kind);
}

function mapOf(campaign: Campaign, kind: NamedKind): ReadonlyMap<string, Placed> {
  switch (kind) {
    case 'site':
      return campaign.sites;
    case 'plane':
      return campaign.planes;
    case 'module':
      return campaign.modules;
    case 'string':
      return campaign.strings;
    case 'tracer':
    case 'reference':
      return campaign.instruments;
    case 'layout':
      return campaign.layouts;
    case 'criteria':
      return campaign.criteria;
    case 'campaign':
      return new Map(campaign.campaign ? [[campaign.campaign.record.name.text, campaign.campaign]] : []);
  }
}

/** Where a record was named, or its header line. */
export function placeOf({ record, block }: Placed<CampaignEntry>): Place {
  const range = 'name' in record ? record.name.range : record.headerRange;
  return { file: block.file, range: shiftRange(range, block.startLine) };
}
