/** What stands behind the block keyword on a header line. */
import type { BlockKeyword } from './keywords.js';
import type { Address, LocalTime, Name, Words } from './model.js';
import { namesOfRun, readAddress, readName } from './names.js';
import { readText } from './decodeValue.js';
import { readTime } from './time.js';
import type { ValueReader } from './valueReader.js';

export interface Header {
  readonly name?: Name;
  readonly title?: string;
  /** Of a run of strings: all of them. */
  readonly names?: readonly string[];
  readonly address?: Address;
  readonly time?: LocalTime;
  readonly text?: Words;
  readonly by?: Words;
}

/** Undefined when the block cannot be told from its header; the reader then holds the problem. */
export function readHeader(reader: ValueReader, block: BlockKeyword): Header | undefined {
  const header = headerReaders[block.header](reader, block);
  if (header && !reader.failed) reader.finish(`Write it like \`${block.example}\`.`);
  return header;
}

type HeaderReader = (reader: ValueReader, block: BlockKeyword) => Header | undefined;

const headerReaders: Readonly<Record<BlockKeyword['header'], HeaderReader>> = {
  name: (reader, block) => {
    const name = readName(reader, `the name of the ${block.name}, as in \`${block.example}\``);
    return name && { name, title: readTitle(reader) };
  },
  run: (reader) => {
    const name = readName(reader, 'the name of the string');
    if (!name) return undefined;
    if (!reader.takeKind('range')) return { name, names: [name.text], title: readTitle(reader) };
    const last = readName(reader, 'the name of the last string of the run');
    if (!last) return undefined;
    const names = namesOfRun(name.text, last.text);
    const range = { start: name.range.start, end: last.range.end };
    if ('message' in names) return reader.fail(names.id, range, names.message);
    return { name: { text: `${name.text} .. ${last.text}`, range }, names, title: readTitle(reader) };
  },
  addressAtTime: (reader, block) => {
    const address = readAddress(reader);
    if (!address) return undefined;
    if (reader.takeWord('at')) return { address, time: readTime(reader) };
    const at = reader.done ? address.range : reader.rest();
    reader.fail('time/missing', at, `When? Write the time behind \`at\`: \`${block.example}\`.`);
    return { address };
  },
  fromFile: (reader) => {
    if (!reader.takeWord('from'))
      return reader.fail(
        'sweeps/from-missing',
        reader.rest(),
        'Write the table behind `from`: `sweeps from "sweeps/all.csv"`.',
      );
    const text = readText(reader);
    return text && { text };
  },
  note: (reader) => {
    const startsAt = reader.peek()?.kind === 'word' && reader.peek()?.text === 'at';
    const address = reader.nextIs('word') && !startsAt ? readAddress(reader) : undefined;
    const time = !reader.failed && reader.takeWord('at') ? readTime(reader) : undefined;
    const text = reader.failed ? undefined : readText(reader);
    return text && { address, time, text };
  },
  accept: (reader) => {
    const address = readAddress(reader);
    const time = address && reader.takeWord('at') ? readTime(reader) : undefined;
    const text = reader.failed ? undefined : readText(reader);
    return (
      address && text && { address, time, text, by: reader.takeWord('by') ? readText(reader) : undefined }
    );
  },
  path: (reader) => {
    const text = readText(reader);
    return text && { text };
  },
};

function readTitle(reader: ValueReader): string | undefined {
  return reader.takeKind('quoted')?.text;
}
