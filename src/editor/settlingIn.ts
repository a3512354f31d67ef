/** The first minutes: a campaign to be filled in, and the demo to look at. */
import * as vscode from 'vscode';
import { campaignName, newCampaignSnippet } from '../presentation/newCampaign.js';
import { languageId } from './convert.js';

/** Asks for a name and opens a campaign that waits to be filled in, tab by tab. Nothing is written before it is saved. */
export async function newCampaign(): Promise<void> {
  const words = await vscode.window.showInputBox({
    title: vscode.l10n.t('New Campaign'),
    prompt: vscode.l10n.t('Name of the campaign, such as roof-2026'),
    value: '',
  });
  if (words === undefined) return;
  const document = await vscode.workspace.openTextDocument({ language: languageId, content: '' });
  const editor = await vscode.window.showTextDocument(document);
  await editor.insertSnippet(new vscode.SnippetString(newCampaignSnippet(campaignName(words))));
}

/** Copies the demo into a folder of the user's choice and opens its campaign. */
export async function openDemo(extension: vscode.Uri): Promise<void> {
  const folder = vscode.workspace.workspaceFolders?.[0]?.uri ?? (await chosenFolder());
  if (!folder) return;
  const target = vscode.Uri.joinPath(folder, 'harrow-fen');
  if (!(await exists(target))) await copyDemo(extension, target);
  const campaign = vscode.Uri.joinPath(target, 'campaign.sweepbook');
  await vscode.window.showTextDocument(campaign);
  await vscode.commands.executeCommand('sweepbook.openCurves');
}

async function chosenFolder(): Promise<vscode.Uri | undefined> {
  const chosen = await vscode.window.showOpenDialog({
    title: vscode.l10n.t('Folder that the demo is copied into'),
    canSelectFolders: true,
    canSelectFiles: false,
    openLabel: vscode.l10n.t('Copy Here'),
  });
  return chosen?.[0];
}

/** All of the demo is one file of the extension, since in the browser it cannot list its own folder. */
async function copyDemo(extension: vscode.Uri, to: vscode.Uri): Promise<void> {
  const { fs } = vscode.workspace;
  const bytes = await fs.readFile(vscode.Uri.joinPath(extension, 'dist/demo.json'));
  const texts = JSON.parse(new TextDecoder().decode(bytes)) as Record<string, string>;
  for (const [name, text] of Object.entries(texts))
    await fs.writeFile(vscode.Uri.joinPath(to, name), new TextEncoder().encode(text));
}

const exists = (uri: vscode.Uri): Thenable<boolean> =>
  vscode.workspace.fs.stat(uri).then(
    () => true,
    () => false,
  );
