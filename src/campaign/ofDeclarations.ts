import type { CampaignNames, Placed } from './model.js';

/**
 * What follows from the declarations of a campaign and what their names stand for, computed once for each list of them.
 * @param compute looks at nothing else of the campaign: at no sweep
 */
export function ofDeclarations<Result>(
  compute: (campaign: CampaignNames) => Result,
): (campaign: CampaignNames) => Result {
  const known = new WeakMap<readonly Placed[], { readonly result: Result }>();
  return (campaign) => {
    let kept = known.get(campaign.declarations);
    if (!kept) known.set(campaign.declarations, (kept = { result: compute(campaign) }));
    return kept.result;
  };
}
