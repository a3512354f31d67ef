/** Everything that has a name in the campaign files of the workspace, and the sweeps, found by a few letters. */
import type { NamedKind } from '../campaign/model.js';
import { shiftRange, type Range } from '../text/place.js';
import type { SymbolKind } from './editorTypes.js';
import { namesOfBlock, type FileDocument } from './nameOccurrences.js';

export interface WorkspaceSymbol {
  readonly name: string;
  /** A few words behind the name: the kind, the time of a sweep. */
  readonly container: string;
  readonly kind: SymbolKind;
  readonly file: string;
  readonly range: Range;
}

/** More than anyone reads; a longer query finds what is missing. */
const mostSymbols = 1000;

/**
 * Names that hold the letters of `query` in their order, in any case, or whose kind or time does; all of them for an empty
 * query.
 */
export function workspaceSymbols(files: readonly FileDocument[], query: string): WorkspaceSymbol[] {
  const wanted = squeezed(query);
  const found: WorkspaceSymbol[] = [];
  for (const { file, document } of files) {
    for (const { block, startLine } of document.blocks) {
      const [name] = namesOfBlock(block);
      const { header } = block;
      // Of a sweep the header comes first; what its properties name is none of its own.
      if (!name || !header || name.range.start.line > 0) continue;
      const keyword = header.tokens[0]!.text;
      if (!name.isGiven && keyword !== 'sweep') continue;
      const symbol = name.isGiven ? namedSymbol(name.kind as NamedKind, name) : sweepSymbol(header.tokens);
      if (!holdsInOrder(symbol.name, wanted) && !squeezed(symbol.container).includes(wanted)) continue;
      found.push({ ...symbol, file, range: shiftRange(name.range, startLine) });
      if (found.length >= mostSymbols) return found;
    }
  }
  return found;
}

type Said = Pick<WorkspaceSymbol, 'name' | 'container' | 'kind'>;

function namedSymbol(kind: NamedKind, name: { text: string; run?: readonly string[] }): Said {
  const shown = name.run ? `${name.text} .. ${name.run.at(-1)!}` : name.text;
  const symbol = kind === 'tracer' || kind === 'reference' ? 'instrument' : kind;
  return { name: shown, container: kind, kind: symbol };
}

function sweepSymbol(tokens: readonly { readonly text: string }[]): Said {
  const at = tokens.findIndex(({ text }) => text === 'at');
  const time = at < 0 ? '' : tokens.slice(at + 1, at + 3).map(({ text }) => text);
  return { name: tokens[1]!.text, container: ['sweep', ...time].join(' '), kind: 'sweep' };
}

const squeezed = (text: string): string => text.toLowerCase().replace(/\s+/g, '');

function holdsInOrder(text: string, wanted: string): boolean {
  const lower = text.toLowerCase();
  let from = 0;
  for (const letter of wanted) {
    const at = lower.indexOf(letter, from);
    if (at < 0) return false;
    from = at + 1;
  }
  return true;
}
