/** What a place means: hovers, the place of a name, the outline, verdicts behind sweeps. */
import {
  MarkupKind,
  SymbolKind,
  type DocumentSymbol,
  type Location,
  type SymbolInformation,
} from 'vscode-languageserver/node';
import { definitionAt } from '../../presentation/definition.js';
import type { OutlineSymbol, SymbolKind as OutlineKind } from '../../presentation/editorTypes.js';
import { hoverAt } from '../../presentation/hoverText.js';
import { outlineOf } from '../../presentation/outline.js';
import { sweepHints } from '../../presentation/sweepHints.js';
import type { Session } from '../session.js';

export function serveReading(session: Session): void {
  const { connection, kept, abilities } = session;
  const kind = abilities.markdown ? MarkupKind.Markdown : MarkupKind.PlainText;

  connection.onHover(async ({ textDocument, position }) => {
    const open = session.openText(textDocument);
    const evaluation = open && (await kept.evaluationOf(open.file));
    const hover = evaluation && hoverAt(evaluation, session.openFile(open), position);
    return hover ? { contents: { kind, value: hover.markdown }, range: hover.range } : null;
  });

  connection.onDefinition(async ({ textDocument, position }): Promise<Location | null> => {
    const open = session.openText(textDocument);
    const evaluation = open && (await kept.evaluationOf(open.file));
    const place = evaluation && definitionAt(evaluation, session.openFile(open), position);
    return place ? { uri: session.uriOf(place.file), range: place.range } : null;
  });

  connection.onDocumentSymbol(async ({ textDocument }) => {
    const open = session.openText(textDocument);
    const evaluation = open && (await kept.evaluationOf(open.file));
    if (!evaluation) return null;
    const outline = outlineOf(evaluation, open.file);
    return abilities.symbolTrees ? outline.map(toSymbol) : listed(outline, textDocument.uri);
  });

  connection.languages.inlayHint.on(async ({ textDocument, range }) => {
    const open = session.openText(textDocument);
    if (!open || !session.settings.inlayVerdicts) return null;
    const evaluation = await kept.evaluationOf(open.file);
    if (!evaluation) return null;
    const { lineAt } = session.openFile(open);
    return sweepHints(evaluation, open.file, range).map(({ line, text }) => ({
      position: { line, character: lineAt(line).length },
      label: text,
      paddingLeft: true,
    }));
  });
}

export const symbolKinds: Readonly<Record<OutlineKind, SymbolKind>> = {
  campaign: SymbolKind.Namespace,
  site: SymbolKind.Module,
  plane: SymbolKind.Interface,
  module: SymbolKind.Class,
  string: SymbolKind.Array,
  instrument: SymbolKind.Object,
  layout: SymbolKind.Struct,
  criteria: SymbolKind.Boolean,
  sweep: SymbolKind.Function,
  event: SymbolKind.Event,
};

function toSymbol({ kind, children, ...symbol }: OutlineSymbol): DocumentSymbol {
  return { ...symbol, kind: symbolKinds[kind], children: children.map(toSymbol) };
}

/** One after the other, for clients that show no trees. */
function listed(symbols: readonly OutlineSymbol[], uri: string): SymbolInformation[] {
  return symbols.flatMap(({ name, kind, range, children }) => [
    { name, kind: symbolKinds[kind], location: { uri, range } },
    ...listed(children, uri),
  ]);
}
