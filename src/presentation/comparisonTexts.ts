/** Peers, compositions and degradation in words, and as lines of a terminal. */
import type { ParameterName } from '../campaign/model.js';
import type { History, StringHistory } from '../cases/history.js';
import type { PeerGroup } from '../cases/peers.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { addressList } from './addressList.js';
import { formatDeviation, missing } from './formatNumber.js';
import { alignedRows, printable, type Column } from './terminalText.js';

/** What a composition says of a string; undefined where nothing was composed. */
export function compositionSentence({ compositions }: Evaluation, string: string): string | undefined {
  const found = compositions.get(string);
  return found?.kind === 'composed' ? found.text : undefined;
}

/** Like strings in one line, and what stands out among them in a sentence each. */
export interface PeerText {
  readonly group: string;
  readonly standsOut: readonly string[];
}

/** One a group; empty without groups. */
export function peerTexts({ peerGroups }: Evaluation): PeerText[] {
  return peerGroups.map((group) => ({
    group: printable(groupLine(group)),
    standsOut: [
      ...group.members.flatMap(({ standsOut }) => standsOut.map(({ text }) => text)),
      ...(group.shift === undefined ? [] : [group.shift]),
    ].map((text) => printable(text)),
  }));
}

/** The same as lines of a terminal. */
export function peerLines(evaluation: Evaluation): string[] {
  return peerTexts(evaluation).flatMap(({ group, standsOut }) => [
    group,
    ...standsOut.map((text) => `- ${text}`),
  ]);
}

function groupLine({ module, plane, members, spread }: PeerGroup): string {
  const names = { pmax: 'Pmax', isc: 'Isc', voc: 'Voc' } as const;
  const medians = (['pmax', 'isc', 'voc'] as const).flatMap((name) => {
    const found = spread[name];
    return found ? [`${names[name]} ${formatDeviation(found.median)}`] : [];
  });
  const usual = spread.pmax ? `; usual spread of Pmax ${(100 * spread.pmax.spread).toFixed(1)} %` : '';
  const where = plane === undefined ? '' : ` in plane ${plane}`;
  return `${members.length} strings of ${module}${where}, medians from the nameplate: ${medians.join(', ')}${usual}`;
}

const columns: readonly Column[] = [
  { title: 'string', align: 'left' },
  { title: 'years', align: 'right' },
  { title: 'Pmax', align: 'right' },
  { title: 'U (k=2)', align: 'right' },
  { title: 'Isc', align: 'right' },
  { title: 'Voc', align: 'right' },
  { title: 'FF', align: 'right' },
];

/** Change for each year of every string since the earlier campaign; empty without one. */
export function historyLines({ history }: Evaluation): string[] {
  if (!history) return [];
  const named = history.title ?? history.name ?? 'the earlier campaign';
  if (history.strings.length === 0) return [`No string has judged sweeps here and in ${printable(named)}.`];
  const { rows } = historyTable(history);
  return [
    `Change for each year at STC since ${printable(named)}`,
    ...(rows.length > 0 ? alignedRows(columns, rows).map((cells) => cells.join('  ').trimEnd()) : []),
    ...historyRemarks(history).map((remark) => `- ${remark}`),
  ].map((line) => printable(line));
}

/** One row for each string whose rate is told. */
export function historyTable({ strings }: History): { columns: readonly Column[]; rows: string[][] } {
  return { columns, rows: strings.filter(({ refused }) => refused === undefined).map(historyRow) };
}

/** Whose rate is not told, and why; what stands out; what was replaced; what else than ageing may be behind it. */
export function historyRemarks({ strings, doubt }: History): string[] {
  return [
    ...refusals(strings),
    ...strings.flatMap(({ standsOut }) => standsOut ?? []),
    ...replacedLine(strings),
    ...(doubt === undefined ? [] : [doubt]),
  ];
}

function historyRow({ string, formerly, years, rates }: StringHistory): string[] {
  const rate = (name: ParameterName): string =>
    rates[name] ? `${formatDeviation(rates[name].perYear)}/a` : missing;
  const uncertainty = rates.pmax?.uncertainty;
  return [
    formerly === string ? string : `${string} (${formerly})`,
    years!.toFixed(1),
    rate('pmax'),
    uncertainty === undefined ? missing : `± ${(100 * uncertainty).toFixed(1)} %/a`,
    rate('isc'),
    rate('voc'),
    rate('ff'),
  ];
}

/** Strings refused for the same reason are named together. */
function refusals(strings: readonly StringHistory[]): string[] {
  const groups = new Map<string, string[]>();
  for (const { string, refused } of strings)
    if (refused !== undefined) groups.set(refused, [...(groups.get(refused) ?? []), string]);
  return [...groups].map(([reason, names]) => `${addressList(names)}: ${reason}`);
}

function replacedLine(strings: readonly StringHistory[]): string[] {
  const replaced = strings.flatMap((each) => each.replaced);
  if (replaced.length === 0) return [];
  const what = replaced.length === 1 ? 'One module is' : `${replaced.length} modules are`;
  return [`${what} new since then (${replaced.join('; ')}): the rate is that of the string as it stands.`];
}
