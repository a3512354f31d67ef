import type { ElectricalTest } from '../electricalTests/electricalTest.js';
import { electricalItem } from './electricalModel.js';
import { escapeMarkdown } from './markdownText.js';

/** Verdict, reading and reasons of one electrical test. */
export function electricalMarkdown(test: ElectricalTest): string {
  const { verdict, address, kind, reading, reasons, danger, replaced } = electricalItem(test);
  const later = replaced ? ' A later test stands for it.' : '';
  return [
    `${verdict.symbol} **${verdict.word}**: ${escapeMarkdown(`${kind} ${address}, ${reading}`)}.${later}`,
    reasons.map((text) => `- ${escapeMarkdown(text)}`).join('\n'),
    ...(danger === undefined ? [] : [`**Danger.** ${escapeMarkdown(danger)}`]),
  ].join('\n\n');
}
