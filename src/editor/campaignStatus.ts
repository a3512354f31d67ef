import * as vscode from 'vscode';
import { countsLine } from '../presentation/verdictWords.js';
import type { Campaigns } from './campaigns.js';
import { languageId } from './convert.js';

/** In the status bar, behind the language's braces: the verdicts of the campaign at hand, and which version gave them. */
export function campaignStatus(campaigns: Campaigns, version: string): vscode.Disposable {
  const item = vscode.languages.createLanguageStatusItem('sweepbook.campaign', { language: languageId });
  item.name = 'Campaign';
  item.detail = `Sweepbook ${version}`;
  item.command = { command: 'sweepbook.openCurves', title: 'Open Curves' };
  const update = (): void => {
    const uri = vscode.window.activeTextEditor?.document.uri;
    const evaluation = uri && campaigns.latestOf(uri);
    if (evaluation) item.text = countsLine(evaluation.counts);
  };
  return vscode.Disposable.from(
    item,
    campaigns.onDidEvaluate(update),
    vscode.window.onDidChangeActiveTextEditor(update),
  );
}
