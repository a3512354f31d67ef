import { choiceStop, tabStop } from './snippetText.js';

/**
 * A campaign to be filled in, as a snippet: what every campaign needs, in the order in which people know it. Numbers that
 * only a label, an instrument or a contract can tell are left empty; the limits are common practice, no source.
 * @param name of the campaign, in the letters of the notation
 */
export function newCampaignSnippet(name: string): string {
  return [
    `campaign ${tabStop(1, name)} "${tabStop(2)}"`,
    `  client   "${tabStop(3)}"`,
    `  operator "${tabStop(4)}"`,
    `  purpose  ${choiceStop(5, ['commissioning', 'periodic', 'fault-search'])}`,
    '',
    `site ${tabStop(6, 'site')}`,
    `  position  ${tabStop(7)} ${choiceStop(8, ['N', 'S'])}, ${tabStop(9)} ${choiceStop(10, ['E', 'W'])}`,
    `  timezone  ${tabStop(11)}   # such as Europe/London`,
    '',
    `plane ${tabStop(12, 'roof')}`,
    `  tilt    ${tabStop(13)} deg`,
    `  azimuth ${tabStop(14)} deg   # clockwise from north: 180 is south`,
    '',
    '# As printed on the label and in the data sheet of the module.',
    `module ${tabStop(15)}`,
    `  technology ${choiceStop(16, ['mono-Si', 'multi-Si', 'HJT', 'CdTe', 'CIGS'])}`,
    `  cells      ${tabStop(17)}   # in series between the terminals`,
    `  substrings ${tabStop(18, '3')}   # bypass diodes`,
    `  Pmax  ${tabStop(19)} W`,
    `  Isc   ${tabStop(20)} A`,
    `  Voc   ${tabStop(21)} V`,
    `  Imp   ${tabStop(22)} A`,
    `  Vmp   ${tabStop(23)} V`,
    `  alpha ${tabStop(24)} %/K`,
    `  beta  ${tabStop(25)} %/K`,
    `  gamma ${tabStop(26)} %/K`,
    '',
    `string ${tabStop(27, '1.01')}`,
    `  modules ${tabStop(28)} x ${tabStop(29)}`,
    `  plane   ${tabStop(30, 'roof')}`,
    '',
    `tracer ${tabStop(31, 'T1')}`,
    `  calibrated ${tabStop(32)}   # such as 2026-01-12`,
    `  voltage    ± ${tabStop(33)} %`,
    `  current    ± ${tabStop(34)} %`,
    '',
    `reference ${tabStop(35, 'RC1')}`,
    `  technology  ${choiceStop(36, ['mono-Si', 'multi-Si'])}`,
    `  calibrated  ${tabStop(37)}`,
    `  irradiance  ± ${tabStop(38)} %`,
    `  temperature ± ${tabStop(39)} K`,
    '',
    `criteria ${tabStop(40, 'acceptance')}`,
    `  Pmax       ${tabStop(41, '-5')} % ..`,
    `  irradiance ${tabStop(42, '700')} W/m2 ..`,
    '  decision   guarded',
    '',
    '$0',
    '',
  ].join('\n');
}

/** Only what the notation takes as a name; `campaign` where nothing is left. */
export function campaignName(words: string): string {
  const name = words
    .normalize('NFKD')
    .replace(/[^\w.-]+/g, '-')
    .replace(/^[-.]+|[-.]+$/g, '')
    .toLowerCase();
  return name === '' ? 'campaign' : name;
}
