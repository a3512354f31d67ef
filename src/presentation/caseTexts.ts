/** What is said of a case in words, alike in every output. */
import type { CaseEvent, StringCase } from '../cases/stringCase.js';
import { addressList } from './addressList.js';
import { timeText } from './sweepTexts.js';

/** Is there something to be said of it: a fault that is or was there? */
export const isNoted = ({ state }: StringCase): boolean => state !== 'sound' && state !== 'not known';

/** `failed at 2026-05-14 11:42, 1.03/11 replaced at 2026-05-14 13:10, counter-check passed at 2026-05-14 13:42` */
export function caseStory({ events, openedBy, closedBy, state }: StringCase): string {
  const replaced = events.filter(({ kind }) => kind === 'replaced');
  const accepted = events.filter(({ kind }) => kind === 'accepted');
  const parts = [
    ...(openedBy
      ? [`${openedBy.analysis.verdict.endsWith('fail') ? 'failed' : 'in doubt by its shape'}${at(openedBy)}`]
      : []),
    ...replaced.map((event) => `${event.address} replaced${at(event)}`),
    ...(closedBy
      ? [`${replaced.length > 0 ? 'counter-check' : 'repeated sweep'} passed${at(closedBy)}`]
      : []),
    ...(state === 'waived' ? accepted.map(({ text }) => text.charAt(0).toLowerCase() + text.slice(1)) : []),
  ];
  return parts.join(', ');
}

const at = ({ time }: Pick<CaseEvent, 'time'>): string => (time === undefined ? '' : ` at ${timeText(time)}`);

/** `faulty 1.03/11; suspect 1.03/12 and 1.03/13; 16 cleared`; empty where no position is known. */
export function evidenceLine({ string, modules }: StringCase): string {
  const of = (status: string): string[] =>
    modules.flatMap((each) => (each.status === status ? [`${string}/${each.position}`] : []));
  const named = (['faulty', 'contradictory', 'replaced'] as const).flatMap((status) => {
    const addresses = of(status);
    return addresses.length > 0 ? [`${status} ${addressList(addresses)}`] : [];
  });
  const counted = (['suspect', 'cleared', 'untested'] as const).flatMap((status) => {
    const { length } = of(status);
    return length > 0 ? [`${length} ${status}`] : [];
  });
  return [...named, ...counted].join('; ');
}
