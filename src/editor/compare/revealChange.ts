import * as vscode from 'vscode';
import type { ChangedPlace } from '../../presentation/sourcePlace.js';
import { keyOf } from '../convert.js';

/** Files on both sides of a text diff; undefined where the file is not there. */
export interface BothSides {
  readonly before?: vscode.Uri | undefined;
  readonly after?: vscode.Uri | undefined;
}

/** Shows the lines of a change in the text diff, in the column of the texts; in the one file where the other has none. */
export async function revealChange(
  { before, after }: ChangedPlace,
  files: BothSides,
  title: string,
): Promise<void> {
  const viewColumn =
    vscode.window.visibleTextEditors.find((editor) => editor.viewColumn !== undefined)?.viewColumn ??
    vscode.ViewColumn.One;
  const line = (after ?? before)?.line ?? 0;
  const options: vscode.TextDocumentShowOptions = { viewColumn, selection: lineRange(line) };
  const only = files.after ?? files.before;
  if (files.before && files.after)
    await vscode.commands.executeCommand('vscode.diff', files.before, files.after, title, options);
  else if (only) await vscode.window.showTextDocument(only, options);
  if (!after && before && files.before) await revealOn(files.before, before.line);
}

/** What is gone has no line of its own in the working file. */
async function revealOn(uri: vscode.Uri, line: number): Promise<void> {
  const editor = await shownEditor(uri);
  editor?.revealRange(lineRange(line), vscode.TextEditorRevealType.InCenter);
}

/** Milliseconds until a diff that was opened tells of its editors. */
const longestOpening = 2_000;

async function shownEditor(uri: vscode.Uri): Promise<vscode.TextEditor | undefined> {
  const found = (): vscode.TextEditor | undefined =>
    vscode.window.visibleTextEditors.find(({ document }) => keyOf(document.uri) === keyOf(uri));
  if (found()) return found();
  return new Promise((resolve) => {
    const done = (): void => {
      clearTimeout(timer);
      listening.dispose();
      resolve(found());
    };
    const timer = setTimeout(done, longestOpening);
    const listening = vscode.window.onDidChangeVisibleTextEditors(() => {
      if (found()) done();
    });
  });
}

function lineRange(line: number): vscode.Range {
  return new vscode.Range(line, 0, line, 0);
}
