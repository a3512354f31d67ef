/** What completion asks of its host, and which of the tables at hand fits where. */
import type { Evaluation } from '../evaluation/evaluation.js';
import type { Position } from '../text/place.js';
import type { OpenFile } from './editorTypes.js';
import { lineContext, type LineContext } from './lineContext.js';

export interface CompletionNeeds {
  /** Paths to look for. */
  readonly paths?: 'table' | 'campaign';
  /** The table whose columns are wanted: the first of these that can be read. */
  readonly tables?: readonly string[];
}

export function completionNeeds(
  evaluation: Evaluation | undefined,
  open: OpenFile,
  position: Position,
): CompletionNeeds {
  const context = lineContext(open, position);
  if (context.inComment) return {};
  const paths = pathPlace(context);
  if (paths) return { paths };
  if (context.property?.form.kind.startsWith('column') !== true) return {};
  return { tables: tablesOfBlock(evaluation, open, context) };
}

/** Is this the place of a path, and to what kind of file? */
export function pathPlace({
  block,
  isHeader,
  property,
  tokens,
  index,
}: LineContext): CompletionNeeds['paths'] {
  if (!block) return undefined;
  if (property?.form.kind === 'path') return property.name === 'compare' ? 'campaign' : 'table';
  if (!isHeader || index === 0) return undefined;
  if (block.header === 'path') return 'campaign';
  return block.header === 'fromFile' && tokens[1]?.text === 'from' && index !== 1 ? 'table' : undefined;
}

/** Of a `sweeps` block its own table; of a layout those that use it, else those that nothing could be read of. */
function tablesOfBlock(
  evaluation: Evaluation | undefined,
  open: OpenFile,
  { headerLine, block }: LineContext,
): readonly string[] {
  const header = headerLine === undefined ? '' : open.lineAt(headerLine);
  if (block?.header === 'fromFile') {
    const path = /"([^"]*)"/.exec(header)?.[1];
    const file = path === undefined ? undefined : open.resolve(path);
    return file === undefined ? [] : [file];
  }
  const name = /^\S+\s+(\S+)/.exec(header)?.[1];
  const sweeps = evaluation?.sweeps ?? [];
  const using = sweeps.filter(({ record }) => record.layout?.text === name);
  const unread = sweeps.filter(({ reading }) => !reading);
  const files = [...using, ...unread].flatMap(({ dataFile }) => dataFile ?? []);
  return [...new Set(files)].slice(0, 5);
}

export interface RankedTable {
  readonly path: string;
  readonly detail: string;
}

/** Tables that no sweep names come first, before them those whose name speaks of the address. */
export function rankedTables(
  tables: readonly string[],
  evaluation: Evaluation | undefined,
  open: OpenFile,
  address: string | undefined,
): readonly RankedTable[] {
  const used = new Set(evaluation?.dataFiles ?? []);
  const ranked = tables.map((path) => {
    const isUsed = used.has(open.resolve(path) ?? '');
    const likeness = address === undefined ? 0 : likenessTo(address, path);
    return { path, detail: isUsed ? 'table, used already' : 'table', rank: likeness - (isUsed ? 10 : 0) };
  });
  return ranked.sort((a, b) => b.rank - a.rank);
}

/** How many parts of an address a file name has: of `1.03/11` the string and the position. */
export function likenessTo(address: string, path: string): number {
  const name = path.slice(path.lastIndexOf('/') + 1).toLowerCase();
  const [string, place] = address.toLowerCase().split('/') as [string, string?];
  const has = (part: string): boolean => {
    const at = name.indexOf(part);
    return at >= 0 && !/[\p{L}\p{N}]/u.test(name[at + part.length] ?? '');
  };
  const rest = name.replace(string, '');
  return (
    Number(has(string)) * 2 +
    Number(place === undefined ? !/\d/.test(rest.replace(/\.\w+$/, '')) : rest.includes(place))
  );
}
