import type { StringCase } from '../cases/stringCase.js';
import type { StringRecord } from '../campaign/model.js';
import type { Evaluation } from '../evaluation/evaluation.js';
import { addressList } from './addressList.js';
import { stateMark, stateOrder } from './caseWords.js';
import { countsLine } from './verdictWords.js';

/** A line of text above a block, and what opens when it is pressed. */
export interface Lens {
  readonly line: number;
  readonly text: string;
  readonly tooltip: string;
  readonly opens: { readonly view: 'campaign' } | { readonly view: 'string'; readonly string: string };
}

/** Longer texts are cut: the panel has them whole. */
const mostCharacters = 110;

/** Above the campaign its counts, above each string the state of its case and what to do next. */
export function lensesOf(evaluation: Evaluation, file: string): Lens[] {
  const cases = new Map(evaluation.cases.map((each) => [each.string, each]));
  return evaluation.campaign.entries.flatMap(({ record, block }): Lens[] => {
    if (block.file !== file) return [];
    const line = block.startLine;
    if (record.kind === 'campaign') {
      const text = countsLine(evaluation.counts);
      return [{ line, text, tooltip: 'Show the whole campaign', opens: { view: 'campaign' } }];
    }
    return record.kind === 'string' ? stringLens(record, line, cases) : [];
  });
}

function stringLens(record: StringRecord, line: number, cases: ReadonlyMap<string, StringCase>): Lens[] {
  const known = record.names.flatMap((name) => cases.get(name) ?? []);
  const [first] = known;
  if (!first) return [];
  const tooltip = 'Show the string with all its sweeps';
  if (record.names.length === 1) {
    const mark = stateMark(first.state);
    const next = first.proposal ? `: ${first.proposal.text}` : '';
    const text = shortened(`${mark.symbol} ${mark.word}${next}`);
    return [{ line, text, tooltip, opens: { view: 'string', string: first.string } }];
  }
  const worst = [...known].sort((a, b) => stateOrder.indexOf(a.state) - stateOrder.indexOf(b.state))[0]!;
  const counts = stateOrder.flatMap((state) => {
    const strings = known.filter((each) => each.state === state).map(({ string }) => string);
    if (strings.length === 0) return [];
    const which = state === 'sound' ? '' : ` (${addressList(strings)})`;
    return [`${strings.length} ${stateMark(state).word}${which}`];
  });
  const text = shortened(`${known.length} of ${record.names.length} strings measured: ${counts.join(', ')}`);
  return [{ line, text, tooltip, opens: { view: 'string', string: worst.string } }];
}

const shortened = (text: string): string =>
  text.length > mostCharacters ? `${text.slice(0, mostCharacters - 1).trimEnd()}…` : text;
