import * as vscode from 'vscode';
import type { Campaigns } from './campaigns.js';
import { keyOf } from './convert.js';

/** Moves the cursor to the next or the previous sweep of the file. */
export async function stepSweep(campaigns: Campaigns, step: 1 | -1): Promise<void> {
  const editor = vscode.window.activeTextEditor;
  if (!editor) return;
  const evaluation = await campaigns.evaluationOf(editor.document.uri);
  const file = keyOf(editor.document.uri);
  const lines = (evaluation?.sweeps ?? [])
    .filter(({ block }) => block.file === file)
    .map(({ block }) => block.startLine)
    .sort((a, b) => a - b);
  const here = editor.selection.active.line;
  const line = step > 0 ? lines.find((start) => start > here) : lines.findLast((start) => start < here);
  if (line === undefined) return;
  const position = new vscode.Position(line, 0);
  editor.selection = new vscode.Selection(position, position);
  editor.revealRange(
    new vscode.Range(position, position),
    vscode.TextEditorRevealType.InCenterIfOutsideViewport,
  );
}
