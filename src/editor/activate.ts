/**
 * Wires the extension together; the same on the desktop and in the browser. Imported here is what an opened campaign needs at once;
 * everything else comes from `later.ts` when it is first asked for.
 */
import * as vscode from 'vscode';
import { campaignStatus } from './campaignStatus.js';
import { Campaigns } from './campaigns.js';
import { CampaignTreeView } from './campaignTreeView.js';
import { languageId } from './convert.js';
import type { Machine } from './machine.js';
import { OnUse } from './onUse.js';
import { comparePanelType, curvesPanelType } from './panelTypes.js';
import { showInPanel, type PanelTarget } from './preview/panelTarget.js';
import { definitionProvider } from './providers/definition.js';
import { hoverProvider } from './providers/hover.js';
import { lensProvider } from './providers/lenses.js';
import { registerOlderTexts } from './providers/olderTexts.js';
import { outlineProvider } from './providers/outline.js';
import { verdictHints } from './providers/verdictHints.js';
import { newCampaign, openDemo } from './settlingIn.js';
import { stepSweep } from './stepSweep.js';
import { VerdictMarks } from './verdictMarks.js';
import { registerWriting } from './writing.js';

export function activate(context: vscode.ExtensionContext, machine: Machine): void {
  const selector: vscode.DocumentSelector = { language: languageId };
  const campaigns = new Campaigns(machine);
  const panels = new OnUse(async () => {
    const { CurvesPanels } = await import('./later.js');
    return new CurvesPanels(context.extensionUri, campaigns);
  });
  const comparisons = new OnUse(async () => {
    const { ComparePanels } = await import('./later.js');
    return new ComparePanels(context.extensionUri, campaigns);
  });
  const hints = verdictHints(campaigns);
  const lenses = lensProvider(campaigns);
  const { commands, languages, window } = vscode;
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
    window.registerWebviewPanelSerializer(curvesPanelType, {
      deserializeWebviewPanel: async (panel, state) => (await panels.get()).restore(panel, state),
    }),
    window.registerWebviewPanelSerializer(comparePanelType, {
      deserializeWebviewPanel: async (panel, state) => (await comparisons.get()).restore(panel, state),
    }),
    commands.registerCommand(showInPanel, async (target: PanelTarget) => (await panels.get()).show(target)),
    commands.registerCommand('sweepbook.openCurves', async () => (await panels.get()).openBeside()),
    commands.registerCommand('sweepbook.compareRevision', async (at?: vscode.Uri) =>
      (await comparisons.get()).compare(at),
    ),
    commands.registerCommand('sweepbook.bringIn', async (at?: vscode.Uri, all?: readonly vscode.Uri[]) => {
      const { bringSweepsIn } = await import('./later.js');
      await bringSweepsIn(campaigns, all ?? (at ? [at] : []));
    }),
    commands.registerCommand('sweepbook.writeReport', async () => {
      const { writeReport } = await import('./later.js');
      await writeReport(campaigns, context.extension);
    }),
    commands.registerCommand('sweepbook.newCampaign', () => newCampaign()),
    commands.registerCommand('sweepbook.openDemo', () => openDemo(context.extensionUri)),
    commands.registerCommand('sweepbook.toggleHold', async () => (await panels.get()).toggleHold()),
    commands.registerCommand('sweepbook.nextSweep', () => stepSweep(campaigns, 1)),
    commands.registerCommand('sweepbook.previousSweep', () => stepSweep(campaigns, -1)),
  );
}
