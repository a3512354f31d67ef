import * as vscode from 'vscode';
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
      const isWanted = vscode.workspace
        .getConfiguration('sweepbook', document.uri)
        .get('inlayVerdicts', true);
      const evaluation = isWanted ? campaigns.latestOf(document.uri) : undefined;
      const hints = evaluation && sweepHints(evaluation, keyOf(document.uri), range);
      return hints?.map(({ line, text }) => {
        const shownLine = Math.min(line, document.lineCount - 1);
        const hint = new vscode.InlayHint(document.lineAt(shownLine).range.end, text);
        hint.paddingLeft = true;
        return hint;
      });
    },
    dispose: () => vscode.Disposable.from(listening, changed).dispose(),
  };
}
