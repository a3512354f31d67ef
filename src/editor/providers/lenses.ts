import * as vscode from 'vscode';
import { lensesOf, type Lens } from '../../presentation/lenses.js';
import { aTurn } from '../../workspace/breathe.js';
import type { Campaigns } from '../campaigns.js';
import { keyOf } from '../convert.js';
import { showInPanel } from '../preview/panelTarget.js';

/** The editor asks what it says when it is in sight: of thousands few are. */
class LensOfLine extends vscode.CodeLens {
  constructor(
    readonly says: Lens,
    readonly file: string,
  ) {
    super(new vscode.Range(says.line, 0, says.line, 0));
  }
}

/** Above the campaign its counts, above each string the state of its case. */
export function lensProvider(campaigns: Campaigns): vscode.CodeLensProvider<LensOfLine> & vscode.Disposable {
  const changed = new vscode.EventEmitter<void>();
  const listening = vscode.Disposable.from(
    campaigns.onDidEvaluate(() => changed.fire()),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (event.affectsConfiguration('sweepbook.lenses')) changed.fire();
    }),
  );
  return {
    onDidChangeCodeLenses: changed.event,
    async provideCodeLenses(document) {
      await aTurn();
      const settings = vscode.workspace.getConfiguration('sweepbook', document.uri);
      const evaluation = settings.get('lenses', true) ? campaigns.latestOf(document.uri) : undefined;
      if (!evaluation) return [];
      const file = keyOf(document.uri);
      return lensesOf(evaluation, file).map((lens) => new LensOfLine(lens, file));
    },
    resolveCodeLens(lens) {
      const { text, tooltip, opens } = lens.says;
      const shown = { ...opens, file: lens.file };
      lens.command = { title: text, tooltip, command: showInPanel, arguments: [shown] };
      return lens;
    },
    dispose: () => vscode.Disposable.from(listening, changed).dispose(),
  };
}
