/** What is put into the campaign file. */
import { layoutText } from '../presentation/fixes/layoutText.js';
import { plainSnippet, tabStop } from '../presentation/snippetText.js';
import { inTimeOrder } from './bringIn.js';
import type { FoundTable } from './foundTable.js';
import type { NamedLayout } from './layoutNeeded.js';
import { quotedText } from '../syntax/quotedText.js';
import type { Asked } from './tableFacts.js';

export interface WriteOptions {
  /** Tracer and reference used, by name. */
  readonly with?: readonly string[];
  /** The file that the blocks are put behind has `\r\n`. */
  readonly lineEnd?: '\n' | '\r\n';
}

/**
 * Blocks in the order of time, new layouts first, an empty line between them and a line end at the end. Irradiance or temperature
 * that nobody knows is left out, and the campaign then says so itself; a sweep without address or time cannot be written.
 */
export function writtenBlocks(found: readonly FoundTable[], options: WriteOptions = {}): string {
  const complete = found.filter(canBeWritten);
  const blocks = [
    ...layoutsOf(complete),
    ...inTimeOrder(complete).map((each) => blockOf(each, options, () => undefined)),
  ];
  const text = blocks.map((lines) => `${lines.join('\n')}\n`).join('\n');
  return options.lineEnd === '\r\n' ? text.replaceAll('\n', '\r\n') : text;
}

export const canBeWritten = (found: FoundTable): boolean =>
  found.kind === 'sweeps' || (found.facts.address.fact !== undefined && found.facts.time.fact !== undefined);

/** The same as a snippet, with a tab stop for each thing that is missing; without the line end. */
export function blockSnippet(found: readonly FoundTable[], options: WriteOptions = {}): string {
  let stop = 0;
  const hole: Hole = (asked, { suggestion, withoutKind }) => {
    if (asked === 'temperature') {
      const value = withoutKind === undefined ? tabStop(++stop, suggestion ?? '') : plainSnippet(withoutKind);
      const isWhole = /\b(?:cell|module)\b/.test(suggestion ?? '') && withoutKind === undefined;
      const unit = withoutKind === undefined && suggestion === undefined ? ' degC' : '';
      return isWhole ? value : `${value}${unit} \${${++stop}|cell,module|}`;
    }
    if (asked === 'irradiance') return suggestion ? tabStop(++stop, suggestion) : `${tabStop(++stop)} W/m2`;
    return tabStop(++stop, suggestion ?? (asked === 'address' ? 'address' : 'date time'));
  };
  const blocks = [
    ...layoutsOf(found).map((lines) => lines.map(plainSnippet)),
    ...inTimeOrder(found).map((each) => blockOf(each, options, hole, plainSnippet)),
  ];
  return `${blocks.map((lines) => lines.join('\n')).join('\n\n')}$0`;
}

type Hole = (asked: Asked, found: FoundTable['facts'][Asked]) => string | undefined;

function layoutsOf(found: readonly FoundTable[]): string[][] {
  const layouts = new Map<string, NamedLayout>();
  for (const { layout } of found) if (layout?.lines) layouts.set(layout.name, layout);
  return [...layouts.values()].map(({ name, lines }) => layoutText(name, lines!));
}

function blockOf(
  found: FoundTable,
  options: WriteOptions,
  hole: Hole,
  plain: (text: string) => string = (text) => text,
): string[] {
  const value = (asked: Asked): string | undefined => {
    const { fact } = found.facts[asked];
    if (fact) return fact.text === undefined ? undefined : plain(fact.text);
    return hole(asked, found.facts[asked]);
  };
  const data = plain(quotedText(found.path)!);
  const header =
    found.kind === 'sweeps' ? `sweeps from ${data}` : `sweep ${value('address')!} at ${value('time')!}`;
  const properties: (readonly [string, string | undefined])[] = [
    ...(found.kind === 'sweeps' ? found.columns.map(([name, text]) => [name, plain(text)] as const) : []),
    ['irradiance', value('irradiance')],
    ['temperature', value('temperature')],
    ['data', found.kind === 'sweeps' ? undefined : data],
    ['layout', found.layout?.name],
    ['with', options.with && options.with.length > 0 ? options.with.join(', ') : undefined],
  ];
  const written = properties.filter((each): each is [string, string] => each[1] !== undefined);
  const width = Math.max(...written.map(([name]) => name.length)) + 1;
  return [header, ...written.map(([name, text]) => `  ${name.padEnd(width)}${text}`)];
}

/** What has to stand between the end of a text and blocks put behind it: nothing, a line end, an empty line. */
export function gapBehind(text: string): string {
  if (/^\uFEFF?(\s*\n)?$/.test(text)) return '';
  const lineEnd = text.includes('\r\n') ? '\r\n' : '\n';
  // Behind blanks that end a text a block would be a property of the one above.
  if (!text.endsWith('\n')) return /(^\uFEFF?|\n)[ \t]*$/.test(text) ? lineEnd : lineEnd + lineEnd;
  return /\n[ \t]*\r?\n$/.test(text) ? '' : lineEnd;
}
