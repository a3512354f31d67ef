import * as vscode from 'vscode';
import type { Evaluation } from '../../evaluation/evaluation.js';
import { sweepHints } from '../../presentation/sweepHints.js';
import type { Campaigns } from '../campaigns.js';
import { keyOf } from '../convert.js';

/** Behind the first line of each sweep: its verdict and the deviation of its maximum power. */
export function verdictHints(campaigns: Campaigns): vscode.InlayHintsProvider & vscode.Disposable {
  const changed = new vscode.EventEmitter<void>();
  const listening = vscode.Disposable.from(
    campaigns.onDidEvaluate(() => changed.fire()),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (event.affectsConfiguration('sweepbook.inlayVerdicts')) changed.fire();
    }),
  );
  return {
    onDidChangeInlayHints: changed.event,
    provideInlayHints(document, range) {
      const evaluation = areHintsWanted(document) ? campaigns.latestOf(document.uri) : undefined;
      return evaluation && hintsOf(evaluation, keyOf(document.uri), document, range);
    },
    dispose: () => vscode.Disposable.from(listening, changed).dispose(),
  };
}

export function areHintsWanted({ uri }: vscode.TextDocument): boolean {
  return vscode.workspace.getConfiguration('sweepbook', uri).get('inlayVerdicts', true);
}

/** @param file what the document is called in the evaluation */
export function hintsOf(
  evaluation: Evaluation,
  file: string,
  document: vscode.TextDocument,
  range: vscode.Range,
): vscode.InlayHint[] {
  return sweepHints(evaluation, file, range).map(({ line, text }) => {
    const shownLine = Math.min(line, document.lineCount - 1);
    const hint = new vscode.InlayHint(document.lineAt(shownLine).range.end, text);
    hint.paddingLeft = true;
    return hint;
  });
}
