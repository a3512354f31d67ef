/** Wires the extension together; the same on the desktop and in the browser. */
import * as vscode from 'vscode';
import { bringSweepsIn } from './bringIn.js';
import { campaignStatus } from './campaignStatus.js';
import { Campaigns } from './campaigns.js';
import { CampaignTreeView } from './campaignTreeView.js';
import { ComparePanels } from './compare/comparePanels.js';
import { languageId } from './convert.js';
import { CurvesPanels, showInPanel, type PanelTarget } from './preview/curvesPanels.js';
import { definitionProvider } from './providers/definition.js';
import { hoverProvider } from './providers/hover.js';
import { lensProvider } from './providers/lenses.js';
import { registerOlderTexts } from './providers/olderTexts.js';
import { outlineProvider } from './providers/outline.js';
import { verdictHints } from './providers/verdictHints.js';
import { newCampaign, openDemo } from './settlingIn.js';
import { stepSweep } from './stepSweep.js';
import { VerdictMarks } from './verdictMarks.js';
import { writeReport } from './writeReport.js';
import { registerWriting } from './writing.js';

export function activate(context: vscode.ExtensionContext): void {
  const selector: vscode.DocumentSelector = { language: languageId };
  const campaigns = new Campaigns();
  const panels = new CurvesPanels(context.extensionUri, campaigns);
  const comparisons = new ComparePanels(context.extensionUri, campaigns);
  const hints = verdictHints(campaigns);
  const lenses = lensProvider(campaigns);
  const { commands, languages } = vscode;
  context.subscriptions.push(
    campaigns,
    panels,
    comparisons,
    hints,
    lenses,
    new VerdictMarks(campaigns),
    new CampaignTreeView(campaigns),
    campaignStatus(campaigns, String(context.extension.packageJSON.version)),
    languages.registerHoverProvider(selector, hoverProvider(campaigns)),
    languages.registerDefinitionProvider(selector, definitionProvider(campaigns)),
    languages.registerDocumentSymbolProvider(selector, outlineProvider(campaigns), {
      label: vscode.l10n.t('Campaign'),
    }),
    languages.registerInlayHintsProvider(selector, hints),
    registerWriting(campaigns),
    registerOlderTexts(campaigns),
    languages.registerCodeLensProvider(selector, lenses),
    commands.registerCommand(showInPanel, (target: PanelTarget) => panels.show(target)),
    commands.registerCommand('sweepbook.openCurves', () => panels.openBeside()),
    commands.registerCommand('sweepbook.compareRevision', (at?: vscode.Uri) => comparisons.compare(at)),
    commands.registerCommand('sweepbook.bringIn', (at?: vscode.Uri, all?: readonly vscode.Uri[]) =>
      bringSweepsIn(campaigns, all ?? (at ? [at] : [])),
    ),
    commands.registerCommand('sweepbook.writeReport', () => writeReport(campaigns, context.extension)),
    commands.registerCommand('sweepbook.newCampaign', () => newCampaign()),
    commands.registerCommand('sweepbook.openDemo', () => openDemo(context.extensionUri)),
    commands.registerCommand('sweepbook.toggleHold', () => panels.toggleHold()),
    commands.registerCommand('sweepbook.nextSweep', () => stepSweep(campaigns, 1)),
    commands.registerCommand('sweepbook.previousSweep', () => stepSweep(campaigns, -1)),
  );
}
