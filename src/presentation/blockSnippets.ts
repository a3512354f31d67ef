/**
 * Whole blocks with tab stops. Units and the usual limits stand there; numbers that only a label or an instrument can tell are
 * left empty, so that nothing invented is left behind.
 */
import type { Campaign } from '../campaign/model.js';
import { choiceStop, tabStop } from './snippetText.js';

export interface BlockSnippet {
  readonly block: string;
  /** A few words: what is in it. */
  readonly detail: string;
  /** Lines, the first at column 0. */
  readonly lines: readonly string[];
}

export interface SnippetSurroundings {
  readonly campaign?: Campaign;
  /** Day of the last record written above, as `2026-05-14`. */
  readonly lastDay?: string;
}

export function blockSnippets({ campaign, lastDay = '' }: SnippetSurroundings): readonly BlockSnippet[] {
  const names = (map: ReadonlyMap<string, unknown> | undefined): string[] =>
    [...(map?.keys() ?? [])].slice(0, 40);
  const instruments = [...(campaign?.instruments.values() ?? [])].map(({ record }) => record);
  const ofKind = (kind: string) =>
    instruments.filter((each) => each.kind === kind).map(({ name }) => name.text);
  const used = [ofKind('tracer')[0], ofKind('reference')[0]].filter((name) => name !== undefined);
  const strings = names(campaign?.strings);
  const at = `at ${tabStop(2, lastDay)} ${tabStop(3)}`;
  const withUsed = (stop: number): string => `  with        ${tabStop(stop, used.join(', '))}`;
  const snippet = (block: string, detail: string, ...lines: string[]): BlockSnippet => ({
    block,
    detail,
    lines,
  });
  return [
    snippet(
      'campaign',
      'with client and purpose',
      `campaign ${tabStop(1)} "${tabStop(2)}"`,
      `  client  "${tabStop(3)}"`,
      `  purpose ${choiceStop(4, ['commissioning', 'periodic', 'fault-search'])}`,
    ),
    snippet(
      'site',
      'with position and time zone',
      `site ${tabStop(1)}`,
      `  position  ${tabStop(2)} ${choiceStop(3, ['N', 'S'])}, ${tabStop(4)} ${choiceStop(5, ['E', 'W'])}`,
      `  elevation ${tabStop(6)} m`,
      `  timezone  ${tabStop(7)}`,
    ),
    snippet(
      'plane',
      'with tilt and azimuth',
      `plane ${tabStop(1)}`,
      `  tilt    ${tabStop(2)} deg`,
      `  azimuth ${tabStop(3)} deg`,
    ),
    moduleSnippet(tabStop(1)),
    snippet(
      'string',
      'with its modules',
      `string ${tabStop(1)}`,
      `  modules ${tabStop(2)} x ${choiceStop(3, names(campaign?.modules))}`,
      ...(names(campaign?.planes).length > 0 ? [`  plane   ${choiceStop(4, names(campaign?.planes))}`] : []),
    ),
    snippet(
      'tracer',
      'with calibration and accuracy',
      `tracer ${tabStop(1)}`,
      `  calibrated ${tabStop(2)}`,
      `  voltage    ± ${tabStop(3)} %`,
      `  current    ± ${tabStop(4)} %`,
    ),
    snippet(
      'reference',
      'with calibration and accuracy',
      `reference ${tabStop(1)}`,
      `  technology  ${choiceStop(2, ['mono-Si', 'multi-Si'])}`,
      `  calibrated  ${tabStop(3)}`,
      `  irradiance  ± ${tabStop(4)} %`,
      `  temperature ± ${tabStop(5)} K`,
    ),
    snippet(
      'layout',
      'with the columns of voltage and current',
      `layout ${tabStop(1)}`,
      `  delimiter ${choiceStop(2, ['semicolon', 'comma', 'tab', 'pipe', 'space'])}`,
      `  decimal   ${choiceStop(3, ['comma', 'point'])}`,
      `  voltage   "${tabStop(4)}" V`,
      `  current   "${tabStop(5)}" A`,
    ),
    criteriaSnippet(tabStop(1, 'acceptance')),
    snippet(
      'sweep',
      'with conditions and table',
      `sweep ${strings.length > 40 ? tabStop(1) : choiceStop(1, strings)} ${at}`,
      `  irradiance  ${tabStop(4)} W/m2`,
      `  temperature ${tabStop(5)} degC ${choiceStop(6, ['cell', 'module'])}`,
      `  data        "${tabStop(7)}"`,
      withUsed(8),
    ),
    snippet(
      'sweeps',
      'with the columns of address and time',
      `sweeps from "${tabStop(1)}"`,
      `  address "${tabStop(2)}"`,
      `  time    "${tabStop(3)}"`,
      `  with    ${tabStop(4, used.join(', '))}`,
    ),
    snippet(
      'replace',
      'with serial numbers and reason',
      `replace ${tabStop(1)}/ ${at}`,
      `  serial "${tabStop(4)}" -> "${tabStop(5)}"`,
      `  reason "${tabStop(6)}"`,
    ),
    snippet(
      'meter',
      'with readings and conditions',
      `meter ${tabStop(1)} ${at}`,
      `  Voc         ${tabStop(4)} V`,
      `  Isc         ${tabStop(5)} A`,
      `  irradiance  ${tabStop(6)} W/m2`,
      `  temperature ${tabStop(7)} degC ${choiceStop(8, ['cell', 'module'])}`,
      withUsed(9),
    ),
    snippet(
      'insulation',
      'with reading and test voltage',
      `insulation ${tabStop(1)} ${at}`,
      `  resistance ${tabStop(4)} Mohm`,
      `  voltage    ${tabStop(5, '1000')} V`,
    ),
    snippet(
      'continuity',
      'with its reading',
      `continuity ${tabStop(1)} ${at}`,
      `  resistance ${tabStop(4)} ohm`,
      `  result     ${choiceStop(5, ['continuous', 'open'])}`,
    ),
    snippet(
      'polarity',
      'with what was found',
      `polarity ${tabStop(1)} ${at}`,
      `  result ${choiceStop(4, ['correct', 'reversed'])}`,
    ),
    snippet('accept', 'with reason and role', `accept ${tabStop(1)} "${tabStop(2)}" by "${tabStop(3)}"`),
    snippet('note', 'on a device', `note ${tabStop(1)} ${at} "${tabStop(4)}"`),
  ];
}

