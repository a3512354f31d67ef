/** Names and addresses, as drawings write them. */
import { codePointName } from '../syntax/characters.js';
import type { Address, Name } from './model.js';
import { shorten, type ValueReader } from './valueReader.js';

const namePattern = /^[\p{L}\p{N}_][\p{L}\p{N}\p{M}._-]*$/u;
export const longestName = 100;

/** What is wrong with a name, in words; undefined when nothing is. */
export function faultOfName(text: string): string | undefined {
  if (text.length > longestName) return `A name has at most ${longestName} characters.`;
  if (namePattern.test(text)) return undefined;
  if (text === '') return 'A name is missing.';
  const bad = [...text].find((character) => !/[\p{L}\p{N}\p{M}._-]/u.test(character));
  if (bad === undefined) return 'A name starts with a letter, a digit or `_`.';
  const shown = /[\p{C}\p{Z}]/u.test(bad) ? codePointName(bad.codePointAt(0)!) : `\`${bad}\``;
  return `${shown} has no place in a name: a name has letters, digits and \`. _ -\`.`;
}

/** Two spellings of one accented letter are one name (Unicode NFC). */
export function normalName(text: string): string {
  return text.normalize('NFC');
}

export function readName(reader: ValueReader, what: string): Name | undefined {
  const token = reader.peek();
  if (!token) return reader.fail('name/missing', reader.rest(), `A name is missing here: ${what}.`);
  const range = reader.range(token);
  if (token.kind === 'quoted') {
    const mends = faultOfName(token.text) ? [] : [{ title: 'Remove the quotes', range, text: token.text }];
    return reader.fail('name/quoted', range, `A name stands without quotes: ${what}.`, mends);
  }
  reader.take();
  const fault =
    token.kind === 'word'
      ? faultOfName(token.text)
      : `${what[0]!.toUpperCase()}${what.slice(1)} is expected here.`;
  if (fault) return reader.fail('name/malformed', range, fault);
  return { text: normalName(token.text), range };
}

export type AddressParts = Omit<Address, 'range'>;
export type AddressFault = { readonly id: string; readonly message: string };

/** `string`, `string/position` or `string/first-last`; positions count from the positive end, from 1. */
export function parseAddress(text: string): AddressParts | AddressFault {
  const [, string = text, place] = /^(.*?)\/(.*)$/s.exec(text) ?? [];
  const fault = faultOfName(string);
  if (fault) return { id: 'address/malformed', message: fault };
  const written = normalName(text);
  if (place === undefined) return { text: written, string: written };
  const match = /^(\d{1,6})(?:-(\d{1,6}))?$/.exec(place);
  if (!match) {
    const message = `\`${shorten(place)}\` is not a position: write \`${shorten(string)}/11\` for one module, \`${shorten(string)}/1-9\` for a section.`;
    return { id: 'address/malformed', message };
  }
  const first = Number(match[1]);
  const last = match[2] === undefined ? undefined : Number(match[2]);
  if (first === 0 || last === 0)
    return { id: 'address/position-zero', message: 'Positions count from 1, at the positive end.' };
  if (last !== undefined && last < first)
    return {
      id: 'address/section-reversed',
      message: `This section is reversed: write \`${string}/${last}-${first}\`.`,
    };
  const whole = { text: written, string: normalName(string), first };
  return last === undefined || last === first ? whole : { ...whole, last };
}

/** `1.03` of `1.03/11`. */
export const stringOf = (address: string): string => address.split('/')[0]!;

export function isAddressFault(address: AddressParts | AddressFault): address is AddressFault {
  return 'message' in address;
}

export function readAddress(reader: ValueReader): Address | undefined {
  const token = reader.peek();
  const isAt = token?.text === 'at' && /^\d{4}-/.test(reader.peek(1)?.text ?? '');
  if (!token || token.kind === 'quoted' || isAt)
    return reader.fail(
      'address/missing',
      reader.rest(),
      'What it was done on is missing: `1.03`, `1.03/11` or `1.03/1-9`.',
    );
  reader.take();
  const range = reader.range(token);
  const address = parseAddress(token.text);
  if (!isAddressFault(address)) return { ...address, range };
  const reversed = /^(.*)\/(\d+)-(\d+)$/s.exec(token.text);
  const mends =
    address.id === 'address/section-reversed' && reversed
      ? [{ title: 'Exchange first and last', range, text: `${reversed[1]}/${reversed[3]}-${reversed[2]}` }]
      : undefined;
  return reader.fail(address.id, range, address.message, mends);
}

/** Most strings that one run may name. */
export const longestRun = 1000;

/** Names of the run `first .. last`: the same prefix, then digits that count up, zeros in front kept. */
export function namesOfRun(first: string, last: string): readonly string[] | AddressFault {
  const from = /^(.*?)(\d{1,9})$/s.exec(first);
  const to = /^(.*?)(\d{1,9})$/s.exec(last);
  const example = 'write it like `1.01 .. 1.12`';
  if (!from || !to) return { id: 'string/run', message: `The names of a run end in digits: ${example}.` };
  const [, prefix, fromDigits] = from as unknown as [string, string, string];
  const [, otherPrefix, toDigits] = to as unknown as [string, string, string];
  if (prefix !== otherPrefix)
    return { id: 'string/run', message: `The names of a run differ only in their last digits: ${example}.` };
  const padded = fromDigits.startsWith('0') || toDigits.startsWith('0');
  if (padded && fromDigits.length !== toDigits.length)
    return {
      id: 'string/run',
      message: `The last digits of both names have the same length where they start with 0: ${example}.`,
    };
  const start = Number(fromDigits);
  const end = Number(toDigits);
  if (end < start)
    return { id: 'string/run', message: `This run is reversed: write \`${last} .. ${first}\`.` };
  if (end - start >= longestRun)
    return {
      id: 'string/run',
      message: `This run names ${end - start + 1} strings; at most ${longestRun} are read.`,
    };
  return Array.from({ length: end - start + 1 }, (_, index) => {
    const digits = String(start + index);
    return prefix + (padded ? digits.padStart(fromDigits.length, '0') : digits);
  });
}
