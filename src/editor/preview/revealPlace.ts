import * as vscode from 'vscode';
import type { SourcePlace } from '../../presentation/sourcePlace.js';
import { keyOf, uriOf } from '../convert.js';

/**
 * Shows a line in the editor that has its file open, else in the column that the campaign is edited in. Without `focus`
 * the keyboard stays where it is.
 */
export async function revealPlace(place: SourcePlace, focus: boolean): Promise<void> {
  const open = vscode.window.visibleTextEditors.find((editor) => keyOf(editor.document.uri) === place.file);
  const anyText = vscode.window.visibleTextEditors.find((editor) => editor.viewColumn !== undefined);
  const line = new vscode.Position(place.line, 0);
  await vscode.window.showTextDocument(uriOf(place.file), {
    viewColumn: open?.viewColumn ?? anyText?.viewColumn ?? vscode.ViewColumn.One,
    preserveFocus: !focus,
    selection: new vscode.Range(line, line),
  });
}