export function moduleSnippet(name: string): BlockSnippet {
  const nameplate = [
    ['Pmax', 'W'],
    ['Isc', 'A'],
    ['Voc', 'V'],
    ['Imp', 'A'],
    ['Vmp', 'V'],
    ['alpha', '%/K'],
    ['beta', '%/K'],
    ['gamma', '%/K'],
  ] as const;
  return {
    block: 'module',
    detail: 'with its nameplate',
    lines: [
      `module ${name}`,
      `  technology ${choiceStop(2, ['mono-Si', 'multi-Si', 'HJT', 'CdTe', 'CIGS'])}`,
      `  cells      ${tabStop(3)}`,
      `  substrings ${tabStop(4, '3')}`,
      ...nameplate.map(([symbol, unit], index) => `  ${symbol.padEnd(10)} ${tabStop(5 + index)} ${unit}`),
    ],
  };
}

/** The limits are usual ones (common practice, no source), to be agreed between the parties. */
export function criteriaSnippet(name: string): BlockSnippet {
  return {
    block: 'criteria',
    detail: 'with the usual limits and conditions',
    lines: [
      `criteria ${name}`,
      `  procedure  ${choiceStop(2, ['auto', 'IEC60891-1', 'IEC60891-2'])}`,
      `  Pmax       ${tabStop(3, '-5 %')} ..`,
      `  Isc        ${tabStop(4, '-5 % .. 5 %')}`,
      `  Voc        ${tabStop(5, '-3 % .. 3 %')}`,
      `  irradiance ${tabStop(6, '700 W/m2')} ..`,
      `  decision   ${choiceStop(7, ['guarded', 'simple'])}`,
    ],
  };
}
