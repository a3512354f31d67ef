/** A site, a plane and criteria as the notation gives them. */
import { resolveCampaign } from '../../src/campaign/resolveCampaign.js';
import type { Campaign } from '../../src/campaign/model.js';
import { parseDocument } from '../../src/syntax/document.js';

export function campaignOf(text: string): Campaign {
  const { campaign, problems } = resolveCampaign({ file: 'f', document: parseDocument(text), includes: [] });
  const errors = problems.filter(({ severity }) => severity === 'error');
  if (errors.length > 0) throw new Error(errors.map(({ message }) => message).join('\n'));
  return campaign;
}

export interface Plant {
  readonly position?: string;
  readonly timezone?: string;
  readonly tilt?: number;
  readonly azimuth?: number;
  readonly criteria?: string;
}

export function plant(given: Plant) {
  const { position = '52.4012 N, 0.2618 E', timezone = 'Europe/London', tilt = 12, azimuth = 174 } = given;
  const campaign = campaignOf(
    [
      'site s',
      `  position ${position}`,
      `  timezone ${timezone}`,
      'plane p',
      `  tilt ${tilt} deg`,
      `  azimuth ${azimuth} deg`,
      'criteria c',
      given.criteria ?? '  irradiance 700 W/m2 ..\n  incidence .. 45 deg',
    ].join('\n') + '\n',
  );
  return {
    site: campaign.sites.get('s')!.record,
    plane: campaign.planes.get('p')!.record,
    criteria: campaign.criteria.get('c')!.record,
  };
}
