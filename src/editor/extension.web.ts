/** Entry in the browser's worker. */
import * as vscode from 'vscode';
import { webThreads } from '../threads/web/webThreads.js';
import { activate as activateEditor } from './activate.js';

export function activate(context: vscode.ExtensionContext): void {
  const program = vscode.Uri.joinPath(context.extensionUri, 'dist/analyst.web.js');
  activateEditor(context, { threads: webThreads(() => vscode.workspace.fs.readFile(program)) });
}
