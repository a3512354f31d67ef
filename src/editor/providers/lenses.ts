import * as vscode from 'vscode';
import { lensesOf } from '../../presentation/lenses.js';
import type { Campaigns } from '../campaigns.js';
import { keyOf } from '../convert.js';
import { showInPanel } from '../preview/panelTarget.js';

/** Above the campaign its counts, above each string the state of its case. */
export function lensProvider(campaigns: Campaigns): vscode.CodeLensProvider & vscode.Disposable {
  const changed = new vscode.EventEmitter<void>();
  const listening = vscode.Disposable.from(
    campaigns.onDidEvaluate(() => changed.fire()),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (event.affectsConfiguration('sweepbook.lenses')) changed.fire();
    }),
  );
  return {
    onDidChangeCodeLenses: changed.event,
    provideCodeLenses(document) {
      const settings = vscode.workspace.getConfiguration('sweepbook', document.uri);
      const evaluation = settings.get('lenses', true) ? campaigns.latestOf(document.uri) : undefined;
      if (!evaluation) return [];
      return lensesOf(evaluation, keyOf(document.uri)).map(({ line, text, tooltip, opens }) => {
        const range = new vscode.Range(line, 0, line, 0);
        const shown = { ...opens, file: keyOf(document.uri) };
        return new vscode.CodeLens(range, {
          title: text,
          tooltip,
          command: showInPanel,
          arguments: [shown],
        });
      });
    },
    dispose: () => vscode.Disposable.from(listening, changed).dispose(),
  };
}
