/** What is read from the text alone: links, folding, growing selections, semantic tokens. */
import { FoldingRangeKind, type SelectionRange } from 'vscode-languageserver/node';
import { writtenPaths } from '../../presentation/documentLinks.js';
import { foldingRegions } from '../../presentation/folding.js';
import { selectionRanges } from '../../presentation/selectionRanges.js';
import { encodeSemanticTokens } from '../../presentation/semanticTokens.js';
import type { Session } from '../session.js';

export function serveStructure(session: Session): void {
  const { connection, files } = session;

  connection.onDocumentLinks(({ textDocument }) => {
    const open = session.openText(textDocument);
    if (!open) return null;
    return [...writtenPaths(session.documentOf(open))].flatMap(({ path, range }) => {
      const file = files.resolve(open.file, path);
      return file === undefined ? [] : [{ range, target: session.uriOf(file) }];
    });
  });

  connection.onFoldingRanges(({ textDocument }) => {
    const open = session.openText(textDocument);
    if (!open) return null;
    const { Comment, Imports } = FoldingRangeKind;
    return foldingRegions(session.documentOf(open)).map(({ start, end, kind }) => ({
      startLine: start,
      endLine: end,
      kind: kind && (kind === 'comment' ? Comment : Imports),
    }));
  });

  connection.onSelectionRanges(({ textDocument, positions }) => {
    const open = session.openText(textDocument);
    if (!open) return null;
    const document = session.documentOf(open);
    return positions.map((position) => {
      const outermostLast = selectionRanges(document, position);
      const nested = outermostLast.reduceRight<SelectionRange | undefined>(
        (parent, range) => ({ range, parent }),
        undefined,
      );
      return nested ?? { range: { start: position, end: position } };
    });
  });

  connection.languages.semanticTokens.on(({ textDocument }) => {
    const open = session.openText(textDocument);
    return { data: open ? [...encodeSemanticTokens(session.documentOf(open))] : [] };
  });
}
