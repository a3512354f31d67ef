/** Names across files: references, highlights, renaming, and the symbols of the workspace. */
import * as vscode from 'vscode';
import type { NameOccurrence } from '../../presentation/nameOccurrences.js';
import { nameAt } from '../../presentation/nameOccurrences.js';
import { highlightsAt, placesOf, type NamePlace } from '../../presentation/references.js';
import { renameableAt, renameEdits } from '../../presentation/rename.js';
import { workspaceSymbols } from '../../presentation/workspaceSymbols.js';
import type { Campaigns } from '../campaigns.js';
import { keyOf, toLocation, toRange, uriOf } from '../convert.js';
import { symbolKinds } from './outline.js';

export function referenceProvider(campaigns: Campaigns): vscode.ReferenceProvider {
  return {
    async provideReferences(document, position, { includeDeclaration }) {
      const name = nameAt(campaigns.documentOf(document), position);
      if (!name) return undefined;
      const places = await placesOfName(campaigns, keyOf(document.uri), name);
      return places.filter(({ isGiven }) => includeDeclaration || !isGiven).map(toLocation);
    },
  };
}

/** From the file that gives the name: who else includes it may refer to it as well. */
async function placesOfName(campaigns: Campaigns, file: string, name: NameOccurrence): Promise<NamePlace[]> {
  return placesOf(await campaigns.filesNaming(file, name), name);
}

export function highlightProvider(campaigns: Campaigns): vscode.DocumentHighlightProvider {
  return {
    provideDocumentHighlights(document, position) {
      const { Write, Read } = vscode.DocumentHighlightKind;
      return highlightsAt(campaigns.documentOf(document), position).map(
        ({ range, isGiven }) => new vscode.DocumentHighlight(toRange(range), isGiven ? Write : Read),
      );
    },
  };
}

export function renameProvider(campaigns: Campaigns): vscode.RenameProvider {
  return {
    prepareRename(document, position) {
      const found = renameableAt(campaigns.documentOf(document), position);
      if ('refusal' in found) throw new Error(found.refusal);
      return { range: toRange(found.range), placeholder: document.getText(toRange(found.range)) };
    },
    async provideRenameEdits(document, position, newName) {
      const found = renameableAt(campaigns.documentOf(document), position);
      if ('refusal' in found) throw new Error(found.refusal);
      const files = await campaigns.filesNaming(keyOf(document.uri), found.target);
      const answer = renameEdits(files, found.target, newName, (string) =>
        campaigns.tableNaming(string, files),
      );
      if ('refusal' in answer) throw new Error(answer.refusal);
      const edit = new vscode.WorkspaceEdit();
      for (const { file, range, text } of answer.edits) edit.replace(uriOf(file), toRange(range), text);
      return edit;
    },
  };
}

export function workspaceSymbolProvider(campaigns: Campaigns): vscode.WorkspaceSymbolProvider {
  return {
    async provideWorkspaceSymbols(query) {
      return workspaceSymbols(await campaigns.allFiles(), query).map(
        ({ name, container, kind, file, range }) =>
          new vscode.SymbolInformation(name, symbolKinds[kind], container, toLocation({ file, range })),
      );
    },
  };
}
