import * as vscode from 'vscode';
import type { Evaluation } from '../evaluation/evaluation.js';
import { countsLine, countsMarks } from '../presentation/verdictWords.js';
import type { Campaigns } from './campaigns.js';
import { isCampaignDocument, keyOf } from './convert.js';
import { showInPanel, type PanelTarget } from './preview/panelTarget.js';

/** In the status bar: how many sweeps of the campaign at hand got which verdict. It opens the panel with the whole campaign. */
export function campaignStatus(campaigns: Campaigns, version: string): vscode.Disposable {
  const item = vscode.window.createStatusBarItem('sweepbook.counts', vscode.StatusBarAlignment.Left);
  item.name = vscode.l10n.t('Verdicts of the Campaign');
  let shown: vscode.Uri | undefined;
  const update = (): void => {
    const evaluation = shown && campaigns.latestOf(shown);
    if (shown && evaluation) show(item, evaluation, shown, version);
    else item.hide();
  };
  const turn = (editor: vscode.TextEditor | undefined): void => {
    // No editor has the focus while the panel has it, and the panel is of the same campaign.
    if (editor) shown = isCampaignDocument(editor.document) ? editor.document.uri : undefined;
    update();
  };
  turn(vscode.window.activeTextEditor);
  return vscode.Disposable.from(
    item,
    campaigns.onDidEvaluate(update),
    vscode.window.onDidChangeActiveTextEditor(turn),
  );
}

function show(item: vscode.StatusBarItem, { counts }: Evaluation, uri: vscode.Uri, version: string): void {
  const target: PanelTarget = { file: keyOf(uri), view: 'campaign' };
  const title = vscode.l10n.t('Show the whole campaign');
  item.text = countsMarks(counts);
  item.tooltip = `${countsLine(counts)}\n${title}\nSweepbook ${version}`;
  item.accessibilityInformation = { label: countsLine(counts) };
  item.command = { command: showInPanel, title, arguments: [target] };
  item.show();
}
