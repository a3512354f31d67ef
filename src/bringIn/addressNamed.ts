import type { Campaign } from '../campaign/model.js';
import { isAddressFault, parseAddress } from '../campaign/names.js';

/** The address as the notation writes it, where its string is one of the campaign and has such a position; no near miss counts. */
export function addressNamed(text: string, campaign: Campaign): string | undefined {
  const parsed = parseAddress(text.trim());
  if (isAddressFault(parsed)) return undefined;
  const string = campaign.strings.get(parsed.string)?.record;
  if (!string) return undefined;
  const last = parsed.last ?? parsed.first;
  const count = string.modules?.count;
  return last !== undefined && count !== undefined && last > count ? undefined : parsed.text;
}
