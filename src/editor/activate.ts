/** Wires the extension together; the same on the desktop and in the browser. */
import * as vscode from 'vscode';
import { campaignStatus } from './campaignStatus.js';
import { Campaigns } from './campaigns.js';
import { languageId } from './convert.js';
import { CurvesPanels } from './preview/curvesPanels.js';
import { completionProvider, completionTriggers } from './providers/completion.js';
import { definitionProvider } from './providers/definition.js';
import { hoverProvider } from './providers/hover.js';
import { mendProvider } from './providers/mends.js';
import { outlineProvider } from './providers/outline.js';
import { verdictHints } from './providers/verdictHints.js';
import { stepSweep } from './stepSweep.js';

export function activate(context: vscode.ExtensionContext): void {
  const selector: vscode.DocumentSelector = { language: languageId };
  const campaigns = new Campaigns();
  const panels = new CurvesPanels(context.extensionUri, campaigns);
  const hints = verdictHints(campaigns);
  const { commands, languages } = vscode;
  context.subscriptions.push(
    campaigns,
    panels,
    hints,
    campaignStatus(campaigns, String(context.extension.packageJSON.version)),
    languages.registerHoverProvider(selector, hoverProvider(campaigns)),
    languages.registerDefinitionProvider(selector, definitionProvider(campaigns)),
    languages.registerCompletionItemProvider(selector, completionProvider(campaigns), ...completionTriggers),
    languages.registerDocumentSymbolProvider(selector, outlineProvider(campaigns), { label: 'Campaign' }),
    languages.registerInlayHintsProvider(selector, hints),
    languages.registerCodeActionsProvider(selector, mendProvider(campaigns), {
      providedCodeActionKinds: [vscode.CodeActionKind.QuickFix],
    }),
    commands.registerCommand('sweepbook.openCurves', () => panels.openBeside()),
    commands.registerCommand('sweepbook.toggleHold', () => panels.toggleHold()),
    commands.registerCommand('sweepbook.nextSweep', () => stepSweep(campaigns, 1)),
    commands.registerCommand('sweepbook.previousSweep', () => stepSweep(campaigns, -1)),
  );
}
