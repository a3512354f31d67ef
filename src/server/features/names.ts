/** Names across files: references, highlights, renaming, and the symbols of the workspace. */
import {
  DocumentHighlightKind,
  LSPErrorCodes,
  ResponseError,
  type TextEdit,
} from 'vscode-languageserver/node';
import { nameAt } from '../../presentation/nameOccurrences.js';
import { highlightsAt, placesOf } from '../../presentation/references.js';
import { renameableAt, renameEdits, type Refusal } from '../../presentation/rename.js';
import { workspaceSymbols } from '../../presentation/workspaceSymbols.js';
import type { FileEdit } from '../../presentation/fileEdit.js';
import type { Session } from '../session.js';
import { symbolKinds } from './reading.js';

export function serveNames(session: Session): void {
  const { connection, kept } = session;

  connection.onReferences(async ({ textDocument, position, context }) => {
    const open = session.openText(textDocument);
    const name = open && nameAt(session.documentOf(open), position);
    if (!name) return null;
    return placesOf(await kept.filesNaming(open.file, name), name)
      .filter(({ isGiven }) => context.includeDeclaration || !isGiven)
      .map(({ file, range }) => ({ uri: session.uriOf(file), range }));
  });

  connection.onDocumentHighlight(({ textDocument, position }) => {
    const open = session.openText(textDocument);
    const { Write, Read } = DocumentHighlightKind;
    return open
      ? highlightsAt(session.documentOf(open), position).map(({ range, isGiven }) => ({
          range,
          kind: isGiven ? Write : Read,
        }))
      : null;
  });

  connection.onPrepareRename(({ textDocument, position }) => {
    const open = session.openText(textDocument);
    if (!open) return null;
    const { range } = orRefuse(renameableAt(session.documentOf(open), position));
    return { range, placeholder: open.text.getText(range) };
  });

  connection.onRenameRequest(async ({ textDocument, position, newName }) => {
    const open = session.openText(textDocument);
    if (!open) return null;
    const { target } = orRefuse(renameableAt(session.documentOf(open), position));
    // What a table names is known once the campaign is computed.
    await kept.evaluationOf(open.file);
    const files = await kept.filesNaming(open.file, target);
    const tableNaming = (string: string): string | undefined => kept.tableNaming(string, files);
    return { changes: changesOf(orRefuse(renameEdits(files, target, newName, tableNaming)).edits, session) };
  });

  connection.onWorkspaceSymbol(async ({ query }) =>
    workspaceSymbols(await kept.allFiles(), query).map(({ name, container, kind, file, range }) => ({
      name,
      containerName: container,
      kind: symbolKinds[kind],
      location: { uri: session.uriOf(file), range },
    })),
  );
}

/** The reason is shown to the user. */
function orRefuse<T extends object>(answer: T | Refusal): T {
  if ('refusal' in answer) throw new ResponseError(LSPErrorCodes.RequestFailed, answer.refusal);
  return answer;
}

export function changesOf(edits: readonly FileEdit[], session: Session): Record<string, TextEdit[]> {
  const changes: Record<string, TextEdit[]> = {};
  for (const { file, range, text } of edits)
    (changes[session.uriOf(file)] ??= []).push({ range, newText: text });
  return changes;
}
