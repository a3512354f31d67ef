import { askedKinds, type Asked, type Found, type TableFacts } from './tableFacts.js';

/**
 * What the sources of one file tell together; the first one weighs most. Two that name different strings settle nothing; of two
 * times the first is taken and the other one told, unless they agree to the minute and the later one only knows less.
 */
export function mergedFacts(sources: readonly TableFacts[]): {
  readonly facts: TableFacts;
  readonly remarks: readonly string[];
} {
  const remarks: string[] = [];
  const facts = Object.fromEntries(
    askedKinds.map((asked) => [
      asked,
      merged(
        asked,
        sources.map((each) => each[asked]),
        remarks,
      ),
    ]),
  ) as Record<Asked, Found>;
  return { facts, remarks };
}

function merged(asked: Asked, found: readonly Found[], remarks: string[]): Found {
  const certain = found.flatMap(({ fact }) => (fact ? [fact] : []));
  const open = found.find(({ suggestion, withoutKind }) => suggestion ?? withoutKind);
  const doubt = found.find((each) => each.doubt !== undefined)?.doubt;
  const [first] = certain;
  if (!first) return open ?? (doubt === undefined ? {} : { doubt });
  // `1.1` and `1.10` are two strings, whatever letters they share.
  const isOther = (text: string | undefined): boolean =>
    text !== first.text && !(asked === 'time' && agree(first.text, text));
  const other = certain.find(({ text }) => isOther(text));
  if (asked === 'address') {
    if (other)
      return {
        suggestion: first.text,
        doubt: `${first.source} says ${first.text!}, ${other.source} ${other.text!}`,
      };
    // A position that only one of them seems to know.
    const closer = found.find(({ suggestion }) => suggestion?.startsWith(`${first.text!}/`));
    if (closer) return closer;
  }
  if (asked === 'time' && other && first.text !== undefined)
    remarks.push(`The time is that of ${first.source}; ${other.source} says ${other.text!}.`);
  return { fact: first };
}

/** `2026-05-14 11:42:30` and `2026-05-14 11:42`. */
const agree = (one = '', other = ''): boolean => one.startsWith(other) || other.startsWith(one);
